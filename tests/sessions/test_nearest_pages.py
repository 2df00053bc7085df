"""The nearest exercises on the pages of the library, of a client, and of what goes home."""

import pytest
from django.urls import reverse

from sessions.demo import factories as f
from studio.models import AuditEntry
from tests.sessions.plan_scene import text

pytestmark = pytest.mark.django_db
SHELF = (
    "mat_pelvic_curl",
    "mat_half_roll_back",
    "mat_pelvic_tilt",
    "sc_seated_cat",
    "mat_roll_up",
    "mat_roll_up_band",
)


@pytest.fixture
def client_with_bones(house, now):
    client = f.ClientFactory(full_name="Ottoline Brackwater", call_name="Ottoline")
    f.FlagFactory(client=client, condition="osteoporosis", state="active")
    for key in SHELF:
        f.ExerciseFactory(key=key)
    return client


def page_of(client, key):
    return reverse("sessions:client_exercise", args=[client.public_id, f.ExerciseFactory(key=key).public_id])


def test_library_lists_the_nearest_and_judges_nobody(client_with_bones, as_desk):
    page = as_desk.get(reverse("library:exercise", args=[f.ExerciseFactory(key="mat_roll_up").public_id]))
    names = [one["exercise"].key for one in page.context["nearest"]["found"]]
    assert names[0] == "mat_roll_up_band" and "mat_roll_up" not in names
    assert "Easier relative" in text(page)
    assert "osteo" not in text(page).lower()


def test_for_a_client_each_is_judged_and_never_avoid(client_with_bones, as_instructor):
    page = as_instructor.get(page_of(client_with_bones, "mat_roll_up"))
    assert page.context["sheet"]["verdict"] == "avoid"
    found = page.context["found"]
    as_they_are = [one for one in found if not one["change"]]
    assert {one["verdict"] for one in as_they_are} == {"none"} and as_they_are == found[: len(as_they_are)]
    assert all(one["verdict"] == "modify" for one in found if one["change"])
    assert "mat_half_roll_back" not in [one["exercise"].key for one in as_they_are]
    assert AuditEntry.objects.filter(action="find.read").exists()


def test_the_day_is_that_of_the_session_asked_for(client_with_bones, as_instructor, instructor):
    booking = f.BookingFactory(clients=[client_with_bones], instructor=instructor)
    mine = booking.attendances.get().public_id
    page = as_instructor.get(page_of(client_with_bones, "mat_roll_up"), {"session": mine})
    assert page.context["day"] == booking.wall_day
    other = f.BookingFactory(clients=[f.ClientFactory()], instructor=instructor).attendances.get().public_id
    assert as_instructor.get(page_of(client_with_bones, "mat_roll_up"), {"session": other}).status_code == 404


def test_home_names_what_may_go_home_instead(client_with_bones, as_instructor):
    home = reverse("sessions:home_practice", args=[client_with_bones.public_id])
    roll_up = f.ExerciseFactory(key="mat_roll_up")
    page = as_instructor.get(home, {"exercise": roll_up.public_id})
    side = page.context["side"]
    assert side["refused"]
    keys = [one["exercise"].key for one in side["instead"]["found"]]
    assert "mat_pelvic_curl" in keys and not {"mat_roll_up", "mat_half_roll_back", "mat_roll_up_band"} & set(
        keys
    )
    assert all(one["home"] and one["verdict"] != "avoid" for one in side["instead"]["found"])
    assert "May go home instead" in text(page)


def test_home_offers_nothing_beside_what_may_go(client_with_bones, as_instructor):
    home = reverse("sessions:home_practice", args=[client_with_bones.public_id])
    curl = f.ExerciseFactory(key="mat_pelvic_curl")
    assert as_instructor.get(home, {"exercise": curl.public_id}).context["side"]["instead"] is None
