"""The first page of an empty studio.

Source: OWASP verification standard 5.0, 6.3.2 and 6.4.1 (no default accounts; first secrets random and used once).
"""

import pytest
from django.contrib.auth.hashers import is_password_usable
from django.urls import reverse

from studio import countries, currencies
from studio.actions import audit
from studio.actions import first_owner as first
from studio.models import AuditEntry, OpeningHour, Staff, Studio

pytestmark = pytest.mark.django_db
START = "/start/"
FAR = {"REMOTE_ADDR": "192.0.2.7"}


@pytest.fixture
def typed():
    return {
        "full_name": "Linnet O'Ashgrove",
        "call_name": "Linnet",
        "sign_in_name": "Linnet",
        "passphrase": "four plain words suffice",
        "teaches": "on",
        "studio_name": "Wyndlefold Studio",
        "telephone": "01632 960100",
        "emergency_number": "112",
        "zone": "Europe/Dublin",
        "currency": "eur",
        "locale": "en-gb",
        "units": "metric",
        "paper": "a4",
    }


@pytest.fixture(autouse=True)
def _own_code(tmp_path, settings):
    """A data folder of its own, so that the code on the console is made anew."""
    settings.DATA_DIR = tmp_path


def test_every_page_of_an_empty_studio_leads_here(client):
    for name in ("studio:sign_in", "studio:help", "sessions:today"):
        assert client.get(reverse(name)).url == START


def test_the_owner_and_the_studio_are_made(client, typed):
    page = client.post(START, typed)
    assert page.status_code == 200
    [person], [studio] = Staff.objects.all(), Studio.objects.all()
    assert person.roles == {"owner", "instructor"}
    assert (person.full_name, person.sign_in_name) == ("Linnet O'Ashgrove", "linnet")
    assert is_password_usable(person.password) and person.check_password("four plain words suffice")
    assert (studio.name, studio.zone, studio.emergency_number) == (
        "Wyndlefold Studio",
        "Europe/Dublin",
        "112",
    )
    assert studio.currency == "EUR"
    assert OpeningHour.objects.exists()
    assert AuditEntry.objects.filter(action="studio.set_up", thing_id=studio.public_id).count() == 1
    assert client.session["_auth_user_id"] == str(person.pk)
    # The recovery code is shown on this answer and kept as a hash.
    code = page.context["code"]
    assert code in page.content.decode() and person.codes.get().secret != code


def test_an_owner_who_does_not_teach(client, typed):
    del typed["teaches"]
    client.post(START, typed)
    assert Staff.objects.get().roles == {"owner"}


def test_it_works_once(client, typed):
    client.post(START, typed)
    client.post(reverse("studio:sign_out"))
    assert client.get(START).url == reverse("studio:sign_in")
    again = client.post(START, {**typed, "sign_in_name": "second"})
    assert again.url == reverse("studio:sign_in")
    assert Staff.objects.count() == 1


def test_the_slower_of_two_at_once_is_sent_to_sign_in(client, typed, monkeypatch):
    """Both saw an empty studio; the other one was stored while this one was being typed."""
    monkeypatch.setattr("studio.views.access.first.is_open", lambda: True)
    monkeypatch.setattr("studio.actions.first_owner.is_open", lambda: False)
    assert client.post(START, typed).url == reverse("studio:sign_in")
    assert not Staff.objects.exists()


def test_nothing_is_left_when_the_log_cannot_be_written(typed, monkeypatch):
    def broken(*args, **kwargs):
        raise OSError("disk full")

    monkeypatch.setattr("studio.actions.first_owner.audit.write", broken)
    with pytest.raises(OSError, match="disk full"):
        first.set_up(
            actor=audit.Actor(),
            owner={"full_name": "A", "call_name": "A", "sign_in_name": "a"},
            passphrase="four plain words suffice",
            studio={"name": "S", "emergency_number": "112", "zone": "UTC"},
        )
    assert not Staff.objects.exists()
    assert not Studio.objects.exists()
    assert not OpeningHour.objects.exists()


class TestFromAnotherMachine:
    def test_the_page_asks_for_the_code(self, client):
        assert 'name="code"' in client.get(START, **FAR).content.decode()
        assert 'name="code"' not in client.get(START).content.decode()

    @pytest.mark.parametrize("code", ["", "wrong", "é", "x" * 5000], ids=["none", "wrong", "accent", "long"])
    def test_without_the_code_nothing_is_made(self, client, typed, code):
        answer = client.post(START, {**typed, "code": code}, **FAR)
        assert answer.status_code == 422
        assert answer.context["form"].errors["code"] == ["Type the code that the console shows."]
        assert "O&#x27;Ashgrove" in answer.content.decode(), "what was typed is kept"
        assert not Staff.objects.exists()

    def test_with_the_code_it_works_and_the_code_is_used_up(self, client, typed):
        code = first.console_code()
        assert client.post(START, {**typed, "code": f" {code.upper()} "}, **FAR).status_code == 200
        assert Staff.objects.count() == 1
        Studio.objects.all().delete()
        assert first.console_code() != code

    def test_the_code_is_long_and_for_this_person_only(self, tmp_path):
        code = first.console_code()
        letters = code.replace("-", "")
        # 25 characters out of 31: log2(31) * 25 = 123.9 bits.
        assert len(letters) == 25
        assert set(letters) <= set("abcdefghjkmnpqrstuvwxyz23456789")
        assert first.console_code() == code, "the same until it is used"
        assert (tmp_path / "setup-code").stat().st_mode & 0o777 == 0o600


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("full_name", ""),
        ("call_name", ""),
        ("sign_in_name", ""),
        ("passphrase", "fourteen chars"),
        ("passphrase", "x" * 257),
        ("passphrase", "Wyndlefold Studio 1"),
        ("passphrase", "correct horse battery staple"),
        ("studio_name", ""),
        ("telephone", ""),
        ("emergency_number", ""),
        ("zone", "Mars/Olympus"),
        ("zone", ""),
        ("currency", ""),
        ("currency", "XYZ"),
        ("locale", "tlh"),
        ("units", "cubits"),
        ("paper", "a3"),
    ],
)
def test_a_bad_field_is_named_and_the_rest_is_kept(client, typed, field, value):
    answer = client.post(START, {**typed, field: value})
    assert answer.status_code == 422
    assert list(answer.context["form"].errors) == [field]
    assert "Wyndlefold Studio" in answer.content.decode() or field == "studio_name"
    assert not Studio.objects.exists()


@pytest.mark.parametrize("name", ["O'Brien", "王", "=SUM(1)", "<b>bold</b>", "Null", "{{7*7}}", "عبد الله"])
def test_every_name_is_an_ordinary_name(client, typed, name):
    assert client.post(START, {**typed, "full_name": name, "sign_in_name": name}).status_code == 200
    assert Staff.objects.get().full_name == name
    page = client.get(reverse("studio:help")).content.decode()
    assert "<b>bold" not in page
    assert "49" not in page or name != "{{7*7}}"


@pytest.mark.parametrize(
    ("zone", "languages", "expected"),
    [
        pytest.param("Europe/London", "en-US,en;q=0.9", ("GBP", "metric", "a4", "en-gb"), id="zone-first"),
        pytest.param("America/Chicago", "en-GB", ("USD", "imperial", "letter", "en-us"), id="chicago"),
        pytest.param("Australia/Perth", "", ("AUD", "metric", "a4", "en-au"), id="perth"),
        pytest.param("Europe/Dublin", "", ("EUR", "metric", "a4", "en-gb"), id="dublin"),
        pytest.param("", "en-CA,fr;q=0.8", ("CAD", "metric", "letter", "en-gb"), id="header-alone"),
        pytest.param("", "en", ("", "metric", "a4", "en-gb"), id="nothing-known"),
    ],
)
def test_the_last_part_holds_guesses_for_where_the_machine_is(
    client, tmp_path, monkeypatch, zone, languages, expected
):
    """ISO 4217 by country; Letter and US units as in the Unicode locale data (from memory)."""
    place = tmp_path / "usr/share/zoneinfo" / zone
    place.parent.mkdir(parents=True, exist_ok=True)
    (place if zone else tmp_path / "plain").touch()
    link = tmp_path / "localtime"
    link.symlink_to(place if zone else tmp_path / "plain")
    usual = first.usual_here(languages, str(link))
    assert (usual.currency, usual.units, usual.paper, usual.locale) == expected
    assert usual.zone == zone
    monkeypatch.setattr(first, "usual_here", lambda languages: usual)
    initial = client.get(START).context["form"].initial
    assert (initial["currency"], initial["zone"]) == (expected[0], zone)


def test_a_country_with_one_zone_gives_it():
    assert first.usual_here("de-AT", "/nowhere").zone == "Europe/Vienna"
    assert first.usual_here("en-US", "/nowhere").zone == "", "which of many, the owner says"


def test_every_guess_is_a_currency_there_is():
    assert set(countries.CURRENCY.values()) <= set(currencies.DIGITS)
