"""Touch, home equipment, stature and mass in the studio's units."""

import pytest
from django.urls import reverse

from clients.models import CareProfile
from sessions.demo.factories import CareProfileFactory, ClientFactory, SubmissionFactory
from studio.models import AuditEntry, Studio

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("now")]

METRIC = {"touch": "ask", "home_equipment": ["band"], "cm": "168.5", "kg": "68,4", "proportions": "female"}


@pytest.fixture
def client(house):
    return ClientFactory()


@pytest.fixture
def imperial(house):
    Studio.objects.update(units="imperial")


def save(browser, client, version=0, **fields):
    return browser.post(reverse("clients:care", args=[client.public_id]), {"version": version, **fields})


def text_of(answer):
    return answer.content.decode()


def test_first_profile(as_instructor, instructor, client):
    answer = save(as_instructor, client, **METRIC)
    care = CareProfile.objects.get()
    assert answer.status_code == 302
    assert (care.touch, care.home_equipment, care.proportions) == ("ask", ["band"], "female")
    assert (care.stature_mm, care.mass_g) == (1685, 68400)
    assert AuditEntry.objects.get(action="care.changed").person == instructor


def test_imperial(as_instructor, client, imperial):
    """5 ft 6 in = 66 x 25.4 mm = 1676.4 mm; 150 lb = 68 038.9 g (NIST SP 811, exact factors)."""
    save(as_instructor, client, feet="5", inches="6", pounds="150")
    care = CareProfile.objects.get()
    assert (care.stature_mm, care.mass_g) == (1676, 68039)


def test_measure_that_is_not_touched_keeps_its_exact_value(as_instructor, client, imperial):
    """Shown as 5 ft 6.1 in, which is 1679 mm when typed again: only a changed field is read back."""
    care = CareProfileFactory(client=client, stature_mm=1680, mass_g=68400)
    form = as_instructor.get(reverse("clients:care", args=[client.public_id])).context["form"]
    typed = {name: str(form[name].value()) for name in ("feet", "inches", "pounds")}
    save(as_instructor, client, version=1, touch="no", **typed)
    care.refresh_from_db()
    assert (care.stature_mm, care.mass_g, care.touch) == (1680, 68400, "no")


def test_emptied_measure_is_unknown_again(as_instructor, client):
    CareProfileFactory(client=client, stature_mm=1680, mass_g=68400)
    save(as_instructor, client, version=1, cm="", kg="")
    care = CareProfile.objects.get()
    assert (care.stature_mm, care.mass_g) == (None, None)


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        pytest.param({"cm": "tall"}, "Type a number", id="words"),
        pytest.param({"cm": "16.85"}, "One figure after the point", id="two decimals"),
        pytest.param({"cm": "1.7"}, "Check the stature", id="metres"),
        pytest.param({"cm": "89.9"}, "Check the stature", id="too short"),
        pytest.param({"cm": "240.1"}, "Check the stature", id="too tall"),
        pytest.param({"cm": "123456"}, "too long", id="a long number"),
        pytest.param({"kg": "-68"}, "Check the mass", id="below nothing"),
        pytest.param({"kg": "24.9"}, "Check the mass", id="too light"),
        pytest.param({"kg": "NaN"}, "Type a number", id="not a number"),
        pytest.param({"home_equipment": ["sofa"]}, "sofa", id="not on the list"),
        pytest.param({"touch": "perhaps"}, "perhaps", id="not an answer"),
    ],
)
def test_wrong_metric(as_instructor, client, fields, sentence):
    answer = save(as_instructor, client, **{**METRIC, **fields})
    text = text_of(answer)
    assert answer.status_code == 422
    assert sentence in text
    assert not CareProfile.objects.exists()


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        pytest.param({"inches": "6"}, "How many feet?", id="inches alone"),
        pytest.param({"feet": "5", "inches": "12"}, "0 to 11.9", id="twelve inches"),
        pytest.param({"feet": "5.5"}, "whole number of feet", id="half a foot"),
        pytest.param({"feet": "2", "inches": "0"}, "Check the stature", id="too short"),
        pytest.param({"pounds": "9"}, "Check the mass", id="too light"),
    ],
)
def test_wrong_imperial(as_instructor, client, imperial, fields, sentence):
    answer = save(as_instructor, client, **fields)
    assert answer.status_code == 422
    assert sentence in text_of(answer)
    for value in fields.values():
        assert f'value="{value}"' in text_of(answer)


def test_two_at_once_second_sees_both(as_instructor, as_owner, client):
    CareProfileFactory(client=client)
    save(as_owner, client, version=1, touch="no", cm="170")
    answer = save(as_instructor, client, version=1, touch="yes", cm="171.5")
    text = text_of(answer)
    care = CareProfile.objects.get()
    assert answer.status_code == 409
    assert care.touch == "no"
    for words in ("No touch", "Hands-on help is welcome", "170 cm", "171.5 cm", 'value="171.5"'):
        assert words in text
    assert save(as_instructor, client, version=2, touch="yes", cm="171.5").status_code == 302


def test_two_first_profiles_at_once(as_instructor, as_owner, client):
    save(as_owner, client, touch="no")
    answer = save(as_instructor, client, touch="yes")
    assert answer.status_code == 409
    assert CareProfile.objects.get().touch == "no"


def test_form_stands_beside_for_comparing(as_instructor, client):
    SubmissionFactory(client=client, answers={"home": ["band"], "home_other": "a sofa"})
    text = text_of(as_instructor.get(reverse("clients:care", args=[client.public_id])))
    assert "band, a sofa" in text


def test_reads_are_audited(as_instructor, instructor, client):
    as_instructor.get(reverse("clients:care", args=[client.public_id]))
    assert AuditEntry.objects.get(action="care.read").person == instructor
