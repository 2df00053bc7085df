"""What was typed when the screen locked comes back, and only to who typed it (LCK-6, LCK-7).

Common practice, no source: a lock must not cost work.
"""

import pytest
from django.urls import reverse

from studio import clock
from studio.actions import kept
from studio.models import AuditEntry, KeptText
from tests.studio.lock_steps import OTHER_PIN, juniper, lock_now, maris, minutes, sign_in, tablet, unlock

__all__ = ["juniper", "maris", "tablet"]
pytestmark = pytest.mark.django_db
WORDS = "Left hip felt stiff after the long drive"
PAGE = "/clients/somebody/goals/"


def leaves(browser, text=WORDS, path=PAGE):
    """The page sends what was typed as it goes to the lock."""
    body = {"path": path, "name": ["One line for next time"], "text": [text]}
    return browser.post(reverse("studio:lock_keep"), body)


def shown(browser) -> str:
    return browser.get(reverse("studio:kept")).content.decode()


def test_lck_7_the_text_is_back_after_the_pin(tablet, maris):
    with clock.at(minutes(6)):
        answer = leaves(tablet)
        assert (answer.status_code, answer.content) == (204, b"")
        assert unlock(tablet, maris, next=reverse("studio:help")).url == reverse("studio:kept")
        page = shown(tablet)
    assert WORDS in page and "One line for next time" in page and f'href="{PAGE}"' in page


def test_lck_7_the_text_is_back_after_the_passphrase(tablet, maris):
    with clock.at(minutes(6)):
        leaves(tablet)
        assert sign_in(tablet).url == reverse("studio:kept")
        assert WORDS in shown(tablet)


def test_lck_7_a_form_sent_to_a_locked_screen_keeps_its_words_and_nothing_else(tablet, maris):
    form = {"words": WORDS, "version": "1 2", "again_passphrase": "four plain words", "state": "done"}
    with clock.at(minutes(6)):
        tablet.post(reverse("clients:new"), form)
    assert [row.fields for row in KeptText.objects.all()] == [[["Words", WORDS]]]


def test_lck_6_the_next_person_does_not_see_it_and_the_first_one_does(tablet, maris, juniper):
    with clock.at(minutes(1)):
        sign_in(tablet, "juniper")
        lock_now(tablet)
        leaves(tablet)
        assert unlock(tablet, maris).url == reverse("sessions:today")
        assert WORDS not in shown(tablet)
        row = KeptText.objects.get()
        tablet.post(reverse("studio:kept_away"), {"text": row.public_id})
        lock_now(tablet)
        unlock(tablet, juniper, OTHER_PIN)
        assert WORDS in shown(tablet)


def test_the_lock_itself_never_shows_it(tablet):
    with clock.at(minutes(6)):
        leaves(tablet)
        for name in ("studio:lock", "studio:sign_in"):
            assert WORDS not in tablet.get(reverse(name)).content.decode()


def test_it_is_shown_once_of_itself_and_found_on_the_own_page_afterwards(tablet, maris):
    with clock.at(minutes(6)):
        leaves(tablet)
        unlock(tablet, maris)
        shown(tablet)
        lock_now(tablet)
        assert unlock(tablet, maris, next=reverse("studio:help")).url == reverse("studio:help")
        assert reverse("studio:kept") in tablet.get(reverse("studio:mine")).content.decode()
        assert WORDS in shown(tablet)


def test_nobody_keeps_nothing(as_nobody):
    assert leaves(as_nobody).status_code == 204
    assert not KeptText.objects.exists()


def test_what_is_thrown_away_is_gone(tablet, maris):
    with clock.at(minutes(6)):
        leaves(tablet)
        unlock(tablet, maris)
        row = KeptText.objects.get()
        answer = tablet.post(reverse("studio:kept_away"), {"text": row.public_id})
    assert answer.url == reverse("sessions:today")
    assert not KeptText.objects.exists()


@pytest.mark.parametrize("path", ["//evil.example", "https://evil.example/", "javascript:alert(1)"])
def test_it_leads_nowhere_else(tablet, maris, path):
    with clock.at(minutes(6)):
        leaves(tablet, path=path)
        unlock(tablet, maris)
        page = shown(tablet)
    assert "evil.example" not in page and "javascript:" not in page and WORDS in page


@pytest.mark.parametrize("text", ["", "   "])
def test_empty_fields_keep_nothing(tablet, text):
    with clock.at(minutes(6)):
        leaves(tablet, text)
    assert not KeptText.objects.exists()


def test_a_week_later_it_is_gone(tablet, maris, juniper):
    with clock.at(minutes(6)):
        leaves(tablet)
    with clock.at(minutes(6) + kept.KEPT_FOR * 1.1):
        sign_in(tablet, "juniper")
        leaves(tablet, "Another text")
    assert [row.person for row in KeptText.objects.all()] == [juniper]


def test_it_is_written_down_without_its_words(tablet):
    with clock.at(minutes(6)):
        leaves(tablet)
    entry = AuditEntry.objects.get(action="text.kept")
    assert WORDS not in str([entry.fields, entry.thing_id])
