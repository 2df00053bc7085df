"""Asking for the passphrase again (AZ-7).

Source: OWASP verification standard 5.0, 7.5.3. Five minutes: common practice, no source.
"""

import datetime as dt

import pytest
from django.urls import reverse

from sessions.demo.factories import PASSPHRASE, StudioRuleFactory, TableReviewFactory
from studio import clock
from studio.models import AuditEntry, SignInTry, Staff
from tests.test_access import ADDRESSES

pytestmark = pytest.mark.django_db

DOV = {
    "full_name": "Dov Marrowby",
    "call_name": "Dov",
    "sign_in_name": "dov",
    "is_instructor": "on",
}


# What the matrix marks with a star and this house has a page for: staff and roles, and settings that matter.
STARRED = {
    "studio:settings",
    "studio:text",
    "studio:staff_new",
    "studio:staff",
    "studio:staff_code",
    "studio:recovery_code",
    # The rule table is a setting that matters: verdicts rest on it.
    "library:rule_new",
    "library:rule_end",
    "library:review_new",
    "library:review_withdraw",
}


def test_every_starred_address_asks_for_each_post():
    asking = {
        name for name, address in ADDRESSES.items() if "POST" in getattr(address.view, "asks_again", ())
    }
    assert asking >= STARRED


@pytest.fixture
def later(now, owner, as_owner):
    """The owner signed in, six minutes ago."""
    with clock.at(now + dt.timedelta(minutes=6)):
        yield as_owner


def post(browser, **more):
    return browser.post(reverse("studio:staff_new"), {**DOV, **more})


@pytest.mark.parametrize(("minutes", "asked"), [(0, False), (5, False), (5.1, True), (60, True), (-1, True)])
def test_asked_when_the_passphrase_was_typed_more_than_five_minutes_ago(now, as_owner, minutes, asked):
    with clock.at(now + dt.timedelta(minutes=minutes)):
        answer = post(as_owner)
    assert (answer.status_code == 403) is asked
    assert Staff.objects.filter(sign_in_name="dov").exists() is not asked


def test_a_session_that_never_saw_a_passphrase_is_asked(now, as_owner):
    session = as_owner.session
    del session["full_sign_in_at"]
    session.save()
    assert post(as_owner).status_code == 403


@pytest.mark.parametrize("name", sorted(STARRED))
def test_posting_straight_to_a_starred_address_is_refused(name, later, desk):
    parts = {
        "person": desk.public_id,
        "kind": "consent",
        "rule": StudioRuleFactory().public_id,
        "review": TableReviewFactory().public_id,
    }
    address = ADDRESSES[name]
    answer = later.post(reverse(name, kwargs={part: parts[part] for part in address.parts}))
    assert answer.status_code == 403 and "Your passphrase, once more" in answer.content.decode()


def test_what_was_typed_comes_along(later):
    page = post(later).content.decode()
    for name, value in DOV.items():
        assert f'name="{name}" value="{value}"' in page
    assert post(later, again_passphrase=PASSPHRASE).status_code != 403
    assert Staff.objects.filter(sign_in_name="dov").exists()


def test_a_wrong_passphrase_is_refused_counted_and_asked_for_again(later):
    answer = post(later, again_passphrase="wrong wrong wrong wrong")
    assert answer.status_code == 422
    assert "That is not your passphrase" in answer.content.decode()
    assert 'value="Dov Marrowby"' in answer.content.decode()
    assert not Staff.objects.filter(sign_in_name="dov").exists()
    assert SignInTry.objects.get(key__startswith="account:").failures == 1
    assert AuditEntry.objects.filter(action="access.confirm_failed", outcome="refused").count() == 1


def test_trying_many_waits_as_at_sign_in(later):
    for _ in range(4):
        post(later, again_passphrase="wrong wrong wrong wrong")
    answer = post(later, again_passphrase=PASSPHRASE)
    assert answer.status_code == 422 and "Wait 1 second" in answer.content.decode()


def test_it_holds_for_five_minutes_and_is_written_down(later):
    post(later, again_passphrase=PASSPHRASE)
    assert post(later, sign_in_name="dov2").status_code != 403
    assert AuditEntry.objects.filter(action="access.confirmed").count() == 1


def test_a_part_of_a_page_gets_the_whole_page(later):
    answer = later.post(reverse("studio:staff_new"), DOV, headers={"HX-Request": "true"})
    assert (answer.status_code, answer.headers["HX-Retarget"]) == (422, "body")


def test_the_page_leads_on_and_nowhere_else(later):
    url = reverse("studio:again")
    assert later.get(url).status_code == 200
    wrong = later.post(url, {"again_passphrase": "wrong wrong wrong wrong", "next": "/help/"})
    assert wrong.status_code == 422
    right = {"again_passphrase": PASSPHRASE}
    assert later.post(url, {**right, "next": "/help/"}).url == "/help/"
    assert later.post(url, {**right, "next": "//evil.example/"}).url == "/"
