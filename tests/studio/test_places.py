"""The owner's page about the studio: rooms, hours, people, apparatus and springs."""

import pytest
from django.urls import reverse

from library import accessories
from library.models import ApparatusUnit, StudioSpring
from sessions.demo.factories import RoomFactory, UnitFactory
from sessions.demo.places import PARTS, UNITS
from studio import currencies
from studio.models import AuditEntry, OpeningHour, Room, Staff, StudioText


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


def test_a_unit_before_any_room_leads_to_the_room_in_words(as_owner):
    answer = as_owner.get(reverse("library:unit_new"), follow=True)
    assert answer.redirect_chain == [(reverse("studio:room_new"), 302)]
    assert "add the room first" in answer.content.decode()


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
    "closing at once": ({"opens_0": "08:00", "closes_0": "08:00"}, "closes_0"),
    "only one time of the second": (
        {"opens_0": "08:00", "closes_0": "12:00", "closes_0_2": "20:00"},
        "closes_0_2",
    ),
    "the second begins too early": (
        {"opens_0": "08:00", "closes_0": "12:00", "opens_0_2": "11:59", "closes_0_2": "20:00"},
        "opens_0_2",
    ),
    "the third lies inside the first": (
        {"opens_0": "08:00", "closes_0": "20:00", "opens_0_3": "09:00", "closes_0_3": "10:00"},
        "opens_0_3",
    ),
}


@pytest.mark.parametrize("typed, field", HOURS.values(), ids=HOURS)
def test_hours_that_do_not_fit_are_said_at_the_field(as_owner, house, typed, field):
    answer = as_owner.post(reverse("studio:hours"), {"version": house.version, **typed})
    assert answer.status_code == 422 and answer.context["form"].errors[field]
    assert OpeningHour.objects.count() == 6


def test_a_day_is_open_several_times(as_owner, house):
    typed = {"opens_2": "07:00", "closes_2": "12:00", "opens_2_2": "15:00", "closes_2_2": "18:00"}
    last = {"opens_2_3": "18:00", "closes_2_3": "21:00"}
    url = reverse("studio:hours")
    assert as_owner.post(url, {"version": house.version, **typed, **last}).status_code == 302
    rows = [(h.weekday, h.opens.hour, h.closes.hour) for h in OpeningHour.objects.all()]
    assert rows == [(2, 7, 12), (2, 15, 18), (2, 18, 21)]
    shown = as_owner.get(url).context["form"].initial
    assert [shown[name].hour for name in ("opens_2", "opens_2_2", "closes_2_3")] == [7, 15, 21]
    page = as_owner.get(reverse("studio:studio")).content.decode()
    assert "07:00–12:00" in page and "18:00–21:00" in page


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


# ISO 4217, list one (from memory): code, digits of the small unit.
CURRENCIES = {"GBP": 2, "EUR": 2, "USD": 2, "JPY": 0, "ISK": 0, "KWD": 3, "TND": 3, "CHF": 2}
NO_CURRENCIES = ("XAU", "XTS", "XXX", "DEM", "HRK", "GB", "POUND", "££")


@pytest.mark.parametrize(("code", "digits"), CURRENCIES.items())
def test_a_currency_has_three_letters_and_a_small_unit(code, digits):
    assert currencies.DIGITS[code] == digits


def settings_of(browser, house) -> dict:
    fields = browser.get(reverse("studio:settings")).context["form"].fields
    return {name: getattr(house, name) for name in fields}


@pytest.mark.parametrize("typed", [" eur ", "Eur"])
def test_a_currency_is_kept_in_capitals(as_owner, house, typed):
    url = reverse("studio:settings")
    assert as_owner.post(url, {**settings_of(as_owner, house), "currency": typed}).status_code == 302
    house.refresh_from_db()
    assert house.currency == "EUR"


@pytest.mark.parametrize("typed", NO_CURRENCIES)
def test_what_is_no_currency_is_said_at_the_field(as_owner, house, typed):
    answer = as_owner.post(reverse("studio:settings"), {**settings_of(as_owner, house), "currency": typed})
    assert answer.status_code == 422 and answer.context["form"].errors["currency"]


class TestWhatBelongsToAUnit:
    def test_only_what_its_kind_may_have(self, as_owner):
        unit = UnitFactory(kind="chair")
        fields = as_owner.get(reverse("library:unit", args=[unit.public_id])).context["form"].fields
        assert {code for code, _words in fields["accessories"].choices} == {"pedal", "handles"}

    def test_it_is_kept_and_shown(self, as_owner):
        unit = UnitFactory(kind="reformer", name="Reformer 1")
        url = reverse("library:unit", args=[unit.public_id])
        data = {"name": "Reformer 1", "room": unit.room.public_id, "in_use": "on", "version": 1}
        assert as_owner.post(url, {**data, "accessories": ["jump_board", "footbar"]}).status_code == 302
        unit.refresh_from_db()
        assert set(unit.accessories) == {"jump_board", "footbar"} and unit.kind == "reformer"
        assert "jump board" in as_owner.get(reverse("library:apparatus")).content.decode()

    def test_what_is_not_on_the_list_is_refused(self, as_owner):
        unit = UnitFactory(kind="reformer")
        data = {"name": "R", "room": unit.room.public_id, "version": 1, "accessories": ["pedal"]}
        answer = as_owner.post(reverse("library:unit", args=[unit.public_id]), data)
        assert answer.status_code == 422 and answer.context["form"].errors["accessories"]

    def test_an_arc_has_none(self, as_owner):
        unit = UnitFactory(kind="arc")
        url = reverse("library:unit", args=[unit.public_id])
        assert "accessories" not in as_owner.get(url).context["form"].fields
        data = {"name": "Arc", "room": unit.room.public_id, "in_use": "on", "version": 1}
        assert as_owner.post(url, data).status_code == 302


class TestTheStudiosOwnWords:
    URL = "/studio/words/consent/"

    def write(self, browser, words, number):
        return browser.post(self.URL, {"words": words, "number": number})

    def test_nothing_is_shipped(self, as_owner, house):
        assert not StudioText.objects.exists()
        assert as_owner.get(self.URL).context["form"].initial == {"number": 0, "words": ""}

    def test_each_saving_is_a_version_and_the_old_one_stays(self, as_owner, owner):
        self.write(as_owner, "First.", 0)
        self.write(as_owner, "Second.", 1)
        rows = StudioText.objects.filter(kind="consent")
        assert [(t.number, t.words, t.by) for t in rows] == [(2, "Second.", owner), (1, "First.", owner)]
        assert StudioText.objects.current("consent").number == 2
        assert StudioText.objects.current("cautions") is None

    def test_the_same_words_again_write_nothing(self, as_owner):
        self.write(as_owner, "First.", 0)
        self.write(as_owner, "First.\r\n", 1)
        assert StudioText.objects.count() == 1

    def test_two_owners_at_once_see_both(self, as_owner):
        self.write(as_owner, "Theirs.", 0)
        answer = self.write(as_owner, "Mine.", 0)
        page = answer.content.decode()
        assert answer.status_code == 409 and "Theirs." in page and "Mine." in page
        assert self.write(as_owner, "Mine.", 1).status_code == 302

    def test_cautions_are_read_by_everybody_under_help(self, as_owner, as_desk):
        as_owner.post("/studio/words/cautions/", {"words": "Socks on the <b>chair</b>.", "number": 0})
        page = as_desk.get(reverse("studio:help")).content.decode()
        assert "Socks on the &lt;b&gt;chair&lt;/b&gt;." in page


@pytest.mark.parametrize("name", UNITS)
def test_what_the_demo_says_belongs_to_a_unit_may_belong_to_its_kind(name):
    assert set(PARTS.get(name, ())) <= set(accessories.of_kind(UNITS[name][0]))
