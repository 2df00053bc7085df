"""The recording screen while something else happens: flags change, the lock falls."""

import datetime as dt

import pytest
from playwright.sync_api import expect

from clients.models import Flag
from sessions.demo.factories import FlagFactory
from sessions.models import Record
from studio.models import KeptText, StaffSession

pytestmark = pytest.mark.browser


@pytest.fixture
def floor(demo_house):
    """The recording screen of the demo, half-way, on a tablet of its own."""
    role, path = next((role, path) for name, role, path in demo_house.screens if name == "floor")
    page = demo_house.page_of(role, has_touch=True)
    page.goto(demo_house.address + path)
    return page


def test_flags_that_changed_stand_out_above_the_exercise(floor):
    record = Record.objects.get(finished_at=None)
    assert Flag.objects.filter(client=record.attendance.client).exists()
    Record.objects.filter(pk=record.pk).update(flags_seen_at=record.started_at - dt.timedelta(minutes=1))
    FlagFactory(client=record.attendance.client, condition="glaucoma", state="active")
    floor.reload()
    notice = floor.locator("#flags-changed .recall")
    expect(notice).to_contain_text("Look before you go on.")
    ground = notice.evaluate(
        "box => [box, box.closest('main')].map(one => getComputedStyle(one).backgroundColor)"
    )
    assert ground[0] not in ("rgba(0, 0, 0, 0)", ground[1])
    words, seen = notice.locator("b").bounding_box(), notice.get_by_role("button").bounding_box()
    assert seen["x"] > words["x"] + words["width"], "what to touch stands beside the words, not below them"
    notice.get_by_role("button", name="Seen").tap()
    expect(notice).to_have_count(0)


def test_what_to_take_care_of_stays_when_the_next_row_comes(floor):
    """It is not sent again while it says the same (X-Cares): what opens is what stood there before."""
    opener, sheet = floor.locator(".all-flags"), floor.locator("#all-flags")
    reasons = sheet.locator("details.reasons")
    there, name = reasons.count(), floor.locator("main h1").inner_text()
    assert there
    with floor.expect_response("**/record/entry/") as answered:
        floor.locator(".fl-foot .pass-by").tap()
    expect(floor.locator("main h1")).not_to_have_text(name)
    assert answered.value.request.headers["x-cares"]
    assert answered.value.text().count("reasons-body") < there
    expect(reasons).to_have_count(there)
    opener.tap()
    expect(sheet).to_be_visible()
    assert floor.evaluate("document.querySelector('#fl').contains(document.querySelector('#all-flags'))")
    sheet.locator("[data-closes]").tap()
    expect(sheet).to_be_hidden()
    # Something newer to say comes along with the next touch.
    FlagFactory(client=Record.objects.get(finished_at=None).attendance.client, condition="glaucoma")
    floor.wait_for_timeout(500)  # a second touch right after a row has come counts for nothing
    floor.locator(".fl-foot .undo").tap()
    expect(floor.locator("main h1")).to_have_text(name)
    expect(sheet).to_contain_text("laucoma")


def test_the_second_touch_of_a_double_tap_does_nothing_to_the_row_that_came(floor):
    name = floor.locator("main h1").inner_text()
    sent = floor.evaluate(
        """() => new Promise((done) => {
          const skip = () => document.querySelector(".fl-foot .pass-by").click();
          let sent = 0;
          document.addEventListener("htmx:beforeRequest", () => { sent += 1; });
          document.addEventListener("htmx:afterSwap", () => {
            setTimeout(skip, 20);
            setTimeout(() => done(sent), 300);
          }, { once: true });
          skip();
        })"""
    )
    assert sent == 1
    expect(floor.locator("main h1")).not_to_have_text(name)


def test_what_was_touched_when_the_lock_falls_is_kept_too(floor):
    floor.get_by_role("button", name="One fewer, Reps, left").tap()
    floor.locator("label.step.n3:has([name=quality_left])").tap()
    floor.locator("label:has([name=felt_stretch_right])").tap()
    row = StaffSession.objects.running().order_by("pk").last()
    row.seen_at = row.seen_at.replace(year=row.seen_at.year - 1)
    row.save()
    floor.wait_for_url(lambda url: "/record/" not in url.split("?")[0])
    kept = dict(KeptText.objects.get().fields)
    assert kept["Quality, left"] == "3 Steady"
    assert kept["Stretch"] == "Stretch, right"
    assert "Reps, left" in kept
    assert not [name for name in kept if "right" in name], "nothing that stood there before is kept"


def test_what_was_typed_before_the_stop_sheet_came_is_kept_under_the_lock(floor):
    floor.get_by_role("button", name="One fewer, Reps, left").tap()
    floor.locator("label:has([name=felt_numb_or_weak_right])").tap()
    floor.locator("#stop-sheet [data-closes]").tap()
    floor.evaluate("document.querySelector('[name=felt_numb_or_weak_right]').checked = true")
    floor.locator(".save-next").tap()
    expect(floor.locator(".ask2-page h1")).to_be_visible()
    row = StaffSession.objects.running().order_by("pk").last()
    row.seen_at = row.seen_at.replace(year=row.seen_at.year - 1)
    row.save()
    floor.wait_for_url(lambda url: "/record/" not in url.split("?")[0])
    assert "Reps, left" in dict(KeptText.objects.get().fields)


def test_the_range_has_left_on_the_left_with_small_at_the_midline(floor):
    floor.locator(".more-rec:not(.changes) > summary").tap()
    middle = floor.viewport_size["width"] / 2
    places = {}
    for side in ("left", "right"):
        for value in ("small", "full"):
            box = floor.locator(f"label:has([name=range_{side}][value={value}])").bounding_box()
            places[side, value] = box["x"] + box["width"] / 2
    assert places["left", "full"] < places["left", "small"] < middle
    assert middle < places["right", "small"] < places["right", "full"]
