"""A client's finder: verdicts of this client on this day, what may be left out, and what the address may tell.

Verdicts follow the judge, which has cases of its own. That forward rounding is left out with osteoporosis:
Giangregorio LM et al., Too Fit To Fracture, Osteoporos Int 2015;26:891-910, table 5.
"""

import datetime as dt
import re
from html import unescape

import pytest
from django.urls import reverse

from library.models import Exercise
from sessions import judging
from sessions.demo import factories as f
from sessions.forms.finding import ClientFindForm, HomeFindForm
from sessions.models import PlanItem
from studio.models import AuditEntry

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("now", "library")]

TODAY = dt.date(2026, 11, 25)
HTMX = {"HX-Request": "true", "HX-Target": "found"}


@pytest.fixture
def client():
    client = f.ClientFactory(full_name="Ottoline Brackwater", call_name="Ottoline")
    f.CareProfileFactory(client=client, home_equipment=["band"])
    return client


@pytest.fixture
def boned(client):
    f.FlagFactory(client=client, condition="osteoporosis")
    return client


def url(client):
    return reverse("sessions:find", args=[client.public_id])


def look(browser, client, **asked):
    return browser.get(url(client), asked)


def page(answer):
    return re.sub(r"\s+", " ", unescape(answer.content.decode()))


def found(answer):
    return {row["hit"].exercise.key: row["verdict"] for row in answer.context["rows"]}


def everything(browser, client, **asked):
    """Return key -> verdict of every stretch, as somebody sees it who scrolls to the end."""
    rows, answer = {}, look(browser, client, **asked)
    while True:
        rows |= found(answer)
        if not answer.context["next"]:
            return rows
        answer = look(browser, client, **asked, **{"from": answer.context["next"]})


def test_each_result_has_the_verdict_of_this_client(as_instructor, boned):
    rows = everything(as_instructor, boned)
    flags = list(boned.flags.all())
    assert len(rows) == Exercise.objects.with_content().count()
    assert rows["mat_roll_up"] == "avoid"
    for one in Exercise.objects.with_content():
        assert rows[one.key] == judging.judge_facts(flags, one.current.facts, TODAY).verdict, one.key


@pytest.mark.parametrize(
    ("choice", "out"),
    [("", set()), ("short", {"avoid"}), ("shortest", {"avoid", "modify"})],
    ids=["all", "short", "shortest"],
)
def test_what_the_flags_leave_out(as_instructor, boned, choice, out):
    whole = everything(as_instructor, boned)
    assert {"avoid", "modify"} <= set(whole.values())
    left = {key: verdict for key, verdict in whole.items() if verdict not in out}
    assert everything(as_instructor, boned, list=choice) == left


def test_with_what_is_at_home(as_instructor, client):
    facts = {one.key: one.current.facts for one in Exercise.objects.with_content()}
    wanted = {key for key, one in facts.items() if one["home_ok"] and set(one["home_props"]) <= {"band"}}
    assert set(everything(as_instructor, client, kit="on")) == wanted


def test_the_day_is_that_of_the_session(as_instructor, instructor, client):
    # A limit of days: the verdict on the day of the session, not of today.
    birth = f.FlagFactory(client=client, condition="postnatal_caesarean", on=TODAY - dt.timedelta(20))
    booking = f.BookingFactory(clients=[client], instructor=instructor, wall_day=TODAY + dt.timedelta(300))
    session = booking.attendances.get().public_id
    later = found(look(as_instructor, client, words="teaser", session=session))
    facts = {one.key: one.current.facts for one in Exercise.objects.with_content()}
    day = TODAY + dt.timedelta(300)
    assert later == {key: judging.judge_facts([birth], facts[key], day).verdict for key in later}
    assert later != found(look(as_instructor, client, words="teaser"))


def test_a_session_of_somebody_else_is_missing(as_instructor, instructor, client):
    booking = f.BookingFactory(clients=[f.ClientFactory()], instructor=instructor)
    other = booking.attendances.get().public_id
    assert look(as_instructor, client, session=other).status_code == 404
    assert look(as_instructor, client, session="nothing").status_code == 404


class TestWords:
    def test_silence_is_no_permission(self, as_instructor, client):
        shown = page(look(as_instructor, client, words="plank"))
        assert "No flags on file. That is not a permission." in shown
        assert "No rule is not a permission" in shown

    def test_it_says_whether_a_clinician_has_reviewed_the_table(self, as_instructor, boned):
        assert "not been reviewed by a licensed clinician" in page(look(as_instructor, boned, words="plank"))

    @pytest.mark.parametrize(
        "word", ["safe", "allowed", "suitable", "permitted", "cleared", "fits this", "OK"]
    )
    def test_no_word_gives_leave(self, as_instructor, boned, word):
        for asked in ({"words": "roll"}, {"list": "shortest"}, {"words": "qzxv"}):
            main = page(look(as_instructor, boned, **asked)).partition("<main")[2]
            text = re.sub("<[^>]+>", " ", main)
            assert not re.search(rf"\b{word}\b", text, 0 if word == "OK" else re.I)

    def test_the_address_tells_neither_name_nor_health(self, as_instructor, boned):
        answer = as_instructor.get(
            url(boned), {"words": "leg", "list": "shortest", "kit": "on"}, headers=HTMX
        )
        address = answer.headers["HX-Replace-Url"]
        assert address == f"{url(boned)}?words=leg&list=shortest&kit=on"
        names = {*ClientFindForm().fields, *HomeFindForm().fields, "session", "why", "from"}
        values = {str(value) for value, _words in ClientFindForm().fields["list"].choices}
        told = " ".join([address, *names, *values]).casefold()
        for word in (
            "ottoline",
            "brackwater",
            "osteo",
            "avoid",
            "modify",
            "watch",
            "flag",
            "verdict",
            "health",
        ):
            assert word not in told


class TestReasons:
    def test_one_touch_brings_the_whole_answer(self, as_instructor, boned):
        asked = {"why": Exercise.objects.get(key="mat_roll_up").public_id}
        part = page(as_instructor.get(url(boned), asked, headers=HTMX))
        assert "<h1" not in part and "<details" in part and " open" in part
        assert "Osteoporosis" in part

    def test_without_a_script_it_stands_open_in_the_list(self, as_instructor, boned):
        asked = {"words": "roll-up", "why": Exercise.objects.get(key="mat_roll_up").public_id}
        shown = look(as_instructor, boned, **asked)
        assert [row["hit"].exercise.key for row in shown.context["rows"] if row["sheet"]] == ["mat_roll_up"]
        assert "Osteoporosis" in page(shown).partition("found-list")[2]

    def test_an_exercise_that_is_not_there_is_missing(self, as_instructor, boned):
        assert as_instructor.get(url(boned), {"why": "nothing"}, headers=HTMX).status_code == 404


class TestAdding:
    def test_from_a_plan_one_touch_adds(self, as_instructor, instructor, client):
        attendance = f.BookingFactory(clients=[client], instructor=instructor).attendances.get()
        plan = f.PlanFactory(attendance=attendance, exercises=["mat_clam"])
        shown = page(look(as_instructor, client, words="plank", session=attendance.public_id))
        to = reverse("sessions:plan_add", args=[attendance.public_id])
        assert f'id="find-add" method="post" action="{to}"' in shown
        assert re.search(
            rf'form="find-add" name="exercise" value="{Exercise.objects.get(key="mat_plank").public_id}"',
            shown,
        )
        data = {"version": plan.version, "exercise": Exercise.objects.get(key="mat_plank").public_id}
        assert as_instructor.post(to, data).status_code == 302
        assert [item.exercise.key for item in PlanItem.objects.order_by("position")] == [
            "mat_clam",
            "mat_plank",
        ]

    def test_without_a_session_nothing_can_be_added(self, as_instructor, client):
        assert "find-add" not in page(look(as_instructor, client, words="plank"))


def test_looking_is_written_down(as_instructor, client):
    look(as_instructor, client, words="plank")
    assert AuditEntry.objects.filter(action="find.read", thing_id=client.public_id).count() == 1


def test_the_client_and_the_plan_lead_here(as_instructor, instructor, client):
    assert url(client) in page(as_instructor.get(reverse("sessions:client", args=[client.public_id])))
    attendance = f.BookingFactory(clients=[client], instructor=instructor).attendances.get()
    f.PlanFactory(attendance=attendance, exercises=["mat_clam"])
    add = reverse("sessions:plan_add", args=[attendance.public_id])
    assert f"{url(client)}?session={attendance.public_id}&words=leg" in page(
        as_instructor.get(add, {"words": "leg"})
    )


class TestPickers:
    def test_the_plans_picker_keeps_its_search_in_the_address(self, as_instructor, instructor, boned):
        attendance = f.BookingFactory(clients=[boned], instructor=instructor).attendances.get()
        f.PlanFactory(attendance=attendance, exercises=["mat_clam"])
        add = reverse("sessions:plan_add", args=[attendance.public_id])
        asked = {"words": "brigde", "apparatus": "mat", "list": "short", "skill": ""}
        answer = as_instructor.get(add, asked, headers={"HX-Request": "true", "HX-Target": "plan-found"})
        assert answer.headers["HX-Replace-Url"] == f"{add}?words=brigde&list=short&apparatus=mat"
        side = answer.context["side"]
        assert side["found"] and all(one["verdict"] != "avoid" for one in side["found"])
        assert {one["exercise"].current.facts["apparatus"] for one in side["found"]} == {"mat"}

    def test_adding_keeps_the_whole_search(self, as_instructor, instructor, boned):
        attendance = f.BookingFactory(clients=[boned], instructor=instructor).attendances.get()
        plan = f.PlanFactory(attendance=attendance, exercises=["mat_clam"])
        add = reverse("sessions:plan_add", args=[attendance.public_id])
        plank = Exercise.objects.get(key="mat_plank").public_id
        data = {"version": plan.version, "exercise": plank, "words": "plank", "list": "short", "other": "x"}
        assert as_instructor.post(add, data).url == f"{add}?words=plank&list=short"

    def test_home_practice_keeps_its_search_in_the_address(self, as_instructor, client):
        to = reverse("sessions:home_practice", args=[client.public_id])
        asked = {"add": "1", "words": "brigde", "level": "foundation"}
        answer = as_instructor.get(to, asked, headers={"HX-Request": "true", "HX-Target": "home-found"})
        assert answer.headers["HX-Replace-Url"] == f"{to}?add=1&words=brigde&level=foundation"
        assert answer.context["side"]["found"]
        assert as_instructor.get(answer.headers["HX-Replace-Url"]).context["side"]["kind"] == "add"


def test_queries_do_not_grow(as_instructor, boned, django_assert_num_queries):
    look(as_instructor, boned)
    for condition in ("hypertension_controlled", "glaucoma"):
        f.FlagFactory(client=boned, condition=condition)
    with django_assert_num_queries(len(_queries(as_instructor, boned, words="plank side"))):
        look(as_instructor, boned, list="shortest")


def _queries(browser, client, **asked):
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    with CaptureQueriesContext(connection) as caught:
        look(browser, client, **asked)
    return caught
