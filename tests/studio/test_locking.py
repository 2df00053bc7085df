"""The lock on the server: when it falls, what it refuses, who comes back (LCK-1, 2, 4 to 6; SES-1 to 8).

Sources: OWASP verification standard 5.0, 7.2.1 to 7.2.4, 7.3.1, 7.3.2, 7.4.1, 7.4.2, 7.4.5, 14.3.1; NIST
SP 800-63B-4, 2.2.3 (a lighter way back while the overall limit runs), 3.2.10 (at most 10 wrong tries). Five and
fifteen minutes, twelve hours and five tries are the studio's own choice: common practice, no source.
"""

import datetime as dt

import pytest
from django.contrib.sessions.models import Session
from django.urls import get_resolver, reverse

from sessions.demo import factories as f
from studio import clock, locking
from studio.models import AuditEntry, Staff, StaffSession, Studio
from tests.studio.lock_steps import (
    PAGES,
    START,
    device_browser,
    juniper,
    key_of,
    lock_now,
    maris,
    minutes,
    opens,
    replay,
    running,
    sign_in,
    state,
    tablet,
    unlock,
)

__all__ = ["juniper", "maris", "tablet"]
pytestmark = pytest.mark.django_db


class TestWhenItFalls:
    """SES-4: minutes by the kind of device, on the server, and only people count."""

    @pytest.mark.parametrize(
        ("kind", "after", "stays"),
        [
            ("tablet", 4.9, True),
            ("tablet", 5, False),
            ("desk", 14.9, True),
            ("desk", 15, False),
        ],
    )
    def test_ses_4_each_kind_has_its_minutes(self, maris, kind, after, stays):
        browser = device_browser(kind, kind)
        with clock.at(START):
            sign_in(browser)
        with clock.at(minutes(after)):
            assert opens(browser) is stays

    @pytest.mark.parametrize(
        ("kind", "at_work", "expected"),
        [("tablet", False, 3), ("desk", False, 9), ("", False, 3), ("tablet", True, 9), ("desk", True, 9)],
    )
    def test_the_rule_itself(self, kind, at_work, expected):
        limit = locking.idle_limit(kind, tablet=3, desk=9, at_work=at_work)
        assert limit == dt.timedelta(minutes=expected)

    def test_ses_4_the_owner_sets_the_minutes(self, tablet, house):
        Studio.objects.update(idle_minutes_tablet=20)
        with clock.at(minutes(19)):
            assert opens(tablet)

    def test_ses_4_a_page_that_is_opened_starts_the_minutes_anew(self, tablet):
        for after in (4, 8, 12):
            with clock.at(minutes(after)):
                assert opens(tablet)
        with clock.at(minutes(17.1)):
            assert not opens(tablet)

    def test_ses_4_what_pages_ask_by_themselves_does_not_count(self, tablet, instructor):
        with clock.at(START):
            record = f.RecordFactory(attendance__booking__instructor=instructor, author=instructor)
            record.finished_at = START
            record.save()
        flags = reverse("sessions:record_flags_changed", args=[record.attendance.public_id])
        for after in (1, 2, 3, 4):
            with clock.at(minutes(after)):
                assert state(tablet) == "open"
                assert tablet.get(flags).status_code == 204
        with clock.at(minutes(5)):
            assert tablet.get(reverse("studio:help")).url.startswith(reverse("studio:lock"))

    def test_typing_on_an_open_page_counts(self, tablet):
        with clock.at(minutes(4)):
            assert tablet.post(reverse("studio:lock_touch")).status_code == 204
        with clock.at(minutes(8)):
            assert opens(tablet)

    @pytest.mark.parametrize(
        ("begun", "finished", "author", "stays"),
        [
            (START, None, "maris", True),
            (START, START, "maris", False),
            (START - dt.timedelta(days=1), None, "maris", False),
            (START, None, "corin", False),
        ],
        ids=["running", "closed", "yesterday's", "somebody else's"],
    )
    def test_a_running_session_takes_the_longest_minutes(
        self, tablet, other_instructor, begun, finished, author, stays
    ):
        author = Staff.objects.get(sign_in_name=author)
        with clock.at(START):
            record = f.RecordFactory(author=author)
        record.started_at, record.finished_at = begun, finished
        record.save()
        with clock.at(minutes(14)):
            assert opens(tablet) is stays

    def test_ses_4_after_twelve_hours_the_pin_is_refused_and_the_passphrase_asked(self, tablet, maris):
        with clock.at(START + dt.timedelta(hours=12, minutes=1)):
            assert tablet.get(reverse("studio:help")).url.startswith(reverse("studio:sign_in"))
            assert unlock(tablet, maris).status_code == 422
            assert not opens(tablet)
            assert "12 hours" in tablet.get(reverse("studio:sign_in")).content.decode()
            sign_in(tablet)
            assert opens(tablet)

    def test_ses_4_coming_back_by_pin_does_not_stretch_the_twelve_hours(self, tablet, maris):
        with clock.at(START + dt.timedelta(hours=11, minutes=58)):
            assert unlock(tablet, maris).status_code == 302
            assert opens(tablet)
        with clock.at(START + dt.timedelta(hours=12)):
            assert not opens(tablet)


class TestWhatItRefuses:
    """LCK-1: a state of the session on the server; the same cookie reaches nothing."""

    @pytest.fixture
    def locked(self, tablet):
        with clock.at(START):
            assert lock_now(tablet).url == reverse("studio:lock")
        return tablet

    @pytest.mark.parametrize("name", PAGES)
    def test_lck_1_no_page_answers(self, locked, name):
        with clock.at(START):
            answer = locked.get(reverse(name))
        assert answer.status_code == 302 and answer.url.startswith(reverse("studio:lock"))

    def test_lck_1_no_address_of_the_house_but_the_few(self, locked):
        from tests.test_access import walk

        with clock.at(START):
            reached = {
                address.name
                for address in walk(get_resolver().url_patterns)
                for method in address.methods
                if not address.parts and self._answers(locked, method, address.name)
            }
        # Nobody's pages, which show nothing of anybody.
        assert reached <= {
            "studio:lock",
            "studio:lock_state",
            "studio:lock_keep",
            "studio:sign_in",
            "studio:have_code",
            "studio:network_install",
            "studio:network_authority",
        }
        assert "studio:lock_state" in reached

    @staticmethod
    def _answers(browser, method, name):
        if name == "studio:sign_out":
            return False
        return getattr(browser, method.lower())(reverse(name)).status_code in (200, 204, 422)

    def test_lck_1_a_part_of_a_page_sends_the_whole_page_to_the_lock(self, locked):
        page = "http://testserver" + reverse("clients:list")
        headers = {"HX-Request": "true", "HX-Current-URL": page}
        with clock.at(START):
            answer = locked.get(reverse("clients:list"), headers=headers)
        assert answer.headers["HX-Redirect"].startswith(reverse("studio:lock"))

    def test_lck_1_a_form_that_is_posted_changes_nothing(self, locked, maris):
        with clock.at(START):
            locked.post(reverse("clients:new"), {"full_name": "Ottoline Brackwater"})
            assert locked.post(reverse("studio:end_all_mine")).url == reverse("studio:lock")
        assert running(maris).count() == 1

    def test_lck_2_the_page_names_those_who_work_here_by_what_they_are_called(self, locked, juniper, house):
        with clock.at(START):
            client = f.ClientFactory()
            sign_in(locked, "juniper")
            lock_now(locked)
            page = locked.get(reverse("studio:lock")).content.decode()
        assert "Maris" in page and "Juniper" in page
        for word in ("Fennelcote", "Oakmantle", client.full_name, client.call_name, "rail"):
            assert word not in page, word

    def test_lck_2_pages_are_not_kept_by_the_browser(self, locked):
        with clock.at(START):
            assert locked.get(reverse("studio:lock")).headers["Cache-Control"] == "no-store"

    @pytest.mark.parametrize("when", ["open", "locked", "nobody"])
    def test_lck_2_the_question_of_open_pages_tells_one_word(self, tablet, as_nobody, when):
        browser = as_nobody if when == "nobody" else tablet
        with clock.at(START):
            if when == "locked":
                lock_now(tablet)
            assert state(browser) == ("open" if when == "open" else "locked")

    def test_it_may_be_left_by_signing_out(self, locked, maris):
        with clock.at(START):
            assert locked.post(reverse("studio:sign_out")).url == reverse("studio:sign_in")
            assert not running(maris).exists()
            assert unlock(locked, maris).status_code == 422

    def test_it_is_written_down(self, locked, maris):
        assert AuditEntry.objects.get(action="screen.locked").person == maris


class TestSessions:
    def test_ses_1_the_cookie_is_a_reference_and_the_row_is_the_session(self, tablet):
        assert len(key_of(tablet)) == 32 and key_of(tablet).isalnum()
        Session.objects.filter(session_key=key_of(tablet)).delete()
        with clock.at(START):
            assert not opens(tablet)

    def test_ses_1_without_our_row_the_cookie_is_nobody(self, tablet):
        StaffSession.objects.all().delete()
        with clock.at(START):
            assert not opens(tablet)

    def test_ses_5_signing_out_ends_it_on_the_server(self, tablet, maris):
        key = key_of(tablet)
        with clock.at(START):
            tablet.post(reverse("studio:sign_out"))
            assert not opens(replay(key, tablet))
            assert state(replay(key, tablet)) == "locked"

    @pytest.mark.parametrize("name", PAGES)
    def test_ses_5_lock_and_sign_out_are_reachable_from_every_page(self, tablet, name):
        with clock.at(START):
            page = tablet.get(reverse(name)).content.decode()
        assert reverse("studio:lock_now") in page and reverse("studio:mine") in page

    def test_ses_6_closing_a_person_or_taking_a_role_counts_at_the_next_request(self, tablet, maris):
        answers = reverse("library:list")
        with clock.at(START):
            assert tablet.get(reverse("library:apparatus")).status_code == 403
            Staff.objects.filter(pk=maris.pk).update(is_owner=True)
            assert tablet.get(reverse("library:apparatus")).status_code == 200
            Staff.objects.filter(pk=maris.pk).update(is_owner=False)
            assert tablet.get(reverse("library:apparatus")).status_code == 403
            Staff.objects.filter(pk=maris.pk).update(is_active=False)
            assert tablet.get(answers).status_code == 302
            assert unlock(tablet, maris).status_code == 422

    def test_ses_8_the_cookie_ends_with_the_browser(self, tablet):
        cookie = tablet.cookies["evenside_tests"]
        assert (cookie["expires"], cookie["max-age"]) == ("", "")

    def test_ses_8_what_has_run_out_is_cleared_at_a_sign_in(self, tablet, juniper, maris):
        Session.objects.filter(session_key=key_of(tablet)).update(expire_date=START - dt.timedelta(days=900))
        with clock.at(START + dt.timedelta(hours=13)):
            sign_in(device_browser("second"), "juniper")
        assert not Session.objects.filter(session_key=key_of(tablet)).exists()
        assert not running(maris).exists()
        assert running(juniper).count() == 1
