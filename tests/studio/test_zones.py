"""Time zones to choose from. Names: IANA time zone database, "Theory and pragmatics" (from memory)."""

import pytest
from django import forms
from django.test.html import parse_html
from django.urls import reverse

from studio import zones
from studio.forms.widgets import LongSelect


@pytest.mark.parametrize(
    "name", ["Europe/London", "America/New_York", "Asia/Kolkata", "Australia/Sydney", "UTC"]
)
def test_a_place_can_be_chosen(name):
    assert name in dict(zones.choices())


@pytest.mark.parametrize(
    "name", ["Factory", "localtime", "GB-Eire", "EST5EDT", "Etc/GMT+3", "W-SU", "US/Pacific"]
)
def test_what_is_no_place_is_left_out(name):
    assert name not in dict(zones.choices())


def test_what_a_studio_has_already_stays_a_choice(house, as_owner):
    assert "Singapore" in dict(zones.choices("Singapore"))
    house.zone = "Singapore"
    house.save()
    assert '<option value="Singapore" selected>' in as_owner.get(reverse("studio:settings")).content.decode()


def test_a_label_has_no_underscore():
    assert dict(zones.choices())["America/New_York"] == "America/New York"


@pytest.mark.parametrize("value", ["", "b&c", None, "unknown"])
def test_a_long_select_is_written_as_djangos_own_is(value):
    choices = [("", "Choose"), ("a", '<A> & "a"'), ("In <one>", [("b&c", "B"), ("d", "D")])]
    attrs = {"id": "id_zone", "class": "select form-select", "required": True, "aria-invalid": False}
    ours, theirs = (
        kind(choices=choices).render("zone", value, attrs=attrs) for kind in (LongSelect, forms.Select)
    )
    assert parse_html(ours) == parse_html(theirs)
    assert "<A>" not in ours
