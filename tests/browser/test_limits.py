"""How far a client goes: the picture follows the number while somebody types, and a touched part is typed in."""

import pytest
from playwright.sync_api import expect

from sessions.models import OwnWay
from tests.browser.conftest import LANDSCAPE

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
