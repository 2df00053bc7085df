"""What happened: entries as they were done, with left and right apart, and what to carry over."""

import uuid

from django.core.validators import MaxValueValidator
from django.db import models
from django.db.models.fields.json import KeyTextTransform, KeyTransform
from django.utils.translation import gettext_lazy as _

from sessions.models.plans import OfAttendanceQuerySet, PlanItem
from studio.models import AppendOnly, Door, EditableRow, PublicRow


class Quality(models.IntegerChoices):
    """How it was done. Steps in an order, never averaged, never a percentage."""

    LOST = 1, _("Lost")
    SHAKY = 2, _("Shaky")
    STEADY = 3, _("Steady")
    CLEAN = 4, _("Clean")
    EASY = 5, _("Easy")


class Range(models.TextChoices):
    SMALL = "small", _("small")
    MEDIUM = "medium", _("medium")
    FULL = "full", _("full")


class Felt(models.TextChoices):
    STRETCH = "stretch", _("Stretch")
    MUSCLE_WORK = "muscle_work", _("Muscle work")
    PINCH = "pinch", _("Pinch")
    TINGLING = "tingling", _("Tingling")
    NUMB_OR_WEAK = "numb_or_weak", _("Numb or weak")
    PAIN = "pain", _("Pain")


# These open the stop signs before anything else can be saved.
STOP_FELT = (Felt.TINGLING, Felt.NUMB_OR_WEAK, Felt.PAIN)


class RecordQuerySet(OfAttendanceQuerySet):
    def with_entries(self):
        return self.prefetch_related(
            "entries__sides",
            "entries__exercise__current",
            "entries__exercise_version",
            "entries__instead_of__planned",
            models.Prefetch("entries__plan_item", queryset=PlanItem.objects.only("public_id", "pause")),
        )

    def with_story(self):
        """Take the entries along as the story tells them: names of exercises, and not all that is known of them."""
        return self.prefetch_related(
            models.Prefetch("entries", queryset=Entry.objects.told()),
            "entries__sides",
        )


class Record(EditableRow):
    """One client's session. The smallest record is the entries done and one line for next time."""

    attendance = models.OneToOneField(
        "studio_sessions.Attendance", on_delete=models.PROTECT, related_name="record"
    )
    author = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="+")
    started_at = models.DateTimeField()
    # Whose flags were shown and acknowledged before the first entry.
    flags_seen_at = models.DateTimeField(null=True, blank=True)
    flags_seen_by = models.ForeignKey(
        "studio.Staff", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    # When the instructor last said that the client lies down only now.
    lies_down_at = models.DateTimeField(null=True, blank=True)
    finished_at = models.DateTimeField(null=True, blank=True)
    signed_off_at = models.DateTimeField(null=True, blank=True)
    effort = models.PositiveSmallIntegerField(null=True, blank=True, validators=[MaxValueValidator(10)])
    pain = models.PositiveSmallIntegerField(null=True, blank=True, validators=[MaxValueValidator(10)])
    client_words = models.CharField(_("the client's own sentence"), max_length=300, blank=True)
    next_time = models.CharField(_("one line for next time"), max_length=300, blank=True)
    bring_back = models.CharField(_("bring back"), max_length=240, blank=True)
    leave_out = models.CharField(_("leave out"), max_length=240, blank=True)
    next_apparatus = models.CharField(_("next apparatus"), max_length=20, blank=True)

    objects = RecordQuerySet.as_manager()
    CLOSE = ("effort", "pain", "client_words", "next_time", "bring_back", "leave_out", "next_apparatus")

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=models.Q(effort=None) | models.Q(effort__lte=10), name="effort_to_10"
            ),
            models.CheckConstraint(condition=models.Q(pain=None) | models.Q(pain__lte=10), name="pain_to_10"),
        ]


class EntryQuerySet(Door):
    def seen_by(self, person):
        if not person.reads_health:
            return self.none()
        return self if person.is_owner else self.filter(record__attendance__client__archived_on=None)

    def done_before(self, attendance, exercise):
        """Return this client's entries of an exercise in earlier sessions, newest first, with their sides."""
        earlier = self.filter(
            exercise=exercise,
            record__attendance__client=attendance.client_id,
            record__attendance__booking__starts_at__lt=attendance.booking.starts_at,
        )
        newest_first = earlier.order_by("-record__attendance__booking__starts_at", "-sequence")
        return newest_first.exclude(state=Entry.State.SKIPPED).prefetch_related("sides")

    def sides_last_time(self, attendance, exercise):
        """Return the sides of the newest of them, one query; none where this client never did it."""
        return EntrySide.objects.filter(entry=self.done_before(attendance, exercise).values("pk")[:1])

    def told(self):
        """Leave the whole content of exercises and verdicts where they lie; take only what a line of the story says.

        Each row has `called` and `instead` (names; instead None where nothing stood there before), `carries` and
        `without` (see sessions.judging), and `rest`, the pause planned after it, None without a plan row.
        """
        return self.defer("verdict").annotate(
            called=_name_in("exercise_version__payload"),
            instead=_name_in("instead_of__planned__payload"),
            carries=KeyTransform("carries", "verdict"),
            without=KeyTextTransform("without", "verdict"),
            rest=models.F("plan_item__pause"),
        )

    def last_of(self, client, exercise):
        """Return the newest entry in which this client did an exercise, with all the record shows; or None."""
        done = self.filter(exercise=exercise, record__attendance__client=client)
        done = done.exclude(state=Entry.State.SKIPPED).order_by(
            "-record__attendance__booking__starts_at", "-sequence"
        )
        whole = done.select_related(
            "record__attendance__booking", "exercise_version", "plan_item", "instead_of__planned"
        )
        return whole.prefetch_related("sides").first()


def _name_in(payload: str) -> KeyTextTransform:
    return KeyTextTransform("name", KeyTransform("facts", payload))


class Entry(models.Model):
    """One exercise as it went. The id is made by the device, so that sending twice changes nothing."""

    class State(models.TextChoices):
        DONE = "done", _("done as planned")
        CHANGED = "changed", _("changed")
        SKIPPED = "skipped", _("skipped")

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    record = models.ForeignKey(Record, on_delete=models.PROTECT, related_name="entries")
    sequence = models.PositiveIntegerField()
    plan_item = models.ForeignKey(
        "studio_sessions.PlanItem", null=True, blank=True, on_delete=models.SET_NULL, related_name="entries"
    )
    exercise = models.ForeignKey("library.Exercise", on_delete=models.PROTECT, related_name="+")
    exercise_version = models.ForeignKey(
        "library.ExerciseVersion", on_delete=models.PROTECT, related_name="+"
    )
    state = models.CharField(max_length=8, choices=State)
    setting = models.JSONField(default=dict, blank=True)
    # How far the client was to go (sessions.own_limits), as it was when this was done.
    limit = models.JSONField(default=dict, blank=True)
    adaptations = models.JSONField(default=list, blank=True)
    note = models.CharField(max_length=240, blank=True)
    verdict = models.JSONField(null=True, blank=True)
    table_version = models.CharField(max_length=40, blank=True)
    author = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="+")
    device = models.CharField(max_length=64, blank=True)
    at = models.DateTimeField()

    objects = EntryQuerySet.as_manager()

    class Meta:
        ordering = ["sequence", "at"]
        # An instructor's newest notes are asked for at every touch, however many years of entries lie below them.
        indexes = [models.Index(fields=["author", "-at"], name="entries_newest_of_author")]


class EntrySide(models.Model):
    """One side of an entry, or both together. Empty is never zero."""

    class Side(models.TextChoices):
        LEFT = "left", _("left")
        RIGHT = "right", _("right")
        BOTH = "both", _("both")

    entry = models.ForeignKey(Entry, on_delete=models.CASCADE, related_name="sides")
    side = models.CharField(max_length=5, choices=Side)
    repetitions = models.PositiveIntegerField(null=True, blank=True)
    seconds = models.PositiveIntegerField(null=True, blank=True)
    range = models.CharField(max_length=6, choices=Range, blank=True)
    quality = models.PositiveSmallIntegerField(choices=Quality, null=True, blank=True)
    felt = models.JSONField(default=list, blank=True)

    class Meta:
        ordering = ["entry", "side"]
        constraints = [models.UniqueConstraint(fields=["entry", "side"], name="one_row_a_side")]


class Addition(AppendOnly):
    """A dated addition to a record that is closed to changes."""

    record = models.ForeignKey(Record, on_delete=models.PROTECT, related_name="additions")
    words = models.CharField(max_length=600)
    author = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()


class IncidentQuerySet(Door):
    def seen_by(self, person):
        if not person.reads_health:
            return self.none()
        return self if person.is_owner else self.filter(attendance__client__archived_on=None)


class Incident(AppendOnly, PublicRow):
    """Something went wrong: begun in one touch with the time already in it; everything later is a note."""

    attendance = models.ForeignKey(
        "studio_sessions.Attendance", on_delete=models.PROTECT, related_name="incidents"
    )
    exercise = models.ForeignKey("library.Exercise", null=True, on_delete=models.PROTECT, related_name="+")
    unit = models.ForeignKey("library.ApparatusUnit", null=True, on_delete=models.PROTECT, related_name="+")
    sign = models.CharField(max_length=60, blank=True)
    side = models.CharField(max_length=5, blank=True)
    session_stopped = models.BooleanField()
    author = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    objects = IncidentQuerySet.as_manager()


class IncidentNote(AppendOnly):
    """What happened, what was done, who was told: in dated pieces, none rewritten."""

    class About(models.TextChoices):
        HAPPENED = "happened", _("What happened")
        DONE = "done", _("What was done")
        WITNESSES = "witnesses", _("Who saw it")
        TOLD = "told", _("Who was told, and when")
        FOLLOW_UP = "follow_up", _("What is to follow")

    incident = models.ForeignKey(Incident, on_delete=models.PROTECT, related_name="notes")
    # Empty for a note that is about all of it.
    about = models.CharField(max_length=10, choices=About, blank=True)
    words = models.CharField(max_length=1000)
    # The day on which somebody looks at it again; only beside what is to follow.
    due_on = models.DateField(null=True, blank=True)
    author = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()
