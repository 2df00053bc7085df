"""Two touches from the recording screen to going on with another exercise, by touch, the tablet upright."""

import re

import pytest
from playwright.sync_api import expect

from sessions.models import Entry, Record
from tests.browser.conftest import PORTRAIT

pytestmark = pytest.mark.browser


@pytest.fixture
def floor(demo_house):
    """The recording screen of the demo, half-way, on an upright tablet of its own."""
    role, path = next((role, path) for name, role, path in demo_house.screens if name == "floor")
    page = demo_house.page_of(role, has_touch=True, viewport=PORTRAIT)
    page.goto(demo_house.address + path)
    return page


def test_two_touches_lead_to_the_swap_and_the_record_says_instead_of_what(floor):
    planned = floor.locator(".core h1").inner_text()
    touch = floor.get_by_role("button", name="Instead", exact=True)
    assert touch.bounding_box()["height"] >= 64
    touch.tap()
    rows = floor.locator(".instead-list .pickrow")
    expect(rows.first).to_be_visible()
    assert rows.first.bounding_box()["height"] >= 64
    wanted = rows.first.locator("b").first.inner_text()
    rows.first.tap()
    expect(floor.locator(".core h1")).to_have_text(wanted)
    expect(floor.locator(".core .swapped")).to_contain_text(f"instead of {planned}")
    assert re.search(r"item=.+&instead=.+", floor.url)

    floor.wait_for_timeout(600)  # a second touch right after a swap of the screen does nothing
    floor.locator(".save-next").tap()
    expect(floor.locator(".core h1")).not_to_have_text(wanted)
    record = Record.objects.get(finished_at=None)
    entry = record.entries.order_by("-sequence").first()
    assert entry.exercise_version.name == wanted
    assert entry.instead_of.planned.name == planned
    assert entry.state == Entry.State.CHANGED
    assert entry.plan_item.exercise.current.name == planned


def test_back_keeps_what_was_touched(floor):
    floor.get_by_role("button", name="One fewer, Reps, left").tap()
    was = floor.locator("[name=reps_left]").input_value()
    floor.get_by_role("button", name="Instead", exact=True).tap()
    expect(floor.locator(".instead-list")).to_be_visible()
    floor.get_by_role("button", name="Back").tap()
    expect(floor.locator("[name=reps_left]")).to_have_value(was)


def test_all_six_are_in_reach_without_a_sideways_scroll(floor):
    floor.get_by_role("button", name="Instead", exact=True).tap()
    expect(floor.locator(".instead-list")).to_be_visible()
    assert floor.evaluate("document.documentElement.scrollWidth <= innerWidth")
