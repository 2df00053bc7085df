"""Drawing an own hip lift: the picture follows the numbers, what is in the way is named, contacts come and go."""

import re

import pytest
from playwright.sync_api import expect

from library.actions import own as actions
from library.models import Exercise, ExerciseDraft
from studio.actions.audit import Actor
from studio.models import Staff
from tests.browser.conftest import LANDSCAPE

pytestmark = pytest.mark.browser
VIEW = "#figure-view"


@pytest.fixture
def draft(demo_house):
    """A new exercise like the pelvic curl, with nothing drawn of its own yet."""
    person = Staff.objects.filter(is_instructor=True).first()
    like = Exercise.objects.with_content().get(key="mat_pelvic_curl")
    return actions.begin(actor=Actor(person=person), like=like)


def opened(demo_house, draft, **options):
    page = demo_house.page_of("instructor", viewport=LANDSCAPE, **options)
    page.goto(f"{demo_house.address}/library/own/drafts/{draft.public_id}/figure/")
    return page


def number(page, name):
    return page.locator(f'input[name="{name}"]')


def drawings(page) -> list[str]:
    return [figure.inner_html() for figure in page.locator(f"{VIEW} .fig").all()]


def test_the_picture_follows_the_number_and_the_words_do_too(demo_house, draft):
    page = opened(demo_house, draft, has_touch=True)
    start, end = drawings(page)
    expect(page.locator(VIEW)).to_contain_text("Pelvis lifted")
    number(page, "start-both-shoulder").fill("90")
    expect(page.locator(VIEW)).to_contain_text("both arms to the ceiling")
    now_start, now_end = drawings(page)
    assert now_start != start and "Not written yet." in page.locator(VIEW).inner_text()
    expect(number(page, "start-both-shoulder")).to_be_focused()
    assert ExerciseDraft.objects.get(pk=draft.pk).version == draft.version


def test_what_is_in_the_way_is_named_taken_out_and_the_figure_written(demo_house, draft):
    page = opened(demo_house, draft)
    number(page, "end-both-shoulder").fill("90")
    page.locator('input[name="end-both-shoulder-f"]').uncheck()
    expect(page.locator(VIEW)).to_contain_text("It can be drawn without one of these")
    palms = page.locator(".fig-contact", has=page.locator('select[name="end-t2-point"]'))
    expect(palms.locator(".fig-says")).to_contain_text("without this it can be drawn")
    palms.get_by_role("button", name=re.compile("Take out")).click()
    expect(page.locator(VIEW)).to_contain_text("both arms forward")
    expect(number(page, "end-both-shoulder")).to_have_value("90")
    page.get_by_role("button", name="Write and go on").click()
    page.wait_for_url(re.compile("/around/$"))
    pose = ExerciseDraft.objects.get(pk=draft.pk).payload["pose"]
    assert len(pose["end"]["touch"]) == 4 and pose["end"]["solved"]["r.shoulder"] == 90


def test_the_apparatus_is_changed_in_numbers_and_an_end_out_of_reach_is_marked(demo_house):
    person = Staff.objects.filter(is_instructor=True).first()
    like = Exercise.objects.with_content().get(key="ref_foot_heels")
    page = opened(demo_house, actions.begin(actor=Actor(person=person), like=like))
    start, _end = drawings(page)
    height = page.get_by_label("Foot bar: Height, cm")
    usual = height.input_value()
    height.fill(f"{float(usual) + 4:g}")
    expect(page.locator(VIEW)).to_contain_text("Not written yet.")
    assert drawings(page)[0] != start
    page.get_by_label("Foot bar: Along, cm").fill("60")
    expect(page.locator(f"{VIEW} figure.unmet")).to_contain_text("not met, as near as it comes")
    expect(page.locator("#says-scene-bar")).to_contain_text("away from where it should touch")
    expect(page.get_by_label("Foot bar: Along, cm")).to_be_focused()
    page.get_by_label("Foot bar: Along, cm").fill("0")
    expect(page.locator(f"{VIEW} figure.unmet")).to_have_count(0)
    on = page.locator("#contacts select[name='start-t0-on'] option[value=box]")
    expect(on).to_have_count(0)
    page.locator("select[name=scene-box]").select_option("long")
    expect(on).to_have_count(1)
    expect(page.locator("#says-scene-box")).to_contain_text("inside the box")


def test_without_script_the_button_shows_it_and_nothing_typed_is_lost(demo_house, draft):
    page = opened(demo_house, draft, java_script_enabled=False)
    number(page, "start-both-shoulder").fill("90")
    number(page, "end-body-nod").fill("999")
    page.get_by_role("button", name="Show").click()
    expect(page.locator("#says-body-nod")).to_contain_text("End: Type degrees from -360 to 360.")
    expect(number(page, "start-both-shoulder")).to_have_value("90")
    expect(number(page, "end-body-nod")).to_have_value("999")
    number(page, "end-body-nod").fill("28")
    page.get_by_role("button", name="Show").click()
    expect(page.locator(VIEW)).to_contain_text("both arms to the ceiling")
