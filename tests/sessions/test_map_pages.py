"""The map and the ideas as pages: without a client they know nobody; for one they say how far, and the rules."""

import datetime as dt
import re

import pytest
from django.urls import reverse

from sessions.demo import factories as f
from studio.models import AuditEntry
from tests.sessions.plan_scene import text

pytestmark = pytest.mark.django_db
# From the catalogue: the side leg lift grows from the clam, the pelvic curl from the pelvic tilt.
SHELF = (
    "mat_clam",
    "mat_side_leg_lift",
    "mat_pelvic_tilt",
    "mat_pelvic_curl",
    "mat_bridge_hold",
    "mat_roll_up",
)


@pytest.fixture
def client_at_work(house, now):
    client = f.ClientFactory(full_name="Ottoline Brackwater", call_name="Ottoline")
    for key in SHELF:
        f.ExerciseFactory(key=key)
    return client


def did(client, key, days_ago, **sides):
    booking = f.BookingFactory(clients=[client], wall_day=dt.date(2026, 11, 25) - dt.timedelta(days=days_ago))
    record = f.RecordFactory(attendance=booking.attendances.get())
    return f.EntryFactory(record=record, exercise=f.ExerciseFactory(key=key), **sides)


def at(name, client=None, key="mat_clam", **more):
    args = [client.public_id] if client else []
    return reverse(
        name, args=[*args, *([f.ExerciseFactory(key=key).public_id] if not more else more.values())]
    )


TOP = {"quality": 4, "repetitions": 30}


def clam_twice(client, **last):
    did(client, "mat_clam", 14, left=TOP, right=TOP)
    did(client, "mat_clam", 7, left=TOP, right=TOP | last)


def boxes(source) -> list[str]:
    """Return what each box of the picture says, as a screen reader has it."""
    found = re.findall(r'<a class="map-box.*?</a>', source)
    return [" ".join(re.sub(r"<[^>]+>", " ", box).split()) for box in found]


def test_the_map_of_the_library_knows_nobody(client_at_work, as_desk):
    clam_twice(client_at_work)
    page = as_desk.get(at("library:map", key="mat_pelvic_curl"))
    shown = text(page)
    assert "Pelvic tilt" in shown and "Bridge hold" in shown and "Clam" not in shown
    assert "Ottoline" not in shown and "Secure" not in shown and "last done" not in shown
    assert 'style="' not in page.content.decode() and "<style" not in page.content.decode()


def test_what_is_secure_and_what_may_be_next(client_at_work, as_instructor):
    clam_twice(client_at_work)
    page = as_instructor.get(at("sessions:client_map", client_at_work))
    source = page.content.decode()
    assert "Clam, side-lying Mat Secure" in boxes(source)
    assert "May be next" in source.split('class="map-box is-next"')[1].split("</a>")[0]
    assert "last done 18 Nov 2026" in text(page)
    assert at("sessions:client_exercise", client_at_work, "mat_side_leg_lift") in source
    assert AuditEntry.objects.filter(action="find.read", thing_id=client_at_work.public_id).exists()


def test_shaky_on_one_side_stays_in_work(client_at_work, as_instructor):
    clam_twice(client_at_work, quality=2)
    source = as_instructor.get(at("sessions:client_map", client_at_work)).content.decode()
    assert "Clam, side-lying Mat In work" in boxes(source) and "is-next" not in source


def test_what_the_rules_say_to_avoid_is_never_next(client_at_work, as_instructor):
    did(client_at_work, "mat_pelvic_tilt", 14, both=TOP)
    did(client_at_work, "mat_pelvic_tilt", 7, both=TOP)
    address = at("sessions:client_map", client_at_work, "mat_pelvic_tilt")
    assert "is-next" in as_instructor.get(address).content.decode()
    f.InstructionFactory(client=client_at_work, about="mat_pelvic_curl", verdict="avoid", state="active")
    source = as_instructor.get(address).content.decode()
    assert "is-next" not in source and "Avoid" in source


def test_an_idea_has_four_stages_and_seven_columns_and_says_where_nothing_is(client_at_work, as_desk):
    page = as_desk.get(at("library:transfer", family="tf_bridge"))
    stages = page.context["stages"]
    assert [len(stage["cells"]) for stage in stages] == [7, 7, 7, 7]
    shown = [c["exercise"].key for s in stages for cell in s["cells"] for c in cell["cards"] + cell["more"]]
    assert set(shown) == {"mat_pelvic_tilt", "mat_pelvic_curl", "mat_bridge_hold"}
    assert text(page).count("None") == 27


def test_an_idea_for_a_client_has_verdicts_and_the_last_time(client_at_work, as_instructor):
    f.FlagFactory(client=client_at_work, condition="osteoporosis", state="active")
    did(client_at_work, "mat_roll_up", 7, both=TOP)
    page = as_instructor.get(at("sessions:client_transfer", client_at_work, family="tf_roll_up"))
    assert "Avoid" in text(page) and "last done 18 Nov 2026" in text(page)


@pytest.mark.parametrize(
    ("name", "more"),
    [
        ("library:map_skill", {"skill": "no_such"}),
        ("library:transfer", {"family": "no_such"}),
        ("library:map", {"exercise": "no-such"}),
    ],
    ids=["skill", "family", "exercise"],
)
def test_what_is_not_there_is_404(name, more, client_at_work, as_instructor):
    assert as_instructor.get(at(name, **more)).status_code == 404


def test_the_exercise_for_a_client_says_the_last_time_and_leads_on(client_at_work, as_instructor):
    clam_twice(client_at_work)
    page = as_instructor.get(at("sessions:client_exercise", client_at_work))
    source = page.content.decode()
    assert "Last time, 18 Nov 2026" in text(page) and "Right = the leg that moves" in text(page)
    assert at("sessions:client_map", client_at_work) in source
    assert at("sessions:client_transfer", client_at_work, family="tf_side_hip") in source
    assert [one["exercise"].key for one in page.context["ways"]["harder"]] == ["mat_side_leg_lift"]


def test_never_done_is_said(client_at_work, as_instructor):
    page = as_instructor.get(at("sessions:client_exercise", client_at_work))
    assert "Ottoline has not done it in a recorded session." in text(page)


def test_queries_stay_as_many_whatever_was_done(client_at_work, as_instructor, django_assert_num_queries):
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    clam_twice(client_at_work)
    address = at("sessions:client_map", client_at_work)
    as_instructor.get(address)
    with CaptureQueriesContext(connection) as before:
        as_instructor.get(address)
    for days in range(20, 26):
        did(client_at_work, "mat_side_leg_lift", days, left=TOP, right=TOP)
    with django_assert_num_queries(len(before)):
        as_instructor.get(address)
