"""A plan: exercises in order for one client's session, each with what the judge said of it."""

from dataclasses import replace

from django.db import models
from django.utils.translation import gettext_lazy as _

from sessions import judging, planning
from studio.models import Door, EditableRow, PublicRow


class OfAttendanceQuerySet(Door):
    """Rows that hang on an attendance and are for owner and instructors."""

    def seen_by(self, person):
        if not person.reads_health:
            return self.none()
        return self if person.is_owner else self.filter(attendance__client__archived_on=None)


class PlanQuerySet(OfAttendanceQuerySet):
    def with_items(self):
        """Load the rows with their exercises, in a fixed number of queries."""
        rows = PlanItem.objects.select_related("exercise__current", "exercise_version", "unit")
        return self.prefetch_related(models.Prefetch("items", queryset=rows))

    def with_times(self):
        """Load of the rows no more than what their minutes are reckoned from (`PlanItem.as_row`)."""
        rows = PlanItem.objects.select_related("exercise__current", "exercise_version").only(*PlanItem.TIMES)
        return self.prefetch_related(models.Prefetch("items", queryset=rows))


class Plan(EditableRow):
    """Free until approved; approving pins versions and verdicts. `version` counts every change of its rows."""

    attendance = models.OneToOneField(
        "studio_sessions.Attendance", on_delete=models.PROTECT, related_name="plan"
    )
    approved_at = models.DateTimeField(null=True, blank=True)
    approved_by = models.ForeignKey(
        "studio.Staff", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )

    objects = PlanQuerySet.as_manager()

    @staticmethod
    def pace(studio) -> planning.Pace:
        """Return the studio's four numbers."""
        return planning.Pace(
            pace_percent=studio.pace_percent,
            change_seconds=studio.change_seconds,
            check_in_seconds=studio.check_in_seconds,
            close_seconds=studio.close_seconds,
        )

    def placed(self, studio, *, current=False, done=None, skipped=()) -> list[tuple]:
        """Return every row as (item, judging.PlanRow, judging.Place), in order.

        current: by what the exercises say now, else by the pinned content. done: key of an item -> the
        adaptations that were done there in place of the planned ones. skipped: keys of items that were not
        done; they are left out, since nobody got off the back, or up, in them.
        """
        items, rows = [item for item in self.items.all() if item.pk not in skipped], []
        # All at once what is not there yet; a row without a pinned version shows what the exercise says now.
        models.prefetch_related_objects(items, "exercise_version")
        if current or any(item.exercise_version is None for item in items):
            models.prefetch_related_objects(items, "exercise__current")
        for item in items:
            row = item.as_judged(item.exercise.current.facts if current else None)
            if done and item.pk in done:
                row = replace(row, adaptations=tuple(done[item.pk]))
            rows.append(row)
        return list(zip(items, rows, judging.places(rows, self.pace(studio)), strict=True))

    def planned_seconds(self, studio) -> float:
        """Return what the whole session takes, by the studio's four numbers."""
        return planning.total_seconds([item.as_row() for item in self.items.all()], self.pace(studio))

    def planned_minutes(self, studio) -> int:
        return planning.whole_minutes(self.planned_seconds(studio))


class PlanItemQuerySet(Door):
    def seen_by(self, person):
        if not person.reads_health:
            return self.none()
        return self if person.is_owner else self.filter(plan__attendance__client__archived_on=None)


class PlanItem(PublicRow):
    """One row of a plan.

    first_side: '' for work without sides, else the side that goes first. sides: '' or 'both', 'left', 'right'.
    setting: {"springs": [{"spring": public id, "name": …, "grade": …, "count": n}], "gear": …, "bar": …,
    "strap": …, "box": …}. adaptations: ids of library adaptations. verdict: the stored judgement (see
    sessions.judging), pinned with the version of the rule table when the plan is approved; before that, on a
    row kept with a reason, the judgement that the reason answers.
    """

    class Sides(models.TextChoices):
        NONE = "", _("no sides")
        BOTH = "both", _("left and right")
        LEFT = "left", _("left only")
        RIGHT = "right", _("right only")

    class Pause(models.IntegerChoices):
        NONE = 0, _("none")
        HALF_A_MINUTE = 30, _("30 s")
        ONE_MINUTE = 60, _("60 s")
        TWO_MINUTES = 120, _("2 min")

    plan = models.ForeignKey(Plan, on_delete=models.CASCADE, related_name="items")
    position = models.PositiveIntegerField()
    exercise = models.ForeignKey("library.Exercise", on_delete=models.PROTECT, related_name="+")
    sides = models.CharField(max_length=5, choices=Sides, blank=True)
    first_side = models.CharField(max_length=5, blank=True)
    repetitions = models.PositiveIntegerField(null=True, blank=True)
    seconds = models.PositiveIntegerField(_("seconds held"), null=True, blank=True)
    # Where the instructor gave the two sides different numbers, the right side's; otherwise empty.
    repetitions_right = models.PositiveIntegerField(null=True, blank=True)
    seconds_right = models.PositiveIntegerField(null=True, blank=True)
    unit = models.ForeignKey(
        "library.ApparatusUnit", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    setting = models.JSONField(default=dict, blank=True)
    minutes = models.PositiveIntegerField(null=True, blank=True)
    adaptations = models.JSONField(default=list, blank=True)
    # Rest on the side or sitting, written after the row: seconds, 0 for none.
    pause = models.PositiveSmallIntegerField(default=0, choices=Pause)
    note = models.CharField(max_length=240, blank=True)
    keep_reason = models.CharField(max_length=300, blank=True)
    keep_by = models.ForeignKey(
        "studio.Staff", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    keep_at = models.DateTimeField(null=True, blank=True)
    exercise_version = models.ForeignKey(
        "library.ExerciseVersion", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    verdict = models.JSONField(null=True, blank=True)
    table_version = models.CharField(max_length=40, blank=True)

    objects = PlanItemQuerySet.as_manager()
    TIMES = (
        *("plan", "position", "sides", "minutes", "pause"),
        *("repetitions", "seconds", "repetitions_right", "seconds_right"),
        *("exercise__current__payload", "exercise_version__payload"),
    )

    # In memory only: the content that is planned, while this row stands for what is done in its place; and
    # whether the request itself said which of the two it is about.
    instead_of = None
    is_said = False

    class Meta:
        ordering = ["position", "id"]

    @property
    def content(self):
        """Return the version this row shows: the pinned one, or what the exercise says now."""
        return self.exercise_version or self.exercise.current

    def stand_in(self, exercise, version=None, **values) -> None:
        """Show another exercise in this row, with its own values; in memory only, never to be saved.

        version: its content as it was done; None takes what the exercise says now.
        """
        self.instead_of = self.instead_of or self.content
        self.exercise, self.exercise_version = exercise, version or exercise.current
        for name, value in values.items():
            setattr(self, name, value)

    def as_judged(self, facts: dict | None = None) -> judging.PlanRow:
        """Return the row as the judge needs it, by its own content or by other facts of the same exercise."""
        row = self.as_row()
        return judging.PlanRow(
            time=replace(row, facts=facts) if facts else row,
            sides=self.sides,
            adaptations=tuple(self.adaptations),
            setting=self.setting,
        )

    def as_row(self) -> planning.Row:
        """Return the row as the sums need it."""
        # A hold without a number of repetitions is held once.
        count = self.repetitions or (1 if self.seconds else 0)
        right = count if self.repetitions_right is None else self.repetitions_right
        sides = {
            self.Sides.NONE: {"both": count},
            self.Sides.BOTH: {"left": count, "right": right},
            self.Sides.LEFT: {"left": count},
            self.Sides.RIGHT: {"right": right},
        }[self.sides]
        holds = {"hold": self.seconds, "hold_right": self.seconds_right}
        return planning.Row(self.content.facts, minutes=self.minutes, pause=self.pause, **holds, **sides)
