"""Coming in and going out.

Sources: NIST SP 800-63B-4, 3.2.2 (at most 100 failures in a row, growing waits); OWASP verification standard 5.0:
6.3.8 (the same answer whatever was wrong), 7.2.4 (a new session at every sign-in), 7.4.1 (sign-out ends it on
the server), 3.7.2 (redirects stay here). The length of the waits is the studio's own choice.
"""

import datetime as dt
import re

import pytest
from django.test import Client as Browser
from django.urls import reverse

from sessions.demo.factories import PASSPHRASE
from studio import clock, throttle
from studio.models import AuditEntry, SignInTry, Staff

pytestmark = pytest.mark.django_db
START = dt.datetime(2026, 11, 25, 10, 15, tzinfo=dt.UTC)


def sign_in(browser, name="maris", passphrase=PASSPHRASE, **more):
    extra = {"REMOTE_ADDR": more.pop("address")} if "address" in more else {}
    data = {"sign_in_name": name, "passphrase": passphrase, **more}
    return browser.post(reverse("studio:sign_in"), data, **extra)


def fail(browser, times, at=START, name="maris", **more):
    """Try a wrong passphrase, always waiting long enough for the next try; return the time after the last."""
    for _ in range(times):
        with clock.at(at):
            sign_in(browser, name, "wrong wrong wrong wrong", **more)
        at += dt.timedelta(seconds=throttle._LONGEST_WAIT + 1)
    return at


def is_in(browser) -> bool:
    return "_auth_user_id" in browser.session


def text_of(answer) -> str:
    """Return the page without what differs by chance or by what was typed."""
    page = re.sub(r'name="csrfmiddlewaretoken" value="[^"]*"', "", answer.content.decode())
    page = re.sub(r'"X-CSRFToken": ?"[^"]*"|&quot;[Xx]-CSRFToken&quot;: ?&quot;[^&]*&quot;', "", page)
    return re.sub(r'value="(maris|nobody-here|linnet)"', 'value="typed"', page)


class TestTheWayIn:
    def test_right_name_and_passphrase_lead_to_today(self, as_nobody, instructor):
        answer = sign_in(as_nobody)
        assert (answer.status_code, answer.url) == (302, reverse("sessions:today"))
        assert as_nobody.session["_auth_user_id"] == str(instructor.pk)

    @pytest.mark.parametrize("typed", ["MARIS", " maris ", "Maris"], ids=["capitals", "spaces", "title"])
    def test_the_name_is_taken_in_any_case(self, as_nobody, instructor, typed):
        sign_in(as_nobody, typed)
        assert is_in(as_nobody)

    def test_the_passphrase_is_taken_as_it_stands(self, as_nobody, instructor):
        sign_in(as_nobody, passphrase=PASSPHRASE + " ")
        assert not is_in(as_nobody)

    def test_signed_in_people_are_sent_on(self, as_instructor):
        assert as_instructor.get(reverse("studio:sign_in")).url == reverse("sessions:today")

    def test_the_field_lets_password_managers_in(self, as_nobody):
        page = as_nobody.get(reverse("studio:sign_in")).content.decode()
        assert 'autocomplete="current-password"' in page
        assert 'autocomplete="username"' in page
        assert "onpaste" not in page

    @pytest.mark.parametrize("missing", ["sign_in_name", "passphrase"])
    def test_an_empty_field_is_named(self, as_nobody, instructor, missing):
        data = {"sign_in_name": "maris", "passphrase": PASSPHRASE, missing: ""}
        answer = as_nobody.post(reverse("studio:sign_in"), data)
        assert answer.status_code == 422
        assert list(answer.context["form"].errors) == [missing]

    @pytest.mark.parametrize("name", ["x\x00y", "王", "<b>", "=SUM(1)", "' OR 1=1 --", "x" * 500])
    def test_odd_names_are_only_wrong(self, as_nobody, instructor, name):
        assert sign_in(as_nobody, name).status_code == 422
        assert not is_in(as_nobody)


class TestWhateverWasWrong:
    """Wrong name, wrong passphrase and a closed account answer in the same words with the same status."""

    @pytest.fixture
    def answers(self, instructor, owner):
        Staff.objects.filter(pk=owner.pk).update(is_active=False)
        return {
            "wrong name": sign_in(Browser(), "nobody-here"),
            "wrong passphrase": sign_in(Browser(), "maris", "wrong wrong wrong wrong"),
            "closed account": sign_in(Browser(), "linnet"),
        }

    def test_the_status_is_the_same(self, answers):
        assert {answer.status_code for answer in answers.values()} == {422}

    def test_the_page_is_the_same(self, answers):
        pages = {text_of(answer) for answer in answers.values()}
        assert len(pages) == 1
        assert "do not go together" in pages.pop()

    def test_the_passphrase_is_never_sent_back(self, answers):
        assert not any(b"wrong wrong" in answer.content for answer in answers.values())

    def test_each_is_written_down_without_a_name(self, answers):
        entries = AuditEntry.objects.filter(action="staff.sign_in_failed")
        assert [(entry.outcome, entry.thing_id) for entry in entries] == [("refused", "")] * 3

    @pytest.mark.parametrize("name", ["nobody-here", "maris", "linnet"])
    def test_each_costs_one_hash(self, name, instructor, owner, monkeypatch):
        """Similar time: the work that takes the time is done once in every case."""
        from django.contrib.auth.hashers import MD5PasswordHasher

        Staff.objects.filter(pk=owner.pk).update(is_active=False)
        calls = []
        plain = MD5PasswordHasher.encode
        monkeypatch.setattr(
            MD5PasswordHasher, "encode", lambda self, *args: calls.append(1) or plain(self, *args)
        )
        sign_in(Browser(), name, "wrong wrong wrong wrong")
        assert len(calls) == 1


class TestWaiting:
    @pytest.mark.parametrize(
        ("failures", "seconds"),
        [(0, 0), (3, 0), (4, 1), (5, 2), (6, 4), (10, 64), (13, 512), (14, 900), (99, 900)],
    )
    def test_the_wait_grows_up_to_a_quarter_of_an_hour(self, failures, seconds):
        assert throttle.wait_after(failures) == seconds

    @pytest.mark.parametrize(("failures", "shut"), [(99, False), (100, True), (101, True)])
    def test_a_hundred_failures_in_a_row_shut_it(self, failures, shut):
        assert throttle.is_shut(failures) is shut

    def test_after_four_failures_even_the_right_passphrase_waits(self, as_nobody, instructor):
        with clock.at(START):
            for _ in range(4):
                sign_in(as_nobody, passphrase="wrong wrong wrong wrong")
            answer = sign_in(as_nobody)
        assert answer.status_code == 422
        assert "Wait 1 second" in answer.content.decode()
        assert not is_in(as_nobody)

    def test_after_the_wait_it_works_and_clears_the_count(self, as_nobody, instructor):
        with clock.at(START):
            for _ in range(4):
                sign_in(as_nobody, passphrase="wrong wrong wrong wrong")
        with clock.at(START + dt.timedelta(seconds=2)):
            assert sign_in(as_nobody).status_code == 302
        assert not SignInTry.objects.exists()

    def test_the_wait_is_told_in_minutes_when_it_is_long(self, as_nobody, instructor):
        at = fail(as_nobody, 13) - dt.timedelta(seconds=throttle._LONGEST_WAIT + 1)
        with clock.at(at):
            page = sign_in(as_nobody).content.decode()
        assert "Wait 9 minutes" in page

    def test_nothing_is_hashed_while_waiting(self, as_nobody, instructor, monkeypatch):
        with clock.at(START):
            for _ in range(4):
                sign_in(as_nobody, passphrase="wrong wrong wrong wrong")
            asked = []
            monkeypatch.setattr("studio.actions.sign_in.authenticate", lambda *a, **k: asked.append(1))
            sign_in(as_nobody)
        assert asked == []

    def test_the_count_lies_in_the_database_without_the_name(self, as_nobody, instructor):
        fail(as_nobody, 5)
        rows = {row.key.split(":")[0]: row for row in SignInTry.objects.all()}
        assert {kind: row.failures for kind, row in rows.items()} == {"account": 5, "device": 5}
        assert not any("maris" in row.key or "127.0.0.1" in row.key for row in rows.values())
        assert rows["account"].blocked_until > START

    def test_another_account_on_the_same_device_signs_in_at_once(self, as_nobody, instructor, desk):
        with clock.at(START):
            for _ in range(5):
                sign_in(as_nobody, passphrase="wrong wrong wrong wrong")
            assert sign_in(as_nobody, "juniper").status_code == 302

    def test_the_account_waits_on_every_device(self, as_nobody, instructor):
        with clock.at(START):
            for _ in range(5):
                sign_in(as_nobody, passphrase="wrong wrong wrong wrong")
            assert sign_in(Browser(), address="192.0.2.7").status_code == 422

    def test_a_device_that_tries_many_names_waits_too(self, as_nobody, instructor):
        with clock.at(START):
            for number in range(20):
                sign_in(as_nobody, f"guess{number}", address="192.0.2.7")
            assert sign_in(as_nobody, address="192.0.2.7").status_code == 422
            assert sign_in(Browser(), address="192.0.2.8").status_code == 302

    def test_shut_after_a_hundred_in_a_row_until_the_owner_opens_it(self, as_nobody, instructor):
        later = fail(as_nobody, 100)
        with clock.at(later + dt.timedelta(days=30)):
            answer = sign_in(as_nobody)
        assert answer.status_code == 422
        assert "The owner can open it again" in answer.content.decode()

    def test_a_name_that_is_nobodys_waits_in_the_same_way(self, as_nobody, instructor):
        pages = set()
        for name in ("maris", "nobody-here"):
            browser = Browser()
            with clock.at(START):
                for _ in range(4):
                    sign_in(browser, name, "wrong wrong wrong wrong")
                pages.add(text_of(sign_in(browser, name)))
            SignInTry.objects.filter(key__startswith="device:").delete()
        assert len(pages) == 1


class TestTheSession:
    def test_a_new_session_begins_and_the_old_one_dies(self, as_nobody, instructor):
        session = as_nobody.session
        session["draft"] = "from before"
        session.save()
        old = session.session_key
        sign_in(as_nobody)
        assert as_nobody.session.session_key != old
        replay = Browser()
        replay.cookies["evenside_tests"] = old
        assert "_auth_user_id" not in replay.session
        assert not as_nobody.session.exists(old)

    def test_nothing_of_the_time_before_carries_over(self, as_nobody, instructor):
        session = as_nobody.session
        session["draft"] = "from before"
        session.save()
        sign_in(as_nobody)
        assert is_in(as_nobody)
        assert "draft" not in as_nobody.session

    def test_nothing_of_the_person_before_carries_over(self, as_desk, instructor):
        session = as_desk.session
        session["draft"] = "the desk's"
        session.save()
        sign_in(as_desk)
        assert as_desk.session["_auth_user_id"] == str(instructor.pk)
        assert "draft" not in as_desk.session

    def test_signing_out_ends_it_on_the_server(self, as_instructor):
        key = as_instructor.session.session_key
        assert as_instructor.post(reverse("studio:sign_out")).url == reverse("studio:sign_in")
        replay = Browser()
        replay.cookies["evenside_tests"] = key
        assert replay.get(reverse("studio:help")).status_code == 302
        assert AuditEntry.objects.filter(action="staff.signed_out").count() == 1

    def test_a_plain_visit_does_not_sign_out(self, as_instructor):
        assert as_instructor.get(reverse("studio:sign_out")).status_code == 405
        assert is_in(as_instructor)

    def test_closing_an_account_takes_effect_at_the_next_request(self, as_instructor, instructor):
        assert as_instructor.get(reverse("studio:help")).status_code == 200
        Staff.objects.filter(pk=instructor.pk).update(is_active=False)
        assert as_instructor.get(reverse("studio:help")).status_code == 302

    def test_the_cookie_ends_with_the_browser_and_is_closed_to_scripts(self, as_nobody, instructor):
        sign_in(as_nobody)
        cookie = as_nobody.cookies["evenside_tests"]
        assert (cookie["expires"], cookie["max-age"]) == ("", "")
        assert cookie["httponly"] is True
        assert cookie["samesite"] == "Lax"

    def test_it_is_written_down_with_the_new_session_as_a_mark(self, as_nobody, instructor):
        sign_in(as_nobody)
        entry = AuditEntry.objects.get(action="staff.signed_in")
        assert (entry.person, entry.role, entry.outcome) == (instructor, "instructor", "done")
        assert entry.session_mark and as_nobody.session.session_key not in entry.session_mark


class TestWhereItLeads:
    def test_a_page_of_ours_that_was_asked_for(self, as_nobody, instructor):
        asked = as_nobody.get(reverse("studio:help"))
        assert asked.url == f"{reverse('studio:sign_in')}?next={reverse('studio:help')}"
        page = as_nobody.get(asked.url).content.decode()
        assert f'name="next" value="{reverse("studio:help")}"' in page
        assert sign_in(as_nobody, next=reverse("studio:help")).url == reverse("studio:help")

    @pytest.mark.parametrize(
        "elsewhere",
        [
            "//evil.example",
            "///evil.example",
            "https:evil.example",
            "https://evil.example/",
            "http:///evil.example",
            "\\\\evil.example",
            "/\\evil.example",
            "\\/evil.example",
            "/\t/evil.example",
            "\t//evil.example",
            "\x08//evil.example",
            " //evil.example",
            "javascript:alert(1)",
            "data:text/html,x",
            "//testserver@evil.example",
            "http://testserver.evil.example/",
        ],
    )
    def test_nowhere_else(self, as_nobody, instructor, elsewhere):
        assert sign_in(as_nobody, next=elsewhere).url == reverse("sessions:today")
        page = Browser().get(reverse("studio:sign_in"), {"next": elsewhere}).content.decode()
        assert f'name="next" value="{reverse("sessions:today")}"' in page

    def test_a_form_that_was_posted_is_not_remembered(self, as_nobody):
        assert as_nobody.post(reverse("studio:sign_out")).url == reverse("studio:sign_in")

    def test_a_part_of_a_page_sends_the_whole_page_to_sign_in(self, as_nobody):
        answer = as_nobody.get(reverse("studio:help"), headers={"HX-Request": "true"})
        assert answer.headers["HX-Redirect"] == reverse("studio:sign_in")
