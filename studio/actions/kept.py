"""What was typed and not saved when the screen locked: kept for who typed it, until they throw it away."""

import datetime as dt

from django.db import transaction

from studio import clock
from studio.actions import audit
from studio.models import KeptText

audit.register("text.kept", "text.thrown_away")

MOST_FIELDS, LONGEST, LONGEST_NAME = 30, 6000, 80
KEPT_FOR = dt.timedelta(days=7)
# Parts of field names that are secret or the page's own: never kept.
_NEVER = ("pass", "pin", "code", "token", "version", "next")


def keep(*, actor, person, path: str, pairs: list[tuple[str, str]]) -> None:
    """Keep pairs of (what the field is called, what was typed); nothing typed keeps nothing."""
    pairs = [(name[:LONGEST_NAME], text[:LONGEST]) for name, text in pairs if text.strip()][:MOST_FIELDS]
    if not pairs:
        return
    with transaction.atomic():
        KeptText.objects.filter(at__lt=clock.now() - KEPT_FOR).delete()
        row = KeptText.objects.create(person=person, path=path[:300], fields=pairs, at=clock.now())
        audit.write(actor, "text.kept", row)


def typed(post) -> list[tuple[str, str]]:
    """Return the texts of a posted form: what has a space in it. A touched button or a number is no text."""
    return [
        (name.replace("_", " ").capitalize(), text)
        for name, texts in post.lists()
        for text in texts
        if " " in text.strip() and not any(part in name for part in _NEVER)
    ]


def waits_for(person) -> bool:
    """Return whether something is kept that this person has not been shown yet."""
    return KeptText.objects.seen_by(person).filter(shown=False).exists()


def note_shown(rows) -> None:
    """Note that these were shown, so that the next way back leads where the person was going."""
    new = [row.pk for row in rows if not row.shown]
    if new:
        KeptText.objects.filter(pk__in=new).update(shown=True)


def throw_away(*, actor, row: KeptText) -> None:
    with transaction.atomic():
        audit.write(actor, "text.thrown_away", row)
        row.delete()
