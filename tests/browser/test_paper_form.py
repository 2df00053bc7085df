"""The paper form and the flags it suggests, by touch, with and without script."""

import pytest
from playwright.sync_api import expect

from clients.models import Flag, Submission
from sessions.demo.factories import ClientFactory, FlagFactory

pytestmark = pytest.mark.browser

CONDITION = "Frozen shoulder (adhesive capsulitis)"


@pytest.fixture
def client(now, house):
    return ClientFactory(full_name="Zoë Lanternby")


def answer(page, group, word):
    page.locator(f"#q-{group} label.opt-{word}").tap()


def fill_in(page):
    """Answer every group, tick one condition with its side, and leave words that nobody may see again."""
    page.get_by_label("Name, birth date, telephone").check()
    for group in page.locator("fieldset.q").all():
        group.locator("label.opt-no").tap()
    listed = page.locator("#q-shoulder_arm .conds")
    expect(listed).to_be_hidden()
    answer(page, "shoulder_arm", "yes")
    expect(listed).to_be_visible()
    sides = page.get_by_role("radiogroup", name="Which side").locator("visible=true")
    expect(sides).to_have_count(0)
    page.get_by_label(CONDITION).check()
    expect(sides).to_have_count(1)
    sides.get_by_label("Left").tap()
    page.get_by_label("Anything else we should know").fill("xylograph")


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_desk_types_it_once_and_cannot_go_back_to_it(open_tablet, desk, client, script):
    tablet = open_tablet(script=script)
    page = tablet.page
    tablet.sign_in("juniper")
    tablet.go(f"/clients/{client.public_id}/intake/")
    fill_in(page)
    page.get_by_role("button", name="Save the form").tap()
    expect(page.get_by_text("Saved. An instructor reads it next.")).to_be_visible()
    flag = Flag.objects.with_state().get()
    assert (flag.condition, flag.side, flag.state) == ("frozen_shoulder", "left", "proposed")
    page.go_back()
    expect(page.get_by_text("A form is on file.")).to_be_visible()
    assert "xylograph" not in page.content()
    assert page.locator("textarea").count() == 0
    assert Submission.objects.count() == 1


def test_what_is_missing_is_shown_where_it_is_missing(open_tablet, desk, client):
    tablet = open_tablet()
    page = tablet.page
    tablet.sign_in("juniper")
    tablet.go(f"/clients/{client.public_id}/intake/")
    answer(page, "shoulder_arm", "yes")
    page.get_by_label(CONDITION).check()
    page.get_by_role("button", name="Save the form").tap()
    expect(page.get_by_text("Nothing is saved yet.")).to_be_visible()
    expect(page.get_by_text("Left, right, both, or not known?")).to_be_visible()
    page.get_by_role("link", name="Shoulder, arm and hand").tap()
    assert page.url.endswith("#q-shoulder_arm")


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_flags_are_settled_one_by_one(open_tablet, instructor, client, script):
    sure = FlagFactory(client=client, condition="frozen_shoulder", side="left", state="proposed")
    other = FlagFactory(client=client, condition="migraine", state="proposed")
    tablet = open_tablet(script=script)
    page = tablet.page
    tablet.sign_in("maris")
    tablet.go(f"/clients/{client.public_id}/flags/")
    page.locator(f"#f-{sure.public_id}").get_by_role("button", name="Confirm as it is").tap()
    expect(page.get_by_text("The flag counts from now on.")).to_be_visible()
    expect(page.locator(f"article#f-{sure.public_id}")).to_be_visible()
    card = page.locator(f"#f-{other.public_id}")
    card.locator("summary", has_text="Not a flag").tap()
    card.get_by_role("button", name="Not a flag").tap()
    expect(card.get_by_text("Say why, in a few words.")).to_be_visible()
    card.get_by_label("Why is it none?").fill("Meant her sister")
    card.get_by_role("button", name="Not a flag").tap()
    expect(page.get_by_text("The flag has ended.")).to_be_visible()
    states = {flag.condition: flag.state for flag in Flag.objects.with_state()}
    assert states == {"frozen_shoulder": "active", "migraine": "ended"}


def test_search_finds_while_typing_and_by_its_button(open_tablet, instructor, client):
    ClientFactory(full_name="Bashir Windrow")
    tablet = open_tablet()
    tablet.sign_in("maris")
    tablet.go("/clients/")
    tablet.page.get_by_role("searchbox").fill("zoe")
    expect(tablet.page.get_by_text("Bashir Windrow")).to_have_count(0)
    expect(tablet.page.get_by_text("Zoë Lanternby")).to_be_visible()
    assert tablet.page.url.endswith("/clients/")
    plain = open_tablet(script=False)
    plain.sign_in("maris")
    plain.go("/clients/")
    plain.page.get_by_role("searchbox").fill("ZOË")
    plain.page.get_by_role("button", name="Find").tap()
    expect(plain.page.get_by_role("heading", name="Zoë Lanternby")).to_be_visible()


def test_condition_shows_what_it_needs_to_know(open_tablet, instructor, client):
    tablet = open_tablet()
    page = tablet.page
    tablet.sign_in("maris")
    tablet.go(f"/clients/{client.public_id}/flags/condition/")
    page.get_by_label("Condition").select_option("pregnancy")
    page.get_by_label("Not known", exact=True).tap()
    page.get_by_role("button", name="Save").tap()
    expect(page.get_by_text("due date not known")).to_be_visible()
