"""Help opens at what one was looking at, and every place it leads to exists."""

import re

import pytest
from django.urls import reverse

from studio.context import HELP, help_anchor


@pytest.mark.parametrize(
    ("view", "reads", "anchor"),
    [
        ("sessions:today", True, "today"),
        ("sessions:today", False, "desk-today"),
        ("sessions:record_close", True, "recording"),
        ("clients:flag_add", True, "flags"),
        ("clients:goals", True, "client"),
        ("elsewhere:page", True, ""),
    ],
)
def test_the_place_of_each_page(view, reads, anchor):
    assert help_anchor(view, reads) == anchor


def test_every_place_exists_for_those_who_are_sent_there(as_owner):
    page = as_owner.get(reverse("studio:help")).content.decode()
    ids = set(re.findall(r'id="([a-z-]+)"', page))
    assert {*HELP.values(), "desk-today"} <= ids


def test_the_rail_leads_there(as_desk):
    page = as_desk.get(reverse("sessions:bookings")).content.decode()
    assert f"{reverse('studio:help')}#diary" in page
