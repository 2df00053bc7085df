"""What every write to an exercise that is being written asks first."""

from library.models import ExerciseDraft


class Over(Exception):
    """The draft has been kept or dropped already."""


def look_open(draft: ExerciseDraft) -> None:
    """Raise Over where the row is no longer open, as it stands in the database."""
    state = ExerciseDraft.objects.values_list("state", flat=True).get(pk=draft.pk)
    if state != draft.State.OPEN:
        raise Over
