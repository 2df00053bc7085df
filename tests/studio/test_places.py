"""The owner's page about the studio: rooms, hours, people, apparatus and springs."""

import pytest
from django.urls import reverse

from library.models import ApparatusUnit, StudioSpring
from sessions.demo.factories import RoomFactory
from studio.models import AuditEntry, OpeningHour, Room, Staff


def test_a_room_a_unit_and_a_spring_from_nothing(as_owner):
    assert (
        as_owner.post(reverse("studio:room_new"), {"name": "Long", "holds": 2, "in_use": "on"}).status_code
        == 302
    )
    room = Room.objects.get()
    unit = {"kind": "reformer", "name": "Reformer 1", "room": room.public_id, "in_use": "on"}
    assert as_owner.post(reverse("library:unit_new"), unit).status_code == 302
    spring = {"kind": "reformer", "name": "Thick", "grade": "heavy", "count": 2, "in_use": "on"}
    assert as_owner.post(reverse("library:spring_new"), spring).status_code == 302
    assert ApparatusUnit.objects.get().room == room
    assert StudioSpring.objects.get().grade == "heavy"
    page = as_owner.get(reverse("library:apparatus")).content.decode()
    assert "Reformer 1" in page and "Thick" in page
    logged = set(AuditEntry.objects.values_list("action", flat=True))
    assert {"room.saved", "unit.saved", "spring.saved"} <= logged


def test_a_name_twice_gets_a_sentence_and_keeps_what_was_typed(as_owner):
    RoomFactory(name="Long")
    answer = as_owner.post(reverse("studio:room_new"), {"name": "Long", "holds": 7})
    assert answer.status_code == 422
    assert 'value="7"' in answer.content.decode()
    assert answer.context["form"].errors["name"]


def test_two_owners_saving_one_room_see_both(as_owner):
    room = RoomFactory(name="Long")
    url = reverse("studio:room", args=[room.public_id])
    assert as_owner.post(url, {"name": "Longer", "holds": 1, "in_use": "on", "version": 1}).status_code == 302
    second = as_owner.post(url, {"name": "Longest", "holds": 1, "in_use": "on", "version": 1})
    page = second.content.decode()
    assert second.status_code == 409 and "Longer" in page and "Longest" in page
    room.refresh_from_db()
    assert (room.name, room.version) == ("Longer", 2)


def test_settings_change_with_their_version(as_owner, house):
    url = reverse("studio:settings")
    data = {
        name: getattr(house, name) for name in as_owner.get(url).context["form"].fields if name != "version"
    }
    answer = as_owner.post(url, {**data, "version": house.version, "pace_percent": 200})
    assert answer.status_code == 302
    house.refresh_from_db()
    assert (house.pace_percent, house.version) == (200, 2)


HOURS = {
    "only one time": ({"opens_0": "08:00"}, "closes_0"),
    "closing first": ({"opens_0": "08:00", "closes_0": "07:00"}, "closes_0"),
}


@pytest.mark.parametrize("typed, field", HOURS.values(), ids=HOURS)
def test_hours_that_do_not_fit_are_said_at_the_field(as_owner, house, typed, field):
    answer = as_owner.post(reverse("studio:hours"), {"version": house.version, **typed})
    assert answer.status_code == 422 and answer.context["form"].errors[field]
    assert OpeningHour.objects.count() == 6


def test_hours_are_replaced_and_a_second_save_keeps_what_was_typed(as_owner, house):
    url = reverse("studio:hours")
    data = {"version": house.version, "opens_2": "08:00", "closes_2": "12:00"}
    assert as_owner.post(url, data).status_code == 302
    assert [(h.weekday, h.opens.hour) for h in OpeningHour.objects.all()] == [(2, 8)]
    stale = as_owner.post(url, {**data, "closes_2": "13:00"})
    assert stale.status_code == 409 and "13:00" in stale.content.decode()


def test_somebody_without_a_role_is_refused(as_owner):
    data = {"full_name": "A", "call_name": "A", "sign_in_name": "a"}
    assert as_owner.post(reverse("studio:staff_new"), data).context["form"].errors["is_front_desk"]
    assert Staff.objects.count() == 1


@pytest.mark.parametrize("change", [{"is_active": ""}, {"is_owner": ""}], ids=["closed", "no owner any more"])
def test_the_only_owner_stays_owner(as_owner, owner, change):
    data = {
        "full_name": owner.full_name,
        "call_name": owner.call_name,
        "is_owner": "on",
        "is_instructor": "on",
        "is_active": "on",
        "version": owner.version,
        **change,
    }
    answer = as_owner.post(reverse("studio:staff", args=[owner.public_id]), data)
    assert answer.status_code == 422
    assert "only owner" in answer.content.decode()
    owner.refresh_from_db()
    assert owner.is_active and owner.is_owner


def test_a_closed_sign_in_ends_at_the_next_request(as_owner, as_desk, desk):
    data = {"full_name": desk.full_name, "call_name": desk.call_name, "is_front_desk": "on", "version": 1}
    assert as_owner.post(reverse("studio:staff", args=[desk.public_id]), data).status_code == 302
    answer = as_desk.get(reverse("sessions:today"))
    assert answer.status_code == 302 and "sign-in" in answer.url
