"""Who may open what: every address and method, against the authorisation matrix of the house.

The matrix follows data minimisation (GDPR article 5(1)(c)); that every route is listed and closed by default is the
OWASP verification standard 5.0, 8.1.1, 8.2.1, 8.2.2, 8.2.3, 8.3.1. A new address fails these tests until it has a
line in TABLE: its name, and for each method who may use it. If its path has a part that is not known there, add
the part to tests/everything.py.
"""

import pytest
from django.db import transaction
from django.urls import get_resolver, reverse
from django.urls.resolvers import URLPattern

from clients.models import Touch
from studio.roles import FRONT_DESK, INSTRUCTOR, OWNER
from tests.everything import (
    as_desk,
    as_instructor,
    as_nobody,
    as_other_instructor,
    as_owner,
    laid,
    others,
    things,
    things_of_one_who_left,
    things_of_the_owner,
)
from tests.rows import each

__all__ = [
    "as_desk",
    "as_instructor",
    "as_nobody",
    "as_other_instructor",
    "as_owner",
    "laid",
    "others",
    "things",
    "things_of_one_who_left",
    "things_of_the_owner",
]
pytestmark = pytest.mark.django_db

NOBODY = "nobody"
BROWSERS = {OWNER: "as_owner", INSTRUCTOR: "as_instructor", FRONT_DESK: "as_desk", NOBODY: "as_nobody"}
STAFF = {OWNER, INSTRUCTOR, FRONT_DESK}
HEALTH = {OWNER, INSTRUCTOR}
OWNER_ONLY = {OWNER}
DESK = {OWNER, FRONT_DESK}
ANYONE = STAFF | {NOBODY}

TABLE = {
    # coming in
    "studio:sign_in": {"GET": ANYONE, "POST": ANYONE},
    "studio:sign_out": {"POST": STAFF},
    "studio:again": {"GET": STAFF, "POST": STAFF},
    # the lock: whoever is locked out is nobody; sign-ins and devices are matrix rows 19 and 22
    "studio:lock": {"GET": ANYONE, "POST": ANYONE},
    "studio:lock_now": {"POST": STAFF},
    "studio:lock_state": {"GET": ANYONE},
    "studio:lock_touch": {"POST": STAFF},
    "studio:lock_keep": {"POST": ANYONE},
    "studio:kept": {"GET": STAFF},
    "studio:kept_away": {"POST": STAFF},
    "studio:mine": {"GET": STAFF},
    "studio:pin": {"GET": STAFF, "POST": STAFF},
    "studio:passphrase": {"GET": STAFF, "POST": STAFF},
    "studio:end_mine": {"POST": STAFF},
    "studio:end_all_mine": {"POST": STAFF},
    "studio:devices": {"GET": OWNER_ONLY, "POST": OWNER_ONLY},
    "studio:device_revoke": {"POST": OWNER_ONLY},
    "studio:sign_in_end": {"POST": OWNER_ONLY},
    "studio:first_owner": {"GET": ANYONE, "POST": ANYONE},
    "studio:help": {"GET": STAFF},
    "studio:have_code": {"GET": ANYONE, "POST": ANYONE},
    # matrix rows 19 and 21, settings and staff
    "studio:studio": {"GET": OWNER_ONLY},
    "studio:settings": {"GET": OWNER_ONLY, "POST": OWNER_ONLY},
    "studio:text": {"GET": OWNER_ONLY, "POST": OWNER_ONLY},
    "studio:hours": {"GET": OWNER_ONLY, "POST": OWNER_ONLY},
    "studio:network": {"GET": OWNER_ONLY, "POST": OWNER_ONLY},
    "studio:network_off": {"POST": OWNER_ONLY},
    "studio:network_installed": {"POST": OWNER_ONLY},
    # a new tablet has nobody signed in: the steps, and the public half of the studio's authority
    "studio:network_install": {"GET": ANYONE},
    "studio:network_authority": {"GET": ANYONE},
    "studio:kit": {"GET": OWNER_ONLY},
    "studio:room_new": {"GET": OWNER_ONLY, "POST": OWNER_ONLY},
    "studio:room": {"GET": OWNER_ONLY, "POST": OWNER_ONLY},
    "studio:staff_new": {"GET": OWNER_ONLY, "POST": OWNER_ONLY},
    "studio:staff": {"GET": OWNER_ONLY, "POST": OWNER_ONLY},
    "studio:recovery_code": {"POST": OWNER_ONLY},
    "studio:staff_code": {"POST": OWNER_ONLY},
    "library:apparatus": {"GET": OWNER_ONLY},
    "library:unit_new": {"GET": OWNER_ONLY, "POST": OWNER_ONLY},
    "library:unit": {"GET": OWNER_ONLY, "POST": OWNER_ONLY},
    "library:spring_new": {"GET": OWNER_ONLY, "POST": OWNER_ONLY},
    "library:spring": {"GET": OWNER_ONLY, "POST": OWNER_ONLY},
    # the rule table: who teaches reads which rules hold, the owner adds to them; the questions name no client
    "library:rules": {"GET": HEALTH},
    "library:rule_new": {"GET": OWNER_ONLY, "POST": OWNER_ONLY},
    "library:rule_end": {"GET": OWNER_ONLY, "POST": OWNER_ONLY},
    "library:review_new": {"GET": OWNER_ONLY, "POST": OWNER_ONLY},
    "library:review_withdraw": {"GET": OWNER_ONLY, "POST": OWNER_ONLY},
    "sessions:questions_pdf": {"GET": HEALTH},
    "sessions:questions_print": {"GET": HEALTH},
    # what the table says of a condition names no client; the desk has no use for it
    "library:conditions": {"GET": HEALTH},
    "library:condition": {"GET": HEALTH},
    # matrix row 11, the library
    "library:list": {"GET": STAFF},
    "library:exercise": {"GET": STAFF},
    "library:map": {"GET": STAFF},
    "library:map_skill": {"GET": STAFF},
    "library:transfers": {"GET": STAFF},
    "library:transfer": {"GET": STAFF},
    # matrix row 11, written by who teaches and by the owner
    "library:own": {"GET": HEALTH},
    "library:own_new": {"GET": HEALTH, "POST": HEALTH},
    "library:own_change": {"POST": HEALTH},
    "library:own_look": {"GET": HEALTH, "POST": HEALTH},
    "library:own_step": {"GET": HEALTH, "POST": HEALTH},
    "library:own_figure": {"GET": HEALTH, "POST": HEALTH},
    "library:own_drop": {"POST": HEALTH},
    "library:changed": {"GET": OWNER_ONLY},
    # whoever writes the library may hand it on; what comes in from elsewhere is the owner's to judge
    "library:sets": {"GET": HEALTH},
    "library:set_export": {"POST": HEALTH},
    "library:set_offer": {"POST": OWNER_ONLY},
    "library:set": {"GET": OWNER_ONLY, "POST": OWNER_ONLY},
    "library:settle": {"GET": OWNER_ONLY, "POST": OWNER_ONLY},
    # matrix rows 1 and 2, clients and their contacts
    "clients:list": {"GET": STAFF, "POST": STAFF},
    "clients:new": {"GET": STAFF, "POST": STAFF},
    "clients:contact": {"GET": STAFF, "POST": STAFF},
    # matrix row 3: the desk writes a whole form once and never reads it
    "clients:intake": {"GET": STAFF, "POST": STAFF},
    "clients:answers": {"GET": HEALTH},
    # matrix row 4
    "clients:flags": {"GET": HEALTH},
    "clients:flag_add": {"GET": HEALTH, "POST": HEALTH},
    "clients:instruction_add": {"GET": HEALTH, "POST": HEALTH},
    "clients:flag_state": {"POST": HEALTH},
    "clients:flag_change": {"GET": HEALTH, "POST": HEALTH},
    # matrix row 5
    "clients:goals": {"GET": HEALTH},
    "clients:goal_add": {"POST": HEALTH},
    "clients:goal_change": {"POST": HEALTH},
    "clients:goal_aim": {"POST": HEALTH},
    "clients:goal_rate": {"POST": HEALTH},
    "clients:goal_state": {"POST": HEALTH},
    # touch, home equipment, stature and mass
    "clients:care": {"GET": HEALTH, "POST": HEALTH},
    "clients:measures": {"GET": HEALTH},
    "clients:measure_take": {"GET": HEALTH, "POST": HEALTH},
    "clients:measure_correct": {"GET": HEALTH, "POST": HEALTH},
    # the client's page is two pages: the desk's holds no health
    "sessions:client": {"GET": STAFF},
    # matrix row 9
    "sessions:timeline": {"GET": HEALTH},
    "sessions:what_changes": {"GET": HEALTH},
    "sessions:progress": {"GET": HEALTH},
    "sessions:progress_pdf": {"GET": HEALTH},
    "sessions:progress_print": {"GET": HEALTH},
    # matrix row 12, bookings
    "sessions:today": {"GET": STAFF},
    "sessions:first_hour_leave": {"POST": OWNER_ONLY},
    "sessions:bookings": {"GET": STAFF},
    "sessions:booking_new": {"GET": STAFF, "POST": STAFF},
    "sessions:ask_first": {"GET": STAFF},
    "sessions:free_times": {"GET": STAFF},
    "sessions:booking": {"GET": STAFF},
    "sessions:booking_change": {"GET": STAFF, "POST": STAFF},
    # rosters: the owner and the desk for everybody, an instructor for themselves; closing days is a setting
    "sessions:away": {"GET": STAFF},
    "sessions:absence_add": {"POST": STAFF},
    "sessions:absence_remove": {"POST": STAFF},
    "sessions:closed_day_add": {"POST": OWNER_ONLY},
    "sessions:closed_day_remove": {"POST": OWNER_ONLY},
    "sessions:attendance_state": {"POST": STAFF},
    # matrix row 13, passes: who teaches is told how many sessions are left and nothing more
    "sessions:passes": {"GET": DESK, "POST": DESK},
    "sessions:pass_correct": {"POST": DESK},
    "sessions:pass_use": {"POST": DESK},
    # matrix row 7
    "sessions:find": {"GET": HEALTH},
    "sessions:client_exercise": {"GET": HEALTH},
    "sessions:client_map": {"GET": HEALTH},
    "sessions:client_map_skill": {"GET": HEALTH},
    "sessions:client_transfer": {"GET": HEALTH},
    "sessions:own_way": {"GET": HEALTH, "POST": HEALTH},
    "sessions:plan": {"GET": HEALTH},
    "sessions:plan_start": {"POST": HEALTH},
    "sessions:plan_add": {"GET": HEALTH, "POST": HEALTH},
    "sessions:plan_approve": {"POST": HEALTH},
    "sessions:plan_reopen": {"POST": HEALTH},
    "sessions:plan_item": {"GET": HEALTH, "POST": HEALTH},
    "sessions:plan_item_keep": {"POST": HEALTH},
    "sessions:plan_item_move": {"POST": HEALTH},
    "sessions:plan_item_remove": {"POST": HEALTH},
    "sessions:plan_item_instead": {"GET": HEALTH, "POST": HEALTH},
    "sessions:plan_item_take_back": {"POST": HEALTH},
    # matrix row 8: each writes their own (see OWN), others read and add a line
    "sessions:record": {"GET": HEALTH},
    "sessions:record_start": {"POST": HEALTH},
    "sessions:record_flags_changed": {"GET": HEALTH},
    "sessions:record_flags_seen": {"POST": HEALTH},
    "sessions:record_entry": {"POST": HEALTH},
    "sessions:record_undo": {"POST": HEALTH},
    "sessions:record_stop": {"GET": HEALTH, "POST": HEALTH},
    "sessions:record_instead": {"GET": HEALTH, "POST": HEALTH},
    "sessions:record_far": {"GET": HEALTH, "POST": HEALTH},
    "sessions:record_close": {"GET": HEALTH, "POST": HEALTH},
    "sessions:record_sign_off": {"POST": HEALTH},
    "sessions:record_addition": {"POST": HEALTH},
    "sessions:incident": {"GET": HEALTH, "POST": HEALTH},
    "sessions:incident_out_of_use": {"POST": HEALTH},
    # matrix row 10: the desk prints what an instructor has issued
    "sessions:home_practice": {"GET": HEALTH, "POST": HEALTH},
    "sessions:home_exercise": {"POST": HEALTH},
    "sessions:home_move": {"POST": HEALTH},
    "sessions:home_remove": {"POST": HEALTH},
    "sessions:home_preview": {"GET": HEALTH},
    "sessions:home_issue": {"POST": HEALTH},
    "sessions:handout": {"GET": STAFF},
    "sessions:handout_pdf": {"GET": STAFF},
    "sessions:handout_print": {"GET": STAFF},
    "sessions:call_back": {"POST": HEALTH},
}

# Addresses that change a record: each role is asked about a record of its own.
OWN = {
    "sessions:record_flags_changed",
    "sessions:record_flags_seen",
    "sessions:record_entry",
    "sessions:record_undo",
    "sessions:record_stop",
    "sessions:record_instead",
    "sessions:record_far",
    "sessions:record_close",
    "sessions:record_sign_off",
}

# What the page's own buttons send, where a form that holds less is answered like a thing that is missing.
# A value that is the name of a part stands for that thing.
BODIES = {
    "sessions:attendance_state": {"state": "done", "version": 1},
    "library:own_look": {"version": 1, "seen": 0},
    "library:own_drop": {"version": 1},
    "library:own_figure": {"do": "none", "version": 1},
    "library:rule_new": {"condition": "me_cfs_long_covid", "demand": "inversion"},
    "clients:flag_state": {"state": "resting", "version": 1, "reason": "for the test"},
    "clients:goal_aim": {"measure": "side_bridge", "side": "left", "target": "40", "version": 1},
    "clients:goal_change": {"words": "other words", "version": 1},
    "clients:goal_state": {"state": "reached", "version": 1},
    "sessions:own_way": {"do": "worked", "cue": "Long legs."},
    "sessions:plan_start": {"begin": "empty"},
    "sessions:plan_add": {"exercise": "exercise", "version": 1},
    "sessions:plan_approve": {"version": 1, "seen": "x"},
    "sessions:plan_reopen": {"version": 1},
    "sessions:plan_item_move": {"version": 1, "way": "later"},
    "sessions:plan_item_remove": {"version": 1},
    "sessions:plan_item_instead": {"version": 1, "instead": "exercise"},
    "sessions:plan_item_take_back": {"version": 1},
    "sessions:record_instead": {"item": "item", "do": "ask"},
    "sessions:record_far": {"item": "item", "do": "ask"},
    "sessions:record_entry": {"item": "item", "do": "as_planned"},
    "sessions:record_stop": {"item": "item", "do": "stop_session", "sign": "0"},
    "sessions:home_practice": {"version": 1},
    "sessions:incident_out_of_use": {"unit": "unit"},
    "sessions:home_exercise": {"exercise": "exercise", "version": 1},
    "sessions:home_move": {"exercise": "exercise", "way": "later", "version": 1},
    "sessions:home_remove": {"exercise": "exercise", "version": 1},
    "sessions:home_issue": {"version": 1},
}

# What the page of a health reader says of the planted flag, in words of the rule table or the touch list.
HEALTH_WORDS = ("frozen", "Frozen", str(Touch.ASK.label), "pregnan", "Pregnan")


class Address:
    """One address of the house: its name, its view, the parts of its path that name a thing."""

    def __init__(self, name, pattern, parts):
        self.name, self.view, self.parts = name, pattern.callback, parts
        self.methods = getattr(pattern.callback, "methods", None)

    def path(self, things: dict) -> str:
        missing = set(self.parts) - set(things)
        assert not missing, f"{self.name}: say in everything_about which row stands for {missing}"
        return reverse(self.name, kwargs={part: things[part] for part in self.parts})


def walk(patterns, names=(), parts=()):
    for pattern in patterns:
        here = (*parts, *pattern.pattern.regex.groupindex)
        if isinstance(pattern, URLPattern):
            yield Address(":".join((*names, pattern.name)), pattern, here)
        else:
            inside = (*names, pattern.namespace) if pattern.namespace else names
            yield from walk(pattern.url_patterns, inside, here)


ADDRESSES = {address.name: address for address in walk(get_resolver().url_patterns)}
ROWS = [
    pytest.param(ADDRESSES[name], method, who, id=f"{method}-{name}")
    for name, methods in TABLE.items()
    for method, who in methods.items()
    if name in ADDRESSES
]


def test_every_address_has_a_line_and_every_line_an_address():
    assert set(ADDRESSES) - set(TABLE) == set(), "give the new address a line in TABLE"
    assert set(TABLE) - set(ADDRESSES) == set(), "take the line out of TABLE"


@each("address", ADDRESSES.values(), ids=lambda address: address.name)
def test_every_method_has_its_entry(address):
    assert address.methods is not None, "mark the view with @opens"
    assert set(address.methods) == set(TABLE[address.name])


@each("address", ADDRESSES.values(), ids=lambda address: address.name)
def test_what_the_view_declares_is_what_the_table_says(address):
    assert set(address.view.opens_to) == set().union(*TABLE[address.name].values())


def ask(browser, method, address, things):
    """Make the request, as the page's own buttons would, and undo whatever it wrote."""
    body = {name: things.get(value, value) for name, value in BODIES.get(address.name, {}).items()}
    with transaction.atomic():
        answer = getattr(browser, method.lower())(address.path(things), body if method == "POST" else None)
        transaction.set_rollback(True)
    return answer


def was_refused(answer, role) -> bool:
    if role == NOBODY and answer.status_code == 302:
        return answer.url.startswith(reverse("studio:sign_in"))
    return answer.status_code == 403


@pytest.mark.parametrize(("address", "method", "who"), ROWS)
def test_each_role_gets_what_the_table_says(address, method, who, things, request):
    for role, fixture in BROWSERS.items():
        theirs = role == OWNER and address.name in OWN
        at_hand = request.getfixturevalue("things_of_the_owner") if theirs else things
        answer = ask(request.getfixturevalue(fixture), method, address, at_hand)
        if role in who:
            assert answer.status_code in (200, 204, 302, 409, 422), f"{role}: {answer.status_code}"
            assert not was_refused(answer, role) or NOBODY in who, f"{role} is turned away"
        else:
            assert was_refused(answer, role), f"{role} gets in: {answer.status_code}"


@pytest.mark.parametrize(("address", "method", "who"), [r for r in ROWS if r.values[0].name in OWN])
@pytest.mark.parametrize("browser", ["as_owner", "as_other_instructor"])
def test_a_record_is_changed_by_its_author_only(address, method, who, browser, things, request):
    assert ask(request.getfixturevalue(browser), method, address, things).status_code == 403


WITH_PARTS = [row for row in ROWS if row.values[0].parts]


@pytest.mark.parametrize(("address", "method", "who"), WITH_PARTS)
def test_an_unknown_id_is_not_found(address, method, who, things, request):
    for part in address.parts:
        unknown = "00000000-0000-4000-8000-000000000000" if part == "entry" else "no-such-id-at-all"
        for role in who - {NOBODY}:
            answer = ask(request.getfixturevalue(BROWSERS[role]), method, address, {**things, part: unknown})
            assert answer.status_code == 404, role


OF_NO_CLIENT = {
    "exercise",
    "measure",
    "booking",
    "room",
    "person",
    "unit",
    "spring",
    "device",
    "sign_in",
    "kind",
    "rule",
    "review",
    "condition",
    "skill",
    "family",
    "draft",
    "step",
    "offered",
}


# A measure is a kind of test, an exercise, a skill or an idea a page of the library: nobody's own.
NOBODYS = {"measure", "exercise", "skill", "family", "draft", "step", "offered"}
BELOW_A_CLIENT = [row for row in ROWS if len(set(row.values[0].parts) - NOBODYS) > 1]


@pytest.mark.parametrize(("address", "method", "who"), BELOW_A_CLIENT)
def test_a_thing_under_somebody_else_is_not_found(address, method, who, things, others, request):
    for part in address.parts:
        if part in NOBODYS:
            continue
        for role in who - {NOBODY}:
            mixed = {**things, part: others[part]}
            answer = ask(request.getfixturevalue(BROWSERS[role]), method, address, mixed)
            assert answer.status_code == 404, role


@pytest.mark.parametrize(
    ("address", "method", "who"), [r for r in ROWS if set(r.values[0].parts) - OF_NO_CLIENT]
)
def test_those_who_left_are_found_by_the_owner_only(address, method, who, things_of_one_who_left, request):
    for role in who - {NOBODY}:
        answer = ask(request.getfixturevalue(BROWSERS[role]), method, address, things_of_one_who_left)
        if role == OWNER:
            assert answer.status_code != 404
        else:
            assert answer.status_code == 404, role
