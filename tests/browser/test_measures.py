"""Taking a timed measure on the tablet: the stopwatch by touch, the rest between the sides, and without script."""

import re

import pytest
from playwright.sync_api import expect

from clients.models import Measurement
from sessions.demo.factories import ClientFactory

pytestmark = pytest.mark.browser


@pytest.fixture
def client(now, house):
    return ClientFactory(full_name="Zoë Lanternby")


def bridge(client):
    return f"/clients/{client.public_id}/measures/side_bridge/"


def held_clock(page, arrive) -> None:
    """Come to a page and hold its clock: from there on it moves only when the test says so, however slow we are."""
    page.clock.install()
    arrive()
    page.clock.pause_at(page.evaluate("Date.now() / 1000 + 2"))


def test_stopwatch_times_both_sides(tablet, instructor, client):
    page = tablet.page
    tablet.sign_in("maris")
    held_clock(page, lambda: tablet.go(bridge(client)))
    left, right = page.locator(".take-half.l"), page.locator(".take-half.r")
    rest = page.locator(".watch-rest")
    expect(rest).to_be_hidden()
    left.get_by_role("button", name="Start").tap()
    page.clock.run_for(44_900)
    expect(left.get_by_role("timer")).to_have_text(re.compile(r"44\.9|45\.0"))
    left.get_by_role("button", name="Stop the watch").tap()
    expect(left.get_by_label("Seconds held")).to_have_value(re.compile(r"^4[45]$"))
    expect(rest.get_by_role("timer")).to_have_text(re.compile(r"^(5:00|4:59)$"))
    page.clock.run_for(60_000)
    expect(rest.get_by_role("timer")).to_have_text(re.compile(r"^(4:00|3:59)$"))
    right.get_by_role("button", name="Start").tap()
    expect(rest).to_be_hidden()
    page.clock.run_for(52_000)
    right.get_by_role("button", name="Stop the watch").tap()
    expect(rest).to_be_hidden()
    page.clock.resume()
    page.get_by_role("button", name="Write down").tap()
    expect(page.get_by_text("Written down.")).to_be_visible()
    row = Measurement.objects.get()
    assert row.left in (440, 450)
    assert row.right in (520, 530)


def test_a_double_tap_does_not_stop_and_start_again(tablet, instructor, client):
    page = tablet.page
    tablet.sign_in("maris")
    held_clock(page, lambda: tablet.go(bridge(client)))
    go = page.locator(".take-half.l .watch-go")
    go.tap()
    page.clock.run_for(3_000)
    go.tap()
    go.tap()
    expect(go).to_have_text("Start again")
    expect(page.locator(".take-half.l").get_by_label("Seconds held")).to_have_value("3")


def test_without_script_a_number_is_typed(open_tablet, instructor, client):
    tablet = open_tablet(script=False)
    page = tablet.page
    tablet.sign_in("maris")
    tablet.go(bridge(client))
    expect(page.locator(".watch-go").first).to_be_hidden()
    page.locator(".take-half.l").get_by_label("Seconds held").fill("44")
    page.get_by_role("button", name="Write down").tap()
    expect(page.get_by_text("Written down.")).to_be_visible()
    assert Measurement.objects.get().left == 440
