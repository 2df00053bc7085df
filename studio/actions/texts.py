"""The studio's own texts: every saving is a new version, the old ones stay."""

from django.db import transaction

from studio import clock
from studio.actions import audit
from studio.models import Stale, StudioText

audit.register("text.written")


def write_text(*, actor, kind: str, words: str, expected: int) -> StudioText:
    """Write the next version of a text and return it; the same words again write nothing.

    expected: the number of the version that was open when it was typed, 0 for none. Raises Stale with the
    present version when somebody else wrote one meanwhile.
    """
    words = words.replace("\r\n", "\n").strip()
    with transaction.atomic():
        current = StudioText.objects.current(kind)
        number = current.number if current else 0
        if number != expected:
            raise Stale(current)
        if current and current.words == words:
            return current
        row = StudioText.objects.create(
            kind=kind, number=number + 1, words=words, at=clock.now(), by=actor.person
        )
        audit.write(actor, "text.written", row, fields=["words"])
    return row
