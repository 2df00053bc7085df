"""Home practice and handouts."""

import factory
from factory.django import DjangoModelFactory

from sessions import handout, home_rules, judging
from sessions.demo.content import payload_of
from sessions.demo.factories.house import ExerciseFactory, StaffFactory
from sessions.demo.factories.people import ClientFactory
from sessions.demo.factories.times import now, today
from sessions.models import CallBackClosed, Handout, HomePractice


class HomePracticeFactory(DjangoModelFactory):
    """Home practice that could be issued: `exercises=["mat_pelvic_curl", …]` makes its items."""

    class Meta:
        model = HomePractice

    class Params:
        exercises = ()

    client = factory.SubFactory(ClientFactory)
    items = factory.LazyAttribute(lambda row: [home_item(key) for key in row.exercises])


def home_item(key: str) -> dict:
    """Return an item with the usual dose that has been taught, with what it needs at hand."""
    exercise = ExerciseFactory(key=key)
    usual = home_rules.usual(exercise.public_id, exercise.current.facts)
    easy = "Go only as far as is easy."
    return {**usual, "has_it": True, "taught_on": today().isoformat(), "change": easy}


def printed(number: int, client, issued, keys) -> dict:
    """Return the payload of a handout with these exercises, eight times each, every day."""
    payload = handout.build(
        number=number,
        version=1,
        issued=issued,
        client=client.call_name,
        studio="Wyndlefold Studio",
        telephone="01632 960100",
        emergency="999",
        items=[_printed(key) for key in keys],
    )
    return handout.as_json(payload)


def _printed(key: str) -> dict:
    content = payload_of(key)
    facts, words = content["facts"], content["text"]["client"]
    sides = {"left": {"times": 8}, "right": {"times": 8}, "means": facts["side_means"]}
    return {
        "exercise": key,
        "version": 1,
        "name": facts["name"],
        "pose": content["pose"],
        "dose": {"both": {"times": 8}} if facts["sides"] == "both_together" else sides,
        "often": {"days": 7},
        "cue": "",
        "adaptations": [],
        "props": [],
        **words,
    }


class HandoutFactory(DjangoModelFactory):
    """A handout as issued, of `exercises`. The PDF is a stand-in unless the test gives its bytes."""

    class Meta:
        model = Handout

    class Params:
        exercises = ("mat_pelvic_curl", "mat_clam")

    client = factory.SubFactory(ClientFactory)
    number = factory.Sequence(lambda n: n + 1)
    version = 1
    issued_on = factory.LazyAttribute(today)
    issued_at = factory.LazyAttribute(now)
    author = factory.SubFactory(StaffFactory, instructor=True)
    payload = factory.LazyAttribute(lambda row: printed(row.number, row.client, row.issued_on, row.exercises))
    verdicts = factory.LazyAttribute(lambda row: [_judged(key, row.issued_on) for key in row.exercises])
    pdf = b"%PDF-1.7\n%stand-in\n"


def _judged(key: str, day) -> dict:
    """Return what the judge says where nothing is on file."""
    version = ExerciseFactory(key=key).current
    verdict = judging.stored(judging.judge_facts((), version.facts, day))
    sides = home_rules.usual(key, version.facts)["sides"]
    return {
        "exercise": key,
        "version_id": version.pk,
        "sides": sides,
        "adaptations": [],
        "verdict": verdict,
    }


class CallBackClosedFactory(DjangoModelFactory):
    class Meta:
        model = CallBackClosed

    handout = factory.SubFactory(HandoutFactory)
    flag_ids = factory.LazyFunction(list)
    reason = "Rang the client: leaves the second exercise out until we meet."
    author = factory.SelfAttribute("handout.author")
    at = factory.LazyAttribute(now)
