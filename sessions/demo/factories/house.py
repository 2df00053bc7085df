"""The studio, its staff and rooms, its apparatus, and exercises."""

import datetime as dt

import factory
from factory.django import DjangoModelFactory

from library import contents, exercise_sets, own_exercise, tables
from library.models import (
    ApparatusUnit,
    Exercise,
    ExerciseDraft,
    ExerciseVersion,
    Kind,
    LibraryLoad,
    OfferedSet,
    SpringGrade,
    StudioRule,
    StudioRuleEnd,
    StudioSpring,
    TableReview,
    TableReviewEnd,
)
from sessions.demo.content import payload_of
from sessions.demo.factories.times import ZONE, now
from studio.models import AuditEntry, OpeningHour, Room, Staff, Studio, StudioText

# Long enough for the house's rule, the same for the whole cast.
PASSPHRASE = "four plain words suffice"
STAFF_GIVEN = ("Linnet", "Maris", "Corin", "Juniper", "Averil", "Tamsin", "Osric", "Fenella")


class StudioFactory(DjangoModelFactory):
    """The one row of settings, with opening hours Monday to Saturday 07:00 to 20:00."""

    class Meta:
        model = Studio
        django_get_or_create = ("name",)

    name = "Wyndlefold Studio"
    telephone = "01632 960100"
    emergency_number = "999"
    zone = ZONE
    locale = "en-gb"

    @classmethod
    def _create(cls, model_class, *args, hours=True, **kwargs):
        """`hours=False` makes a studio that is never open."""
        studio = super()._create(model_class, *args, **kwargs)
        if hours and not OpeningHour.objects.exists():
            OpeningHour.objects.bulk_create(
                OpeningHour(weekday=day, opens=dt.time(7), closes=dt.time(20)) for day in range(6)
            )
        return studio


class StaffFactory(DjangoModelFactory):
    """`owner=True`, `instructor=True`, `front_desk=True`, alone or together; an instructor when none is given."""

    class Meta:
        model = Staff

    class Params:
        owner = False
        instructor = False
        front_desk = False

    sign_in_name = factory.Sequence(lambda n: f"person{n}")
    full_name = factory.Sequence(lambda n: f"{STAFF_GIVEN[n % len(STAFF_GIVEN)]} Fernhollow")
    call_name = factory.LazyAttribute(lambda row: row.full_name.split()[0])
    is_owner = factory.LazyAttribute(lambda row: row.owner)
    is_instructor = factory.LazyAttribute(lambda row: row.instructor or not (row.owner or row.front_desk))
    is_front_desk = factory.LazyAttribute(lambda row: row.front_desk)
    is_active = True

    @classmethod
    def _create(cls, model_class, *args, passphrase=PASSPHRASE, **kwargs):
        person = model_class(*args, **kwargs)
        person.set_password(passphrase)
        person.save()
        return person


class StudioTextFactory(DjangoModelFactory):
    """The next version of the words of consent."""

    class Meta:
        model = StudioText

    kind = StudioText.Kind.CONSENT
    number = factory.LazyAttribute(lambda row: StudioText.objects.filter(kind=row.kind).count() + 1)
    words = factory.Sequence(lambda n: f"I agree that notes are kept, version {n + 1}.")
    at = factory.LazyAttribute(now)
    by = factory.SubFactory(StaffFactory, owner=True)


class RoomFactory(DjangoModelFactory):
    class Meta:
        model = Room
        django_get_or_create = ("name",)

    name = factory.Sequence(lambda n: f"Room {n + 1}")
    holds = 1


class UnitFactory(DjangoModelFactory):
    """One piece of apparatus, a reformer unless `kind` says otherwise."""

    class Meta:
        model = ApparatusUnit

    kind = Kind.REFORMER
    name = factory.Sequence(lambda n: f"Unit {n + 1}")
    room = factory.SubFactory(RoomFactory)


class SpringFactory(DjangoModelFactory):
    class Meta:
        model = StudioSpring

    kind = Kind.REFORMER
    name = factory.Sequence(lambda n: f"Spring {n + 1}")
    grade = SpringGrade.MEDIUM
    count = 2


class StudioRuleFactory(DjangoModelFactory):
    """A rule of the studio where the table is silent: watch the head below the heart with long fatigue."""

    class Meta:
        model = StudioRule

    condition = "me_cfs_long_covid"
    demand = "inversion"
    verdict = "watch"
    basis = "ongoing"
    reason = "Two clients were dizzy for the rest of the day."
    on = factory.LazyFunction(lambda: now().date())
    at = factory.LazyFunction(now)
    by = factory.SubFactory(StaffFactory, owner=True)


class StudioRuleEndFactory(DjangoModelFactory):
    class Meta:
        model = StudioRuleEnd

    rule = factory.SubFactory(StudioRuleFactory)
    reason = "Nobody here has this any more."
    at = factory.LazyFunction(now)
    by = factory.SelfAttribute("rule.by")


class TableReviewFactory(DjangoModelFactory):
    """A review of the table as shipped, or of the version given."""

    class Meta:
        model = TableReview

    name = "Orla Quillfeather"
    profession = "physiotherapist"
    registration = "PH 00417"
    on = factory.LazyFunction(lambda: now().date())
    table_version = factory.LazyFunction(lambda: tables.rule_table().version)
    looked_at = "All rules on the spine, pregnancy and after birth."
    at = factory.LazyFunction(now)
    by = factory.SubFactory(StaffFactory, owner=True)


class TableReviewEndFactory(DjangoModelFactory):
    class Meta:
        model = TableReviewEnd

    review = factory.SubFactory(TableReviewFactory)
    reason = "They left the register."
    at = factory.LazyFunction(now)
    by = factory.SelfAttribute("review.by")


class ExerciseFactory(DjangoModelFactory):
    """`ExerciseFactory(key="mat_pelvic_curl")`: an exercise with its version from the shipped data files."""

    class Meta:
        model = Exercise
        django_get_or_create = ("key",)

    key = "mat_pelvic_curl"

    @classmethod
    def _create(cls, model_class, *args, content=True, **kwargs):
        """`content=False` leaves the exercise without a version."""
        exercise = super()._create(model_class, *args, **kwargs)
        if content and not exercise.current_id:
            exercise.current = ExerciseVersionFactory(exercise=exercise, number=1)
            exercise.save(update_fields=["current"])
        return exercise


class ExerciseVersionFactory(DjangoModelFactory):
    class Meta:
        model = ExerciseVersion

    exercise = factory.SubFactory(ExerciseFactory, content=False)
    number = factory.LazyAttribute(lambda row: row.exercise.versions.count() + 1)
    payload = factory.LazyAttribute(lambda row: payload_of(row.exercise.key))
    content_hash = factory.LazyAttribute(lambda row: contents.content_hash(row.payload))
    created_at = factory.LazyAttribute(now)


class DraftFactory(DjangoModelFactory):
    """A new exercise as it is begun, from nothing."""

    class Meta:
        model = ExerciseDraft

    payload = factory.Sequence(lambda n: own_exercise.blank(f"own_{n}"))
    begun_by = factory.SubFactory(StaffFactory, owner=True)
    begun_at = factory.LazyFunction(now)


class OfferedSetFactory(DjangoModelFactory):
    """A set of one exercise from nowhere, looked at against a shelf that is no more."""

    class Meta:
        model = OfferedSet

    file_name = "exercise-set-2026-11-25.json"
    content = factory.LazyFunction(lambda: exercise_sets.written([payload_of("mat_pelvic_curl")]))
    against = "0" * 64
    by = factory.SubFactory(StaffFactory, owner=True)
    at = factory.LazyFunction(now)


class LibraryLoadFactory(DjangoModelFactory):
    class Meta:
        model = LibraryLoad

    digest = factory.Sequence(lambda n: f"{n:064x}")
    at = factory.LazyAttribute(now)


class AuditEntryFactory(DjangoModelFactory):
    class Meta:
        model = AuditEntry

    at = factory.LazyAttribute(now)
    role = "program"
    action = "program.started"
    outcome = "done"
    app_version = "0"
