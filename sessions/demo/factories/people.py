"""Clients, their health answers, flags and goals."""

import datetime as dt

import factory
from factory.django import DjangoModelFactory

from clients.models import CareProfile, Client, Flag, FlagStatus, Goal, GoalRating, Measurement, Submission
from sessions.demo.factories.house import StaffFactory
from sessions.demo.factories.times import now, today

GIVEN = ("Ottoline", "Bashir", "Wenna", "Teodor", "Sunniva", "Imaru", "Petra", "Casimir", "Yusra", "Dov")
FAMILY = ("Brackwater", "Lanternby", "Oakapple", "Quillfeather", "Thistlewick", "Saltmarsh", "Windrow")


class ClientFactory(DjangoModelFactory):
    class Meta:
        model = Client

    full_name = factory.Sequence(lambda n: f"{GIVEN[n % len(GIVEN)]} {FAMILY[n % len(FAMILY)]}")
    call_name = factory.LazyAttribute(lambda row: row.full_name.split()[0])
    birth_date = factory.Sequence(lambda n: dt.date(1960 + n % 40, 1 + n % 12, 1 + n % 28))
    telephone = factory.Sequence(lambda n: f"07700 900{n % 1000:03d}")
    emergency_name = "Rowan Fernhollow"
    emergency_telephone = factory.Sequence(lambda n: f"01632 960{(n + 200) % 1000:03d}")
    created_at = factory.LazyAttribute(now)


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
    given_on = factory.LazyAttribute(today)
    typed_by = factory.SubFactory(StaffFactory, front_desk=True)
    typed_at = factory.LazyAttribute(now)
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
    created_at = factory.LazyAttribute(now)

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
    dated = factory.LazyAttribute(today)
    until_on = factory.LazyAttribute(lambda row: row.dated + dt.timedelta(days=182))


class FlagStatusFactory(DjangoModelFactory):
    class Meta:
        model = FlagStatus

    flag = factory.SubFactory(FlagFactory, state=None)
    state = FlagStatus.State.ACTIVE
    author = factory.SelfAttribute("flag.created_by")
    at = factory.LazyAttribute(now)


class GoalFactory(DjangoModelFactory):
    """A goal; `ratings=[(date, 3), (date, 5)]` adds the client's numbers."""

    class Meta:
        model = Goal

    client = factory.SubFactory(ClientFactory)
    words = "Reach the top shelf without thinking about it"
    set_on = factory.LazyAttribute(today)

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
    on = factory.LazyAttribute(today)
    value = 4
    author = factory.SubFactory(StaffFactory)


class MeasurementFactory(DjangoModelFactory):
    """One test of a measure; values are whole tenths of its unit."""

    class Meta:
        model = Measurement

    client = factory.SubFactory(ClientFactory)
    measure = "knee_to_wall_lunge"
    protocol = factory.LazyAttribute(lambda row: f"{row.measure}.1")
    on = factory.LazyAttribute(today)
    left = 85
    right = 110
    tries = factory.LazyAttribute(
        lambda row: {
            side: [row_side]
            for side, row_side in (("left", row.left), ("right", row.right))
            if row_side is not None
        }
    )
    author = factory.SubFactory(StaffFactory)
    at = factory.LazyAttribute(now)
