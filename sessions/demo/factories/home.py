"""Home practice and handouts."""

import factory
from factory.django import DjangoModelFactory

from sessions.demo.factories.house import ExerciseFactory, StaffFactory
from sessions.demo.factories.people import ClientFactory
from sessions.demo.factories.times import now, today
from sessions.models import CallBackClosed, Handout, HomePractice


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
    issued_on = factory.LazyAttribute(today)
    issued_at = factory.LazyAttribute(now)
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
    at = factory.LazyAttribute(now)
