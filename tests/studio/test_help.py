"""Help opens at what one was looking at, and every place it leads to exists for whoever is led there."""

import re
from pathlib import Path

import pytest
from django.urls import reverse

from library import measures
from studio.context import HELP, help_anchor
from tests.test_access import BROWSERS, NOBODY, STAFF, TABLE

ROLES = sorted(STAFF)
SCREENS = Path(__file__).parents[1] / "screens.py"


@pytest.fixture
def help_of(request, db):
    """The help page as each role reads it."""
    return lambda role: request.getfixturevalue(BROWSERS[role]).get(reverse("studio:help")).content.decode()


def places(page: str) -> set[str]:
    return set(re.findall(r'id="([a-z_-]+)"', page))


def pages_of(role: str) -> list[str]:
    """The names of the pages with a bar that a role may open: signed in, and neither the help nor a machine's."""
    return [
        name
        for name, methods in TABLE.items()
        if role in methods.get("GET", ()) and NOBODY not in methods["GET"] and name != "studio:help"
    ]


@pytest.mark.parametrize(
    ("view", "reads", "anchor"),
    [
        ("sessions:today", True, "today"),
        ("sessions:today", False, "desk-today"),
        ("sessions:client", True, "client"),
        ("sessions:client", False, "desk-client"),
        ("sessions:record_close", True, "recording"),
        ("sessions:incident", True, "incident"),
        ("sessions:progress", True, "progress"),
        ("sessions:timeline", True, "story"),
        ("sessions:handout", True, "home-practice"),
        ("sessions:handout", False, "desk-handout"),
        ("clients:flag_add", True, "flags"),
        ("clients:goals", True, "client"),
        ("clients:measures", True, "measures"),
        ("clients:measure_take", True, "measures"),
        ("library:exercise", True, "library"),
        ("library:unit_new", True, "apparatus"),
        ("studio:network", True, "network"),
        ("studio:devices", True, "devices"),
        ("studio:kept", True, "kept"),
        ("elsewhere:page", True, ""),
    ],
)
def test_the_place_of_each_page(view, reads, anchor):
    assert help_anchor(view, reads) == anchor


def test_every_place_exists(help_of):
    assert set(HELP.values()) <= places(help_of("owner"))


@pytest.mark.parametrize("role", ROLES)
def test_every_page_of_a_role_leads_to_a_place_on_its_own_help(help_of, role):
    there, reads = places(help_of(role)), role != "front_desk"
    lost = {
        name: help_anchor(name, reads) for name in pages_of(role) if help_anchor(name, reads) not in there
    }
    assert lost == {}


def test_every_screen_that_is_walked_is_held_to_it():
    walked = set(re.findall(r'reverse\("([a-z_:]+)"', SCREENS.read_text()))
    assert len(walked) > 40
    assert {name for name in walked if not any(name.startswith(start) for start in HELP)} == set()


def test_no_place_stands_twice(help_of):
    found = re.findall(r'id="([a-z_-]+)"', help_of("owner"))
    assert sorted(found) == sorted(set(found))


def test_links_within_the_page_lead_somewhere(help_of):
    for role in ROLES:
        page = help_of(role)
        main = page[page.index("<main") :]
        assert set(re.findall(r'href="#([a-z_-]+)"', main)) <= places(page), role


def test_every_measure_has_its_way_in_short(help_of):
    page = help_of("instructor")
    for key in measures.all_measures():
        assert f'id="measure-{key}"' in page and measures.words(key).name in page


@pytest.mark.parametrize("words", ["Avoid", "Modify", "Watch", "No rule", "Within noise", "Cannot tell"])
def test_the_words_of_verdicts_are_explained(help_of, words):
    assert f"<dt>{words}</dt>" in help_of("instructor")


def test_the_desk_reads_nothing_of_flags_and_measures(help_of):
    assert not places(help_of("front_desk")) & {"flags", "plan", "measures", "story", "incident", "network"}


@pytest.mark.parametrize(("profile", "said"), [("demo", True), ("studio", False)])
def test_the_demo_says_what_it_is(help_of, settings, profile, said):
    settings.PROFILE = profile
    assert ("This is the demo" in help_of("instructor")) is said


def test_the_rail_leads_there(as_desk):
    page = as_desk.get(reverse("sessions:bookings")).content.decode()
    assert f"{reverse('studio:help')}#diary" in page
