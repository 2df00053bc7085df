"""The way back by PIN, wrong tries, and switching between people (LCK-4 to 6; SES-2, SES-3).

Sources: OWASP verification standard 5.0, 7.2.1 to 7.2.4, 7.3.1, 7.3.2, 7.4.1, 7.4.2, 7.4.5, 14.3.1; NIST
SP 800-63B-4, 2.2.3 (a lighter way back while the overall limit runs), 3.2.10 (at most 10 wrong tries). Five and
fifteen minutes, twelve hours and five tries are the studio's own choice: common practice, no source.
"""

from threading import Thread

import pytest
from django.db import connection
from django.urls import reverse

from sessions.demo import factories as f
from studio import clock, locking
from studio.models import AuditEntry, Presence, Staff
from tests.studio.lock_steps import (
    OTHER_PIN,
    PIN,
    START,
    WRONG,
    device_browser,
    give_pin,
    juniper,
    key_of,
    lock_now,
    maris,
    minutes,
    opens,
    replay,
    running,
    sign_in,
    tablet,
    unlock,
)

__all__ = ["juniper", "maris", "tablet"]
pytestmark = pytest.mark.django_db


class TestComingBack:
    def test_six_digits_open_the_page_that_was_asked_for(self, tablet, maris):
        with clock.at(minutes(30)):
            asked = tablet.get(reverse("studio:help")).url
            page = tablet.get(asked).content.decode()
            assert f'name="next" value="{reverse("studio:help")}"' in page
            answer = unlock(tablet, maris, next=reverse("studio:help"))
            assert (answer.status_code, answer.url) == (302, reverse("studio:help"))
            assert opens(tablet)

    @pytest.mark.parametrize("elsewhere", ["//evil.example", "https://evil.example/", "javascript:alert(1)"])
    def test_and_nowhere_else(self, tablet, maris, elsewhere):
        with clock.at(minutes(30)):
            assert unlock(tablet, maris, next=elsewhere).url == reverse("sessions:today")

    def test_a_wrong_pin_says_how_many_tries_are_left(self, tablet, maris):
        with clock.at(minutes(30)):
            answer = unlock(tablet, maris, WRONG)
        assert answer.status_code == 422
        assert "4 tries are left" in answer.content.decode()
        assert WRONG not in answer.content.decode()

    def test_lck_5_not_from_another_browser(self, tablet, maris):
        from django.test import Client as Browser

        other = device_browser("another-tablet")
        with clock.at(minutes(1)):
            for browser in (Browser(), other):
                assert unlock(browser, maris).status_code == 422
                assert not opens(browser)

    def test_lck_5_not_on_a_device_that_was_taken_out(self, tablet, maris, as_owner):
        device = Presence.objects.get().device
        with clock.at(minutes(1)):
            as_owner.post(reverse("studio:device_revoke", args=[device.public_id]))
            assert unlock(tablet, maris).status_code == 422
            assert not opens(tablet)

    def test_lck_5_not_for_somebody_who_never_signed_in_there(self, tablet, juniper):
        with clock.at(minutes(1)):
            lock_now(tablet)
            assert "Juniper" not in tablet.get(reverse("studio:lock")).content.decode()
            assert unlock(tablet, juniper, OTHER_PIN).status_code == 422

    def test_lck_5_the_pin_is_not_the_passphrase(self, tablet, owner):
        """Where the passphrase is asked again a PIN is refused, and a PIN does not count as having typed it."""
        give_pin(owner, OTHER_PIN)
        with clock.at(START):
            sign_in(tablet, "linnet")
            lock_now(tablet)
            unlock(tablet, owner, OTHER_PIN)
            asked = tablet.post(reverse("studio:staff_new"), {"full_name": "Averil Tamsinwood"})
            assert asked.status_code == 403
            again = tablet.post(reverse("studio:again"), {"again_passphrase": OTHER_PIN})
        assert again.status_code == 422

    def test_where_nobody_has_a_pin_the_passphrase_is_asked(self, desk):
        browser = device_browser()
        with clock.at(START):
            sign_in(browser, "juniper")
        with clock.at(minutes(6)):
            asked = browser.get(reverse("studio:help"))
            assert browser.get(asked.url).url == f"{reverse('studio:sign_in')}?next={reverse('studio:help')}"
            sign_in(browser, "juniper")
            assert opens(browser)
        assert running(desk).count() == 1


class TestWrongTries:
    """LCK-4: five for one person on one device, ten for one person in all, whatever is done in between."""

    def test_lck_4_five_wrong_ones_then_the_right_one_is_refused(self, tablet, maris):
        with clock.at(minutes(30)):
            for _ in range(5):
                unlock(tablet, maris, WRONG)
            answer = unlock(tablet, maris)
            assert answer.status_code == 422 and not opens(tablet)
            sign_in(tablet)
            lock_now(tablet)
            assert unlock(tablet, maris).status_code == 302

    def test_lck_4_four_wrong_ones_then_the_right_one_and_the_count_begins_anew(self, tablet, maris):
        with clock.at(minutes(30)):
            for _ in range(2):
                for _ in range(4):
                    unlock(tablet, maris, WRONG)
                assert unlock(tablet, maris).status_code == 302
                lock_now(tablet)

    def test_lck_4_ten_in_all_put_it_off_everywhere(self, tablet, maris):
        second, third = device_browser("second"), device_browser("third")
        with clock.at(START):
            for browser in (second, third):
                sign_in(browser)
                lock_now(browser)
            for browser in (tablet, second):
                lock_now(browser)
                for _ in range(5):
                    unlock(browser, maris, WRONG)
            assert unlock(third, maris).status_code == 422
            assert not opens(third)

    def test_lck_4_right_ones_in_between_do_not_lower_the_count_of_ten(self, tablet, maris):
        with clock.at(START):
            lock_now(tablet)
            for _ in range(2):
                for _ in range(4):
                    unlock(tablet, maris, WRONG)
                assert unlock(tablet, maris).status_code == 302
                lock_now(tablet)
            for _ in range(2):
                unlock(tablet, maris, WRONG)
            assert unlock(tablet, maris).status_code == 422

    def test_lck_4_dropping_cookies_and_switching_person_reset_nothing(self, tablet, maris, juniper):
        with clock.at(START):
            sign_in(tablet, "juniper")
            lock_now(tablet)
            for _ in range(4):
                unlock(tablet, maris, WRONG)
                assert unlock(tablet, juniper, OTHER_PIN).status_code == 302
                lock_now(tablet)
            del tablet.cookies["evenside_tests"]
            unlock(tablet, maris, WRONG)
            assert unlock(tablet, maris).status_code == 422

    def test_lck_4_a_try_is_counted_before_it_is_checked(self, tablet, maris, monkeypatch):
        """So twenty at once get no further than five: whoever comes while one is checked finds it counted."""
        from studio.actions import locking as actions

        checked = []

        def check(digits, kept):
            checked.append(digits)
            if len(checked) < 20:
                unlock(tablet, maris, WRONG)
            return False

        monkeypatch.setattr(actions, "check_password", check)
        with clock.at(START):
            lock_now(tablet)
            unlock(tablet, maris, WRONG)
        assert len(checked) == locking.WRONG_HERE

    @pytest.mark.django_db(transaction=True)
    def test_lck_4_twenty_at_once_are_checked_five_times(self, tablet, maris, monkeypatch):
        from studio.actions import locking as actions

        checked = []
        monkeypatch.setattr(actions, "check_password", lambda digits, kept: checked.append(digits))

        def one_try():
            browser = replay(key_of(tablet), tablet)
            unlock(browser, maris, WRONG)
            connection.close()

        with clock.at(START):
            lock_now(tablet)
            threads = [Thread(target=one_try) for _ in range(20)]
            for thread in threads:
                thread.start()
            for thread in threads:
                thread.join()
        assert len(checked) == locking.WRONG_HERE
        assert Presence.objects.get().wrong_pins == locking.WRONG_HERE

    def test_wrong_tries_are_written_down_without_a_person_who_acts(self, tablet, maris):
        with clock.at(START):
            lock_now(tablet)
            unlock(tablet, maris, WRONG)
        entry = AuditEntry.objects.get(action="screen.unlock_failed")
        assert (entry.person, entry.outcome, entry.thing_id) == (None, "refused", maris.public_id)


class TestSwitching:
    """LCK-6, SES-2 and 3: lock, and unlock as somebody else."""

    @pytest.fixture
    def both(self, tablet, juniper):
        with clock.at(START):
            sign_in(tablet, "juniper")
            lock_now(tablet)
        return tablet

    def test_lck_6_either_comes_back_by_their_own_pin(self, both, maris, juniper):
        with clock.at(minutes(1)):
            for person, pin in ((maris, PIN), (juniper, OTHER_PIN), (maris, PIN)):
                assert unlock(both, person, pin).status_code == 302
                assert both.session["_auth_user_id"] == str(person.pk)
                lock_now(both)

    def test_lck_6_not_by_the_other_ones(self, both, maris):
        with clock.at(minutes(1)):
            assert unlock(both, maris, OTHER_PIN).status_code == 422

    def test_ses_3_nothing_of_the_person_before_carries_over(self, both, maris):
        with clock.at(minutes(1)):
            unlock(both, maris)
            session = both.session
            session["draft"] = "of Maris"
            session.save()
            lock_now(both)
            answer = unlock(both, Staff.objects.get(sign_in_name="juniper"), OTHER_PIN, next="/help/")
            assert "draft" not in both.session
            assert answer.url == reverse("sessions:today")

    def test_ses_2_a_new_id_at_each_change_and_the_old_one_is_nobody(self, tablet, maris, juniper):
        seen = [key_of(tablet)]
        with clock.at(minutes(1)):
            for step in (
                lambda: lock_now(tablet) and unlock(tablet, maris),
                lambda: tablet.post(reverse("studio:again"), {"again_passphrase": f.PASSPHRASE}),
                lambda: sign_in(tablet, "juniper"),
                lambda: lock_now(tablet) and unlock(tablet, maris),
            ):
                step()
                assert key_of(tablet) not in seen
                assert opens(tablet)
                for old in seen:
                    assert not opens(replay(old, tablet))
                seen.append(key_of(tablet))

    def test_one_sign_in_runs_in_one_browser(self, both, maris, juniper):
        with clock.at(minutes(1)):
            unlock(both, maris)
        assert (running(maris).count(), running(juniper).count()) == (1, 0)


class TestTheLockButton:
    def test_without_a_pin_it_signs_out(self, desk):
        browser = device_browser()
        with clock.at(START):
            sign_in(browser, "juniper")
            assert lock_now(browser).url == reverse("studio:sign_in")
        assert not running(desk).exists()

    def test_in_a_browser_that_is_not_enrolled_it_signs_out(self, as_nobody, maris):
        with clock.at(START):
            sign_in(as_nobody)
            assert lock_now(as_nobody).url == reverse("studio:sign_in")
        assert not running(maris).exists()
