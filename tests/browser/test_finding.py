"""Finding an exercise with one thumb, with the keyboard alone, and without a script.

Sizes of targets: WCAG 2.2, 2.5.5 asks for 44 px, the house for 48. Where a thumb reaches on a tall tablet is common
practice, no source: the lower half of the window.
"""

import re

import pytest
from playwright.sync_api import expect

from library.actions.loading import load_library
from sessions.demo import factories as f

pytestmark = pytest.mark.browser

PORTRAIT = {"width": 820, "height": 1180}
LEAST = 48


@pytest.fixture
def scene(transactional_db, now):
    """Ottoline with osteoporosis and a plan for today, in a studio with the whole library."""
    load_library()
    f.StudioFactory()
    person = f.StaffFactory(instructor=True)
    client = f.ClientFactory(full_name="Ottoline Brackwater", call_name="Ottoline")
    f.FlagFactory(client=client, condition="osteoporosis")
    attendance = f.BookingFactory(clients=[client], instructor=person).attendances.get()
    f.PlanFactory(attendance=attendance, exercises=["mat_clam"])
    return person, client, attendance


def opened(open_tablet, person, **options):
    tablet = open_tablet(**options)
    tablet.sign_in(person.sign_in_name)
    return tablet


def first_name(page):
    return page.locator("#found .exrow b, #found .lib-card b").first


def under_the_thumb(page, *controls):
    """Check that each control lies in the lower half of the window, whole, and is large enough."""
    height = page.viewport_size["height"]
    for control in controls:
        box = control.bounding_box()
        assert box["y"] >= height / 2 and box["y"] + box["height"] <= height, box
        assert box["height"] >= LEAST and box["width"] >= LEAST, box


def test_with_one_thumb_on_a_tall_tablet(open_tablet, scene):
    person, client, _attendance = scene
    tablet = opened(open_tablet, person, viewport=PORTRAIT)
    page = tablet.page
    tablet.go(f"/clients/{client.public_id}/find/")
    box, narrow = page.locator("#find-words"), page.locator(".finder-more > summary")
    under_the_thumb(page, box, narrow)
    box.tap()
    box.press_sequentially("rolup", delay=20)
    expect(first_name(page)).to_have_text("Roll-up")
    expect(page).to_have_url(re.compile(r"/find/\?words=rolup$"))
    expect(page.locator("#found .why-link").first).to_contain_text("Avoid")

    # The reasons, one touch away.
    page.locator("#found .why-link").first.tap()
    expect(page.locator("#found .reasons[open]").first).to_contain_text("Osteoporosis")

    # Filters open above the bar; choosing one leaves the bar where it was.
    page.locator("#find-words").tap()
    narrow.tap()
    fields = page.locator(".finder-fields select").all()
    assert fields
    for field in fields:
        assert field.bounding_box()["height"] >= LEAST
        assert field.bounding_box()["y"] + field.bounding_box()["height"] <= box.bounding_box()["y"]
    page.locator("#find-list").select_option("short")
    expect(page).to_have_url(re.compile(r"words=rolup&list=short$"))
    expect(page.locator("#found .flag-avoid")).to_have_count(0)
    under_the_thumb(page, box, narrow)

    # A chip takes the filter off again.
    page.locator("h1").tap()
    page.locator(".found-chip").tap()
    expect(page).to_have_url(re.compile(r"/find/\?words=rolup$"))
    expect(first_name(page)).to_have_text("Roll-up")
    for link in page.locator("#found a.exrow, #found .why-link, .found-head a").all()[:12]:
        assert link.bounding_box()["height"] >= LEAST


def test_the_plans_picker_with_one_thumb(open_tablet, scene):
    person, _client, attendance = scene
    tablet = opened(open_tablet, person, viewport=PORTRAIT)
    page = tablet.page
    tablet.go(f"/attendances/{attendance.public_id}/plan/add/")
    under_the_thumb(page, page.locator("#plan-words"), page.locator(".finder-more > summary"))
    page.locator("#plan-words").press_sequentially("plnak", delay=20)
    expect(page).to_have_url(re.compile(r"/plan/add/\?words=plnak$"))
    page.locator(".pickrow", has_text="Plank").first.tap()
    expect(page.locator(".list .exrow", has_text="Plank")).to_be_visible()
    expect(page.locator("#plan-words")).to_have_value("plnak")


def test_typing_on_leaves_the_older_question_behind(open_tablet, scene):
    person, client, _attendance = scene
    tablet = opened(open_tablet, person)
    page = tablet.page
    tablet.go(f"/clients/{client.public_id}/find/")
    asked = []
    page.on("request", lambda request: asked.append(request.url) if "words=" in request.url else None)
    page.locator("#find-words").press_sequentially("teaser", delay=15)
    expect(first_name(page)).to_have_text("Teaser")
    assert 1 <= len(asked) < len("teaser")


def test_with_the_keyboard_alone(open_tablet, scene):
    person, _client, _attendance = scene
    tablet = opened(open_tablet, person)
    page = tablet.page
    tablet.go("/library/")
    page.locator("#find-words").focus()
    page.keyboard.type("mermiad")
    expect(first_name(page)).to_have_text("Mermaid, seated")
    page.keyboard.press("ArrowDown")
    expect(page.locator("#found .lib-card").first).to_be_focused()
    page.keyboard.press("ArrowDown")
    expect(page.locator("#found .lib-card").nth(1)).to_be_focused()
    page.keyboard.press("ArrowUp")
    page.keyboard.press("ArrowUp")
    expect(page.locator("#find-words")).to_be_focused()

    # Tab: words, filters, then what was found.
    page.keyboard.press("Tab")
    expect(page.locator(".finder-more > summary")).to_be_focused()
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    expect(page.locator("#find-apparatus")).to_be_focused()
    page.keyboard.press("ArrowDown")
    expect(page).to_have_url(re.compile("apparatus=mat"))
    page.keyboard.press("Escape")
    expect(page.locator(".finder-more > summary")).to_be_focused()
    expect(page.locator(".finder-fields")).to_be_hidden()

    # Escape clears the words, and stays at them.
    page.keyboard.press("Escape")
    expect(page.locator("#find-words")).to_have_value("")
    expect(page.locator("#find-words")).to_be_focused()
    expect(page).to_have_url(re.compile(r"/library/\?apparatus=mat$"))
    page.keyboard.type("teaser")
    page.keyboard.press("Enter")
    expect(first_name(page)).to_have_text("Teaser")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Teaser")


def test_without_a_script(open_tablet, scene):
    person, client, _attendance = scene
    tablet = opened(open_tablet, person, script=False, viewport=PORTRAIT)
    page = tablet.page
    tablet.go(f"/clients/{client.public_id}/find/")
    page.locator("#find-words").fill("roll-up")
    page.locator(".finder-bar > button").tap()
    expect(first_name(page)).to_have_text("Roll-up")
    page.locator("#found .why-link").first.tap()
    expect(page.locator("#found .reasons[open]")).to_contain_text("Osteoporosis")
    page.locator(".finder-more > summary").tap()
    page.locator("#find-list").select_option("short")
    page.locator(".finder-fields button").tap()
    expect(page).to_have_url(re.compile(r"list=short"))
    expect(page.locator("#found .flag-avoid")).to_have_count(0)
    page.locator("#find-words").fill("teaser plank")
    page.locator(".finder-bar > button").tap()
    page.locator(".found-ways a").first.tap()
    expect(page.locator("#found .exrow").first).to_be_visible()


def test_add_where_the_finder_is_open_leads_to_its_words_and_loses_none(open_tablet, scene):
    person, _client, attendance = scene
    tablet = opened(open_tablet, person)
    tablet.go(f"/attendances/{attendance.public_id}/plan/")
    page = tablet.page
    add, words = page.locator("#plan-add"), page.locator("#plan-words")
    add.tap()
    words.fill("pelvic")
    asked = []
    page.on(
        "request", lambda request: asked.append(request.url) if request.url.endswith("/plan/add/") else None
    )
    add.tap()
    expect(words).to_be_focused()
    expect(words).to_have_value("pelvic")
    expect(page.locator("#plan-found .pickrow").first).to_contain_text("Pelvic")
    assert asked == []
