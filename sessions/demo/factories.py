"""Rows of every kind with sensible values, for the tests and the demo.

They write straight to the tables: a test that is about an action calls the action itself. Sequences, no
chance: the same calls make the same rows (`start_over` sets all sequences back).
"""

import datetime as dt
from zoneinfo import ZoneInfo

import factory
from factory.django import DjangoModelFactory

from clients.models import CareProfile, Client, Flag, FlagStatus, Goal, GoalRating, Submission
from library import contents
from library.models import (
    ApparatusUnit,
    Exercise,
    ExerciseVersion,
    Kind,
    LibraryLoad,
    SpringGrade,
    StudioSpring,
)
from sessions.demo.content import payload_of
from sessions.models import (
    Addition,
    Attendance,
    Booking,
    CallBackClosed,
    Entry,
    EntrySide,
    Handout,
    HomePractice,
    Incident,
    IncidentNote,
    Plan,
    PlanItem,
    Record,
)
from studio import clock
from studio.models import AuditEntry, OpeningHour, Room, Staff, Studio

ZONE = "Europe/London"
# Long enough for the house's rule, the same for the whole cast.
PASSPHRASE = "four plain words suffice"

GIVEN = ("Ottoline", "Bashir", "Wenna", "Teodor", "Sunniva", "Imaru", "Petra", "Casimir", "Yusra", "Dov")
FAMILY = ("Brackwater", "Lanternby", "Oakapple", "Quillfeather", "Thistlewick", "Saltmarsh", "Windrow")


def start_over() -> None:
    """Set every sequence back to its beginning."""
    for made in ALL:
        made.reset_sequence(0, force=True)


def _now(_row=None) -> dt.datetime:
    return clock.now()


def _today(_row=None) -> dt.date:
    return clock.today(ZONE)


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
    full_name = factory.Sequence(lambda n: f"{GIVEN[n % len(GIVEN)]} Fernhollow")
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


class ClientFactory(DjangoModelFactory):
    class Meta:
        model = Client

    full_name = factory.Sequence(lambda n: f"{GIVEN[n % len(GIVEN)]} {FAMILY[n % len(FAMILY)]}")
    call_name = factory.LazyAttribute(lambda row: row.full_name.split()[0])
    birth_date = factory.Sequence(lambda n: dt.date(1960 + n % 40, 1 + n % 12, 1 + n % 28))
    telephone = factory.Sequence(lambda n: f"07700 900{n % 1000:03d}")
    emergency_name = "Rowan Fernhollow"
    emergency_telephone = factory.Sequence(lambda n: f"01632 960{(n + 200) % 1000:03d}")
    created_at = factory.LazyAttribute(_now)


class CareProfileFactory(DjangoModelFactory):
    class Meta:
        model = CareProfile
        django_get_or_create = ("client",)

    client = factory.SubFactory(ClientFactory)


class SubmissionFactory(DjangoModelFactory):
    """Health answers as typed from paper by the front desk."""

    class Meta:
        model = Submission

    client = factory.SubFactory(ClientFactory)
    form_version = 1
    given_by = Submission.GivenBy.PAPER
    given_on = factory.LazyAttribute(_today)
    typed_by = factory.SubFactory(StaffFactory, front_desk=True)
    typed_at = factory.LazyAttribute(_now)
    answers = factory.LazyFunction(dict)


class FlagFactory(DjangoModelFactory):
    """A condition: `FlagFactory(condition="frozen_shoulder", side="left", on=date, state="active")`.

    `on` is a date or "long_ago". `state=None` leaves the flag without a status row.
    """

    class Meta:
        model = Flag

    class Params:
        on = None

    client = factory.SubFactory(ClientFactory)
    condition = "frozen_shoulder"
    side = ""
    when = factory.LazyAttribute(lambda row: "long_ago" if row.on == "long_ago" else "date" if row.on else "")
    event_on = factory.LazyAttribute(lambda row: row.on if isinstance(row.on, dt.date) else None)
    created_by = factory.SubFactory(StaffFactory)
    created_at = factory.LazyAttribute(_now)

    @classmethod
    def _create(cls, model_class, *args, state="active", **kwargs):
        flag = super()._create(model_class, *args, **kwargs)
        if state:
            FlagStatusFactory(flag=flag, state=state, author=flag.created_by, at=flag.created_at)
        return flag


class InstructionFactory(FlagFactory):
    """A clinician's instruction on a demand or an exercise, for half a year from today."""

    condition = ""
    about = "arm_push_pull_loaded"
    verdict = "modify"
    words = "Loaded arm work only up to shoulder height."
    clinician = "A. Thornquill, physiotherapist"
    dated = factory.LazyAttribute(_today)
    until_on = factory.LazyAttribute(lambda row: row.dated + dt.timedelta(days=182))


class FlagStatusFactory(DjangoModelFactory):
    class Meta:
        model = FlagStatus

    flag = factory.SubFactory(FlagFactory, state=None)
    state = FlagStatus.State.ACTIVE
    author = factory.SelfAttribute("flag.created_by")
    at = factory.LazyAttribute(_now)


class GoalFactory(DjangoModelFactory):
    """A goal; `ratings=[(date, 3), (date, 5)]` adds the client's numbers."""

    class Meta:
        model = Goal

    client = factory.SubFactory(ClientFactory)
    words = "Reach the top shelf without thinking about it"
    set_on = factory.LazyAttribute(_today)

    @classmethod
    def _create(cls, model_class, *args, ratings=(), **kwargs):
        goal = super()._create(model_class, *args, **kwargs)
        for on, value in ratings:
            GoalRatingFactory(goal=goal, on=on, value=value)
        return goal


class GoalRatingFactory(DjangoModelFactory):
    class Meta:
        model = GoalRating

    goal = factory.SubFactory(GoalFactory)
    on = factory.LazyAttribute(_today)
    value = 4
    author = factory.SubFactory(StaffFactory)


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
    created_at = factory.LazyAttribute(_now)


class BookingFactory(DjangoModelFactory):
    """`BookingFactory(clients=[one, two], wall_day=day, wall_time=time, units=[…], state="arrived")`.

    Times are the studio's wall-clock times. `state` goes to every attendance.
    """

    class Meta:
        model = Booking

    wall_day = factory.LazyAttribute(_today)
    wall_time = dt.time(10)
    zone = ZONE
    minutes = 55
    starts_at = factory.LazyAttribute(
        lambda row: dt.datetime.combine(row.wall_day, row.wall_time, ZoneInfo(row.zone)).astimezone(dt.UTC)
    )
    ends_at = factory.LazyAttribute(lambda row: row.starts_at + dt.timedelta(minutes=row.minutes))
    instructor = factory.SubFactory(StaffFactory, instructor=True)
    room = factory.SubFactory(RoomFactory)
    created_by = factory.SelfAttribute("instructor")
    created_at = factory.LazyAttribute(_now)

    @classmethod
    def _create(cls, model_class, *args, clients=(), units=(), state="booked", **kwargs):
        booking = super()._create(model_class, *args, **kwargs)
        booking.units.set(units)
        for client in clients:
            AttendanceFactory(booking=booking, client=client, state=state)
        return booking


class AttendanceFactory(DjangoModelFactory):
    """One client in a booking: `AttendanceFactory(client=…, booking__wall_day=…, booking__instructor=…)`."""

    class Meta:
        model = Attendance

    booking = factory.SubFactory(BookingFactory)
    client = factory.SubFactory(ClientFactory)
    state = Attendance.State.BOOKED
    state_at = factory.LazyAttribute(lambda row: None if row.state == "booked" else clock.now())


class PlanFactory(DjangoModelFactory):
    """`PlanFactory(attendance=…, exercises=["mat_pelvic_curl", …])` adds a row for each key, in order."""

    class Meta:
        model = Plan

    attendance = factory.SubFactory(AttendanceFactory)

    @classmethod
    def _create(cls, model_class, *args, exercises=(), **kwargs):
        plan = super()._create(model_class, *args, **kwargs)
        for key in exercises:
            PlanItemFactory(plan=plan, exercise__key=key)
        return plan


class PlanItemFactory(DjangoModelFactory):
    """A row of a plan: eight repetitions; both sides, left first, where the exercise works one at a time."""

    class Meta:
        model = PlanItem

    plan = factory.SubFactory(PlanFactory)
    exercise = factory.SubFactory(ExerciseFactory)
    position = factory.LazyAttribute(lambda row: row.plan.items.count() + 1)
    sides = factory.LazyAttribute(lambda row: "both" if _sides_apart(row.exercise) else "")
    first_side = factory.LazyAttribute(lambda row: "left" if row.sides == "both" else "")
    repetitions = 8
    minutes = 4


def _sides_apart(exercise: Exercise) -> bool:
    return bool(exercise.current) and exercise.current.facts["sides"] != "both_together"


class RecordFactory(DjangoModelFactory):
    class Meta:
        model = Record

    attendance = factory.SubFactory(AttendanceFactory, state="done")
    author = factory.SelfAttribute("attendance.booking.instructor")
    started_at = factory.SelfAttribute("attendance.booking.starts_at")


class EntryFactory(DjangoModelFactory):
    """`EntryFactory(record=…, exercise__key=…, left={"repetitions": 6, "quality": 2}, right={…})`.

    `left`, `right` and `both` each make a side row of these values; none of them makes none.
    """

    class Meta:
        model = Entry

    record = factory.SubFactory(RecordFactory)
    sequence = factory.LazyAttribute(lambda row: row.record.entries.count() + 1)
    exercise = factory.SubFactory(ExerciseFactory)
    exercise_version = factory.SelfAttribute("exercise.current")
    state = Entry.State.DONE
    author = factory.SelfAttribute("record.author")
    at = factory.LazyAttribute(lambda row: row.record.started_at + dt.timedelta(minutes=5 * row.sequence))

    @classmethod
    def _create(cls, model_class, *args, left=None, right=None, both=None, **kwargs):
        entry = super()._create(model_class, *args, **kwargs)
        sides = {"left": left, "right": right, "both": both}
        for side, values in sides.items():
            if values is not None:
                EntrySide.objects.create(entry=entry, side=side, **values)
        return entry


class AdditionFactory(DjangoModelFactory):
    class Meta:
        model = Addition

    record = factory.SubFactory(RecordFactory)
    words = "The left knee was fine on the stairs afterwards."
    author = factory.SelfAttribute("record.author")
    at = factory.LazyAttribute(_now)


class IncidentFactory(DjangoModelFactory):
    class Meta:
        model = Incident

    attendance = factory.SubFactory(AttendanceFactory, state="arrived")
    sign = ""
    session_stopped = True
    author = factory.SelfAttribute("attendance.booking.instructor")
    at = factory.LazyAttribute(_now)


class IncidentNoteFactory(DjangoModelFactory):
    class Meta:
        model = IncidentNote

    incident = factory.SubFactory(IncidentFactory)
    words = "Sat down, water, felt well after two minutes."
    author = factory.SelfAttribute("incident.author")
    at = factory.LazyAttribute(_now)


class HomePracticeFactory(DjangoModelFactory):
    """Home practice being put together: `exercises=["mat_pelvic_curl", …]` makes its items."""

    class Meta:
        model = HomePractice

    class Params:
        exercises = ()

    client = factory.SubFactory(ClientFactory)
    items = factory.LazyAttribute(
        lambda row: [
            {
                "exercise": ExerciseFactory(key=key).public_id,
                "repetitions": 8,
                "seconds": None,
                "repetitions_right": None,
                "seconds_right": None,
                "days": [0, 2, 4],
                "cue": "",
                "adaptations": [],
            }
            for key in row.exercises
        ]
    )


class HandoutFactory(DjangoModelFactory):
    """A handout as issued. The PDF is a stand-in unless the test gives its bytes."""

    class Meta:
        model = Handout

    client = factory.SubFactory(ClientFactory)
    number = factory.Sequence(lambda n: n + 1)
    version = 1
    issued_on = factory.LazyAttribute(_today)
    issued_at = factory.LazyAttribute(_now)
    author = factory.SubFactory(StaffFactory, instructor=True)
    payload = factory.LazyFunction(dict)
    pdf = b"%PDF-1.7\n%stand-in\n"


class CallBackClosedFactory(DjangoModelFactory):
    class Meta:
        model = CallBackClosed

    handout = factory.SubFactory(HandoutFactory)
    flag_ids = factory.LazyFunction(list)
    reason = "Rang the client: leaves the second exercise out until we meet."
    author = factory.SelfAttribute("handout.author")
    at = factory.LazyAttribute(_now)


class LibraryLoadFactory(DjangoModelFactory):
    class Meta:
        model = LibraryLoad

    digest = factory.Sequence(lambda n: f"{n:064x}")
    at = factory.LazyAttribute(_now)


class AuditEntryFactory(DjangoModelFactory):
    class Meta:
        model = AuditEntry

    at = factory.LazyAttribute(_now)
    role = "program"
    action = "program.started"
    outcome = "done"
    app_version = "0"


ALL = [
    StudioFactory,
    StaffFactory,
    RoomFactory,
    UnitFactory,
    SpringFactory,
    ClientFactory,
    CareProfileFactory,
    SubmissionFactory,
    FlagFactory,
    FlagStatusFactory,
    GoalFactory,
    GoalRatingFactory,
    ExerciseFactory,
    ExerciseVersionFactory,
    BookingFactory,
    AttendanceFactory,
    PlanFactory,
    PlanItemFactory,
    RecordFactory,
    EntryFactory,
    IncidentFactory,
    HomePracticeFactory,
    HandoutFactory,
    AdditionFactory,
    IncidentNoteFactory,
    CallBackClosedFactory,
    LibraryLoadFactory,
    AuditEntryFactory,
]
