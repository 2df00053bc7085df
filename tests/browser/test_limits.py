"""How far a client goes: the picture follows the number while somebody types, and a touched part is typed in."""

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from sessions.demo.factories import DeviceFactory
from sessions.demo.factories.times import today
from sessions.models import OwnWay
from studio.actions.devices import COOKIE
from studio.models import StaffSession
from tests.browser.conftest import LANDSCAPE
from tests.sessions.recorded import make_session
from tests.studio.lock_steps import PIN, give_pin

pytestmark = pytest.mark.browser


@pytest.fixture
def own_way(demo_house):
    """What works for a client in an exercise with sides, on a tablet, in the demo."""
    kept = OwnWay.objects.filter(exercise__key="mat_bird_dog", limit__has_key="left").first()
    page = demo_house.page_of("instructor", has_touch=True, viewport=LANDSCAPE)
    page.goto(
        f"{demo_house.address}/clients/{kept.client.public_id}/exercises/{kept.exercise.public_id}/own-way/"
    )
    page.kept = kept
    return page


def drawn(page) -> list[str]:
    """Return the drawings of the picture, left and right."""
    return [figure.inner_html() for figure in page.locator("#limit-picture figure").all()]


def test_the_picture_follows_the_number_and_only_its_side(own_way):
    left, right = drawn(own_way)
    own_way.get_by_label("Left, how far").fill("20")
    expect(own_way.locator("#limit-picture")).to_contain_text("20 % of the way")
    now_left, now_right = drawn(own_way)
    assert now_left != left and now_right == right
    expect(own_way.get_by_label("Left, how far")).to_be_focused()
    assert OwnWay.objects.get(pk=own_way.kept.pk).limit == own_way.kept.limit


def test_enter_shows_and_keeps_nothing(own_way):
    field = own_way.get_by_label("Left, how far")
    field.fill("35")
    field.press("Enter")
    expect(own_way.locator("#limit-picture")).to_contain_text("35 % of the way")
    expect(own_way.get_by_label("Left, how far")).to_have_value("35")
    assert OwnWay.objects.get(pk=own_way.kept.pk).limit == own_way.kept.limit


def test_a_touched_part_is_typed_in_and_kept_with_one_touch_more(own_way):
    own_way.get_by_role("button", name="Right: A quarter").tap()
    expect(own_way.get_by_label("Right, how far")).to_have_value("25")
    expect(own_way.locator("#limit-picture")).to_contain_text("Not kept yet.")
    own_way.get_by_role("button", name="Keep how far it goes").tap()
    expect(own_way.locator("#limit-picture")).not_to_contain_text("Not kept yet.")
    limit = OwnWay.objects.get(pk=own_way.kept.pk).limit
    assert limit["right"] == {"by": "share", "value": 25} and limit["left"] == own_way.kept.limit["left"]


def test_what_is_wrong_is_said_under_the_picture_while_the_number_stays(own_way):
    own_way.get_by_label("Left, how far").fill("0")
    expect(own_way.locator("#limit-picture .ferr")).to_contain_text("1 to 100 per cent")
    expect(own_way.get_by_label("Left, how far")).to_have_value("0")


class TestFromTheFloor:
    """Set in the place of the recording screen; what was typed there is neither lost on the way nor under the lock."""

    NOTE = "Slow, and long on the way back."

    @pytest.fixture
    def floor(self, open_tablet, instructor):
        """An enrolled tablet at a row with both sides, where something is typed; `held` is the session."""
        give_pin(instructor)
        DeviceFactory(token="a-tablet")
        tablet = open_tablet()
        tablet.held = make_session(instructor, wall_day=today())
        tablet.context.add_cookies([{"name": COOKIE, "value": "a-tablet", "url": tablet.address}])
        tablet.sign_in("maris")
        record = reverse("sessions:record", args=[tablet.held.attendance.public_id])
        tablet.go(f"{record}?item={tablet.held.scooter.public_id}")
        tablet.page.get_by_role("button", name="One fewer, Reps, left").tap()
        tablet.page.locator("summary", has_text="Range, note, settings").tap()
        tablet.page.locator("[name=note]").fill(self.NOTE)
        return tablet

    def is_back(self, page, reps: str) -> None:
        expect(page.locator(".fl-foot")).to_be_visible()
        expect(page.locator("[name=reps_left]")).to_have_value(reps)
        expect(page.locator("[name=note]")).to_have_value(self.NOTE)

    def test_it_opens_in_place_and_leads_back_to_the_row_as_it_was_typed(self, floor):
        page, reps = floor.page, floor.page.locator("[name=reps_left]").input_value()
        name = page.locator(".core h1").inner_text()
        page.get_by_role("button", name="Set how far it goes").tap()
        expect(page.locator(".limit-form")).to_be_visible()
        assert len(floor.context.pages) == 1
        page.get_by_role("button", name="Back").tap()
        self.is_back(page, reps)
        page.get_by_role("button", name="Set how far it goes").tap()
        page.get_by_role("button", name="Left: Half way").tap()
        expect(page.get_by_label("Left, how far")).to_have_value("50")
        page.get_by_role("button", name="Keep how far it goes").tap()
        expect(page.locator(".core h1")).to_have_text(name)
        self.is_back(page, reps)
        expect(page.locator(".pic.l .far")).to_have_text("half way")
        assert OwnWay.objects.get().limit == {"left": {"by": "share", "value": 50}}
        # Now that there is one, it is shown first and changed from there.
        page.get_by_role("button", name="How far it goes").tap()
        page.get_by_role("button", name="Change it").tap()
        expect(page.get_by_label("Left, how far")).to_have_value("50")

    @pytest.mark.parametrize("back", [False, True], ids=["while it is open", "once it led back"])
    def test_what_was_typed_comes_back_after_the_lock(self, floor, back):
        page, reps = floor.page, floor.page.locator("[name=reps_left]").input_value()
        page.get_by_role("button", name="Set how far it goes").tap()
        expect(page.locator(".limit-form")).to_be_visible()
        if back:
            page.get_by_role("button", name="Back").tap()
            self.is_back(page, reps)
        row = StaffSession.objects.running().get()
        row.seen_at = row.seen_at.replace(year=row.seen_at.year - 1)
        row.save()
        page.wait_for_url("**/lock/**")
        assert self.NOTE not in page.content()
        for digit in PIN:
            page.locator(f"[data-key='{digit}']").tap()
        expect(page.get_by_role("heading", level=1, name="What you had typed")).to_be_visible()
        kept = page.locator("dl.facts")
        expect(kept).to_contain_text(self.NOTE)
        expect(kept.locator("div", has_text="Reps")).to_contain_text([reps])
        page.get_by_role("link", name="Open the page").tap()
        expect(page.locator(".core h1")).to_have_text(floor.held.scooter.content.name)
