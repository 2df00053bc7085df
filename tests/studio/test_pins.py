"""Setting a PIN, and a passphrase of one's own (LCK-3, AUT-9, SES-2).

Sources: NIST SP 800-63B-4, 3.2.10 (a list of refused activation secrets; at least 4, better 6 digits); OWASP
verification standard 5.0, 6.2.2 and 6.2.3 (a change needs the current passphrase), 7.4.3 (other sessions end), 11.4.2.
The commonest PINs of six digits are from memory of published leaks; which shapes are refused: common practice,
no source.
"""

import pytest
from django.urls import reverse

from sessions.demo.factories import PASSPHRASE
from studio import clock, locking
from studio.models import AuditEntry, Pin, SignInTry, StaffSession
from tests.studio.lock_steps import (
    OTHER_PIN,
    PIN,
    START,
    device_browser,
    give_pin,
    key_of,
    lock_now,
    opens,
    replay,
    running,
    sign_in,
    unlock,
)

pytestmark = pytest.mark.django_db
NEW_PASSPHRASE = "seven grey herons at noon"


@pytest.fixture
def tablet(instructor):
    browser = device_browser()
    with clock.at(START):
        sign_in(browser)
    return browser


def set_pin(browser, pin=PIN, again=None, passphrase=PASSPHRASE):
    data = {"pin": pin, "pin_again": pin if again is None else again, "again_passphrase": passphrase}
    return browser.post(reverse("studio:pin"), data)


def change_passphrase(browser, new=NEW_PASSPHRASE, passphrase=PASSPHRASE):
    data = {"new_passphrase": new, "again_passphrase": passphrase}
    return browser.post(reverse("studio:passphrase"), data)


REFUSED = [
    ("", "length"),
    ("83026", "length"),
    ("8302641", "length"),
    ("83026a", "length"),
    ("83 264", "length"),
    ("٨٣٠٢٦٤", "length"),
    ("000000", "same"),
    ("777777", "same"),
    ("123456", "run"),
    ("456789", "run"),
    ("987654", "run"),
    ("890123", "run"),
    ("123123", "repeat"),
    ("121212", "repeat"),
    ("112233", "repeat"),
    ("448811", "repeat"),
    ("198407", "year"),
    ("072019", "year"),
    ("159753", "common"),
    ("789456", "common"),
    ("123321", "common"),
    ("147258", "common"),
    ("696969", "repeat"),
]
TAKEN = ["830264", "617935", "905173", "270816", "246813"]


@pytest.mark.parametrize(("pin", "problem"), REFUSED)
def test_lck_3_the_rule_says_what_is_wrong(pin, problem):
    assert locking.pin_problem(pin) == problem


@pytest.mark.parametrize("pin", TAKEN)
def test_lck_3_ordinary_ones_are_taken(pin):
    assert locking.pin_problem(pin) == ""


def test_lck_3_few_are_refused():
    """The list must not shrink what is left to guess: over nine in ten stay."""
    refused = sum(1 for number in range(0, 1_000_000, 7) if locking.pin_problem(f"{number:06d}"))
    assert refused / len(range(0, 1_000_000, 7)) < 0.1


@pytest.mark.parametrize(("pin", "problem"), [row for row in REFUSED if row[0]])
def test_lck_3_the_form_says_it_at_the_field(tablet, pin, problem):
    with clock.at(START):
        answer = set_pin(tablet, pin)
    assert answer.status_code == 422
    assert list(answer.context["form"].errors) == ["pin"]
    assert not Pin.objects.exists()


def test_lck_3_it_is_kept_like_a_passphrase(tablet, settings):
    settings.PASSWORD_HASHERS = ["studio.hashers.StudioArgon2"]
    with clock.at(START):
        sign_in(tablet)
        StaffSession.objects.first().person.set_password(PASSPHRASE)
        give_pin(StaffSession.objects.first().person)
    assert Pin.objects.get().digits.startswith("argon2$argon2id$v=19$m=19456,t=2,p=1$")


def test_lck_3_two_people_may_choose_the_same_without_a_hint(tablet, desk):
    with clock.at(START):
        first = set_pin(tablet)
        sign_in(tablet, "juniper")
        second = set_pin(tablet)
        assert (
            (first.status_code, first.url)
            == (second.status_code, second.url)
            == (302, reverse("studio:mine"))
        )
        kept = [pin.digits for pin in Pin.objects.all()]
        assert len(set(kept)) == 2 and not any(PIN in digits for digits in kept)


def test_it_works_here_at_once(tablet, instructor):
    with clock.at(START):
        set_pin(tablet)
        assert lock_now(tablet).url == reverse("studio:lock")
        assert unlock(tablet, instructor).status_code == 302


def test_the_two_must_be_the_same(tablet):
    with clock.at(START):
        answer = set_pin(tablet, again=OTHER_PIN)
    assert list(answer.context["form"].errors) == ["pin_again"]


@pytest.mark.parametrize("change", [set_pin, change_passphrase])
def test_aut_9_it_needs_the_passphrase_and_a_wrong_one_counts(tablet, instructor, change):
    with clock.at(START):
        answer = change(tablet, passphrase="not the right one at all")
    assert answer.status_code == 422
    assert list(answer.context["form"].errors) == ["again_passphrase"]
    assert not Pin.objects.exists()
    assert instructor.check_password(PASSPHRASE)
    assert SignInTry.objects.filter(key__startswith="account:", failures=1).exists()


@pytest.mark.parametrize("change", [set_pin, change_passphrase])
def test_aut_9_the_other_sign_ins_end(tablet, instructor, change):
    other = device_browser("second")
    with clock.at(START):
        sign_in(other)
        assert change(tablet).status_code == 302
        assert opens(tablet)
        assert not opens(other)
        assert unlock(other, instructor).status_code == 422
    assert running(instructor).count() == 1


@pytest.mark.parametrize(
    ("change", "new"),
    [(lambda browser: set_pin(browser, OTHER_PIN), OTHER_PIN), (change_passphrase, None)],
    ids=["new PIN", "new passphrase"],
)
def test_aut_9_the_old_pin_is_refused_everywhere(tablet, instructor, change, new):
    give_pin(instructor)
    other = device_browser("second")
    with clock.at(START):
        sign_in(other)
        lock_now(other)
        change(tablet)
        lock_now(tablet)
        for browser in (tablet, other):
            assert unlock(browser, instructor).status_code == 422
        if new:
            assert unlock(tablet, instructor, new).status_code == 302


@pytest.mark.parametrize("change", [set_pin, change_passphrase])
def test_ses_2_a_new_id(tablet, change):
    before = key_of(tablet)
    with clock.at(START):
        change(tablet)
        assert key_of(tablet) != before
        assert not opens(replay(before, tablet))


def test_the_new_passphrase_signs_in_and_the_old_one_does_not(tablet, instructor):
    with clock.at(START):
        change_passphrase(tablet)
        assert sign_in(device_browser("second")).status_code == 422
        assert sign_in(device_browser("third"), passphrase=NEW_PASSPHRASE).status_code == 302


@pytest.mark.parametrize("new", ["short", "maris fennelcote"])
def test_a_new_passphrase_obeys_the_rules(tablet, new):
    with clock.at(START):
        answer = change_passphrase(tablet, new)
    assert list(answer.context["form"].errors) == ["new_passphrase"]


def test_nothing_secret_is_sent_back(tablet):
    with clock.at(START):
        page = set_pin(tablet, again=OTHER_PIN).content.decode()
    assert not any(secret in page for secret in (PIN, OTHER_PIN, PASSPHRASE))


def test_it_is_written_down(tablet, instructor):
    with clock.at(START):
        set_pin(tablet)
        change_passphrase(tablet)
    acts = set(AuditEntry.objects.filter(person=instructor).values_list("action", flat=True))
    assert {"pin.set", "pin.removed", "staff.passphrase_changed", "session.all_ended"} <= acts
