"""One-time codes and new passphrases.

Sources: OWASP verification standard 5.0, 6.2.4, 6.2.11, 6.2.12 (lists of common and local words), 6.3.1 (nobody is
shut out for good), 6.4.1, 6.4.6 (a reset by somebody else shows a code only), 6.5.1 to 6.5.3 (used once, kept
hashed, random); NIST SP 800-63B-4, 3.1.1.2. A day of 24 hours: common practice.
"""

import datetime as dt
import io

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError
from django.db import OperationalError
from django.test import Client as Browser
from django.urls import reverse

from sessions.demo.factories import PASSPHRASE, StaffFactory
from studio import clock, guessable, passphrases
from studio import codes as making
from studio.actions import audit, codes
from studio.actions import staff as staff_actions
from studio.actions.sign_in import account_key
from studio.models import AuditEntry, OneTimeCode, SignInTry, Staff
from tests.people import signed_in

pytestmark = pytest.mark.django_db

NEW = "grey herons by the weir"
DOV = {"full_name": "Dov Marrowby", "call_name": "Dov", "sign_in_name": "Dov", "is_instructor": "on"}
PROGRAM = audit.Actor.program("test")
RECOVERY = OneTimeCode.Kind.RECOVERY


def redeem(code, name="maris", passphrase=NEW, browser=None):
    data = {"sign_in_name": name, "code": code, "passphrase": passphrase}
    return (browser or Browser()).post(reverse("studio:have_code"), data)


def enters(name="maris", passphrase=NEW) -> bool:
    data = {"sign_in_name": name, "passphrase": passphrase}
    return Browser().post(reverse("studio:sign_in"), data).status_code == 302


@pytest.fixture
def code(now, instructor):
    return codes.issue(actor=PROGRAM, person=instructor)


class TestTheOwnerIssues:
    def test_somebody_new_chooses_their_own_passphrase(self, as_owner):
        page = as_owner.post(reverse("studio:staff_new"), DOV)
        code = page.context["code"]
        assert page.status_code == 200 and code in page.content.decode()
        assert 'type="password"' not in as_owner.get(reverse("studio:staff_new")).content.decode()
        assert redeem(code, "dov").url == reverse("sessions:today")
        assert enters("dov")

    def test_nothing_signs_in_before_the_code_is_used(self, as_owner):
        as_owner.post(reverse("studio:staff_new"), DOV)
        assert not any(enters("dov", words) for words in ("", "!", NEW))

    def test_a_name_that_is_taken_is_said_and_no_code_is_made(self, as_owner):
        as_owner.post(reverse("studio:staff_new"), DOV)
        again = as_owner.post(reverse("studio:staff_new"), {**DOV, "sign_in_name": " DOV "})
        assert again.status_code == 422 and again.context["form"].errors["sign_in_name"]
        assert OneTimeCode.objects.count() == 1

    def test_a_reset_shows_a_code_only_and_only_then(self, as_owner, instructor):
        url = reverse("studio:staff_code", args=[instructor.public_id])
        code = as_owner.post(url).context["code"]
        page = as_owner.get(reverse("studio:staff", args=[instructor.public_id])).content.decode()
        assert code not in page and "A code is open until" in page
        assert enters("maris", PASSPHRASE), "the old passphrase holds until the code is used"

    def test_it_asks_for_the_passphrase_again_after_five_minutes(self, now, as_owner, instructor):
        with clock.at(now + dt.timedelta(minutes=6)):
            answer = as_owner.post(reverse("studio:staff_code", args=[instructor.public_id]))
        assert answer.status_code == 403 and not OneTimeCode.objects.exists()

    def test_only_a_salted_hash_is_kept(self, instructor):
        one, other = (codes.issue(actor=PROGRAM, person=instructor) for _ in range(2))
        kept = list(OneTimeCode.objects.values_list("secret", flat=True))
        assert len(set(kept)) == 2 and not any(making.bare(c) in s for c in (one, other) for s in kept)
        assert one not in str(list(AuditEntry.objects.values()))

    @pytest.mark.parametrize(("length", "bits"), [(making.DAY_LENGTH, 64), (making.LASTING_LENGTH, 112)])
    def test_a_code_is_long_enough(self, length, bits):
        code = making.make(length)
        assert len(making.ALPHABET) ** len(making.bare(code)) >= 2**bits
        assert set(code) <= set(making.ALPHABET) | {"-"}
        assert not set("l1io0") & set(making.ALPHABET), "nothing that looks like something else"


class TestTheCode:
    def test_works_once(self, code):
        assert redeem(code).status_code == 302
        assert redeem(code, passphrase="another four plain words").status_code == 422
        assert enters(passphrase=NEW)

    @pytest.mark.parametrize(
        "typed", [str.upper, lambda c: c.replace("-", " "), lambda c: f" {c.replace('-', '')} "]
    )
    def test_is_taken_however_it_is_typed(self, code, typed):
        assert redeem(typed(code)).status_code == 302

    @pytest.mark.parametrize(("hours", "works"), [(23.99, True), (24, False), (48, False)])
    def test_is_over_after_a_day(self, now, code, hours, works):
        with clock.at(now + dt.timedelta(hours=hours)):
            assert (redeem(code).status_code == 302) is works

    def test_a_new_one_takes_the_place_of_the_old(self, code, instructor):
        newer = codes.issue(actor=PROGRAM, person=instructor)
        assert redeem(code).status_code == 422
        assert redeem(newer).status_code == 302

    def test_is_for_one_person(self, code, desk):
        assert redeem(code, "juniper").status_code == 422

    def test_a_closed_account_stays_closed(self, code, instructor):
        Staff.objects.update(is_active=False)
        assert redeem(code).status_code == 422

    def test_closing_an_account_ends_its_codes_for_good(self, now, as_owner, code, instructor):
        url = reverse("studio:staff", args=[instructor.public_id])
        data = {"full_name": "M", "call_name": "Maris", "is_instructor": "on"}
        assert as_owner.post(url, {**data, "version": 1}).status_code == 302
        assert as_owner.post(url, {**data, "version": 2, "is_active": "on"}).status_code == 302
        assert redeem(code).status_code == 422

    def test_whatever_is_wrong_it_says_the_same_at_one_hash(self, now, code, desk, monkeypatch):
        from django.contrib.auth.hashers import MD5PasswordHasher

        calls = []
        plain = MD5PasswordHasher.encode
        monkeypatch.setattr(MD5PasswordHasher, "encode", lambda self, *a: calls.append(1) or plain(self, *a))
        wrong = making.make(making.DAY_LENGTH)
        said = set()
        for name, typed in (("maris", wrong), ("nobody", wrong), ("juniper", wrong), ("maris", "x")):
            calls.clear()
            said.add(str(redeem(typed, name).context["form"].errors))
            assert len(calls) == 1, name
        assert len(said) == 1

    def test_wrong_tries_wait_but_never_shut(self, now, code):
        for step in range(120):
            with clock.at(now + dt.timedelta(minutes=step / 100)):
                redeem(making.make(making.DAY_LENGTH))
        assert "Wait" in redeem(code).content.decode()
        with clock.at(now + dt.timedelta(hours=2)):
            assert redeem(code).status_code == 302

    def test_it_opens_a_sign_in_that_was_shut_and_ends_other_sessions(self, code, instructor):
        SignInTry.objects.create(key=account_key("maris"), failures=100)
        other = signed_in(instructor)
        assert not enters(passphrase=PASSPHRASE)
        assert redeem(code).status_code == 302
        assert enters(passphrase=NEW)
        assert "sign-in" in other.get(reverse("sessions:today")).url

    def test_nothing_of_the_session_before_carries_over(self, code, desk):
        browser = signed_in(desk)
        old = browser.session.session_key
        redeem(code, browser=browser)
        assert browser.session.session_key != old
        assert browser.get(reverse("sessions:today")).context["me"].call_name == "Maris"

    def test_a_bad_passphrase_leaves_the_code_good(self, code):
        for words in ("too short", "Wyndlefold Studio!", "passwordpassword", "Maris Fennelcote"):
            answer = redeem(code, passphrase=words)
            assert answer.status_code == 422 and answer.context["form"].errors["passphrase"], words
        assert redeem(code).status_code == 302

    def test_it_is_written_down(self, code):
        redeem("x")
        redeem(code)
        logged = AuditEntry.objects.filter(action__startswith="code.")
        assert [e.action for e in logged] == ["code.issued", "code.refused", "code.used"]


class TestRecovery:
    """Wrong tries cannot shut the owner out for good (AUT-6)."""

    @pytest.fixture
    def shut(self, owner):
        SignInTry.objects.create(key=account_key("linnet"), failures=100)
        assert not enters("linnet", PASSPHRASE)

    def test_by_the_code_made_at_set_up(self, now, owner, shut):
        code = codes.issue(actor=PROGRAM, person=owner, kind=RECOVERY)
        with clock.at(now + dt.timedelta(days=900)):
            assert redeem(code, "linnet").status_code == 302
            assert enters("linnet")
            assert redeem(code, "linnet").status_code == 422

    def test_by_the_command_on_the_machine(self, owner, shut):
        out = io.StringIO()
        call_command("open_owner", stdout=out)
        code = next(line.split()[-1] for line in out.getvalue().splitlines() if "Code:" in line)
        assert redeem(code, "linnet").status_code == 302 and enters("linnet")
        entry = AuditEntry.objects.get(action="code.issued")
        assert (entry.role, entry.device) == ("program", "open_owner")

    def test_the_command_asks_which_of_two(self, owner):
        StaffFactory(owner=True, sign_in_name="averil")
        with pytest.raises(CommandError, match="averil, linnet"):
            call_command("open_owner")
        call_command("open_owner", "averil", stdout=io.StringIO())
        with pytest.raises(CommandError, match="nobody"):
            call_command("open_owner", "nobody")

    def test_the_command_says_so_where_there_is_no_owner(self, db, monkeypatch):
        with pytest.raises(CommandError, match="no owner yet"):
            call_command("open_owner")

        def no_table(**kwargs):
            raise OperationalError("no such table: studio_staff")

        monkeypatch.setattr(Staff.objects, "filter", no_table)
        with pytest.raises(CommandError, match="no owner yet"):
            call_command("open_owner")

    def test_a_new_recovery_code_ends_the_old(self, as_owner, owner):
        old = codes.issue(actor=PROGRAM, person=owner, kind=RECOVERY)
        page = as_owner.post(reverse("studio:recovery_code"))
        assert page.context["code"] != old
        assert redeem(old, "linnet").status_code == 422

    def test_a_former_owner_keeps_none(self, now, owner):
        other = StaffFactory(owner=True, sign_in_name="averil")
        code = codes.issue(actor=PROGRAM, person=other, kind=RECOVERY)
        values = {"is_owner": False, "is_instructor": True}
        staff_actions.change(actor=PROGRAM, person=other, values=values, expected=other.version)
        assert redeem(code, "averil").status_code == 422


class TestTheLastOwner:
    """AZ-8."""

    def test_one_who_never_came_in_does_not_count(self, owner):
        person, _code = codes.add_with_code(
            actor=PROGRAM,
            values={"full_name": "A", "call_name": "A", "sign_in_name": "a", "is_owner": True},
        )
        with pytest.raises(staff_actions.LastOwner):
            staff_actions.change(
                actor=PROGRAM, person=owner, values={"is_owner": False}, expected=owner.version
            )

    def test_of_two_who_demote_each_other_one_stays(self, owner):
        other = StaffFactory(owner=True, instructor=True)
        out = {"is_owner": False, "is_instructor": True}
        staff_actions.change(
            actor=audit.Actor(person=owner), person=other, values=dict(out), expected=other.version
        )
        with pytest.raises(staff_actions.LastOwner):
            staff_actions.change(
                actor=audit.Actor(person=other), person=owner, values=dict(out), expected=owner.version
            )
        assert Staff.objects.filter(is_owner=True, is_active=True).count() == 1


PLACE = ("Wyndlefold Studio", "maris", "Maris Fennelcote", "Maris")
REFUSED = {
    "the studio's name": ("Wyndlefold Studio", "place"),
    "the studio's name, padded": ("wyndlefold12345", "place"),
    "their own name": ("Maris Fennelcote", "place"),
    "the program and the role": ("Evenside instructor", "place"),
    "listed in leaks": ("manchesterunited", "common"),
    "a famous phrase": ("Correct horse battery staple", "common"),
    "a common one twice": ("passwordpassword", "common"),
    "a common one, padded": ("password1234567", "common"),
    "one letter": ("aaaaaaaaaaaaaaaa", "common"),
    "digits in a row": ("123456789012345", "common"),
    "keys in a row": ("qwertyuiopqwertyuiop", "common"),
}
TAKEN = {
    "words": "grey herons by the weir",
    "digits that nobody lists": "482915739204857",
    "a name among other words": "linnet keeps three blue teapots",
    "the studio among other words": "wyndlefold has a crooked door",
    "another alphabet": "зелёный чайник на окне",
    "pictures": "🌲🐟🌲🪨🌊🐚🌲🌲🦆🪵🌲🐟🌾🍃🌙",
}


@pytest.mark.parametrize(("words", "why"), REFUSED.values(), ids=REFUSED)
def test_what_anybody_would_try_first_is_refused_with_the_reason(words, why):
    with pytest.raises(passphrases.ValidationError) as refused:
        passphrases.check(words, *PLACE)
    assert refused.value.code == why


@pytest.mark.parametrize("words", TAKEN.values(), ids=TAKEN)
def test_what_only_holds_such_a_word_is_taken(words):
    passphrases.check(words, *PLACE)


def test_the_list_of_leaked_ones_is_the_one_that_comes_with_django():
    assert len(passphrases._common()) > 19000
    assert guessable.why("kartoffelpuffer", (), passphrases._common()) == "common"
