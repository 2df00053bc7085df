"""Flags at a glance and the parts this app draws on the client page.

Which demands a condition speaks to is the rule table's; here only the words and the order are looked at.
"""

import datetime as dt

import pytest
from django.template.loader import render_to_string

from clients import glance
from clients.models import Flag, Goal, Submission
from clients.views import parts
from library import regions, tables
from library.models import table_in_force
from sessions.demo.factories import (
    CareProfileFactory,
    ClientFactory,
    FlagFactory,
    GoalFactory,
    InstructionFactory,
    StudioRuleFactory,
    SubmissionFactory,
)
from studio.drawing import REGIONS

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("now")]

TODAY = dt.date(2026, 11, 25)


@pytest.fixture
def client(house):
    return ClientFactory()


def of(client):
    return list(Flag.objects.with_state().filter(client=client))


def test_chips_are_strictest_first_and_name_the_side(client):
    FlagFactory(client=client, condition="frozen_shoulder", side="left")
    found = glance.glance(of(client), TODAY)
    ranks = [("avoid", "modify", "watch").index(chip["verdict"]) for chip in found]
    assert ranks == sorted(ranks)
    assert found[0]["text"].endswith(", left")


def test_what_a_clinician_lifted_is_no_chip(client):
    InstructionFactory(client=client, about="inversion", verdict="none", words="Lifted", dated=TODAY)
    assert glance.glance(of(client), TODAY) == []
    assert [sheet["verdict"] for sheet in glance.sheets(of(client), TODAY)] == ["none"]


def test_instruction_on_an_exercise_is_named_by_it(client):
    InstructionFactory(client=client, about="mat_roll_up", verdict="avoid", dated=TODAY)
    name = tables.exercise("mat_roll_up")["name"]
    assert glance.glance(of(client), TODAY)[0]["text"] == name[:1].lower() + name[1:]


def test_reasons_carry_what_the_sheet_shows(client):
    FlagFactory(client=client, condition="knee_replacement", side="left", on=dt.date(2026, 11, 1))
    rows = [row for sheet in glance.sheets(of(client), TODAY) for row in sheet["rows"]]
    assert all(row["flag"] == "Knee replacement, left" for row in rows)
    assert any(row["until"] for row in rows)
    assert all(row["rule"] and row["text"] and row["sure"] for row in rows)
    # Where nothing is cited, how sure it is says so.
    assert all(row["sources"] or row["sure"] == "Common practice, no source." for row in rows)
    assert {row["condition"] for row in rows} == {"knee_replacement"}


def test_what_to_take_care_of_is_three_chips_and_the_rest_by_what_it_is_about(client):
    """30 weeks on 25 November 2026 is a due date of 3 February 2027: seven demands to leave out."""
    FlagFactory(client=client, condition="pregnancy", due_on=dt.date(2027, 2, 3))
    found = glance.care(of(client), TODAY)
    assert [sheet["verdict"] for sheet in found["first"]] == ["avoid"] * 3
    others = [sheet["verdict"] for group in found["groups"] for sheet in group["sheets"]]
    assert len(others) == found["left"] == len(glance.glance(of(client), TODAY)) - 3
    counts = [others.count(verdict) for verdict in ("avoid", "modify", "watch")]
    words = "{} more: {} Avoid, {} Modify, {} Watch".format(sum(counts), *counts)
    assert found["left_words"] == words
    for group in found["groups"]:
        ranks = [("avoid", "modify", "watch").index(sheet["verdict"]) for sheet in group["sheets"]]
        assert ranks == sorted(ranks)
    assert len({group["label"] for group in found["groups"]}) == len(found["groups"])
    assert glance.care(of(client), TODAY, whole=False)["groups"] == []


def test_what_a_clinician_lifted_is_behind_the_chips_and_not_counted(client):
    InstructionFactory(client=client, about="inversion", verdict="none", words="Lifted", dated=TODAY)
    found = glance.care(of(client), TODAY)
    assert (found["first"], found["left"], found["left_words"]) == ([], 0, "")
    assert [sheet["verdict"] for sheet in found["groups"][0]["sheets"]] == ["none"]


def test_every_place_is_a_condition_and_a_part_that_is_drawn():
    assert set(regions.PLACES) <= set(tables.rule_table().conditions)
    assert {region for regions in regions.PLACES.values() for region in regions} <= set(REGIONS)


def test_every_sided_condition_with_a_body_part_has_a_place():
    """A stroke has a side and no single part."""
    sided = {name for name, row in tables.rule_table().conditions.items() if row["sided"]}
    assert sided - set(regions.PLACES) == {"stroke"}


def test_spots_name_each_part_once(client):
    FlagFactory(client=client, condition="frozen_shoulder", side="left")
    FlagFactory(client=client, condition="shoulder_impingement", side="left")
    FlagFactory(client=client, condition="scoliosis")
    assert regions.spots(of(client)) == [("shoulder", "left"), ("upper_back", None)]


def test_before_the_start_is_strictest_first(client):
    FlagFactory(client=client, condition="pregnancy", due_on=dt.date(2027, 6, 1))
    FlagFactory(client=client, condition="stroke", side="left")
    levels = [row["level"] for row in glance.before_start(of(client), TODAY)]
    assert levels == ["written_before_start", "ask"]


# The includes for the client page


def drawn(name, client, **context):
    return render_to_string(f"clients/{name}.html", {"client": client, **context})


def test_flags_part(client):
    FlagFactory(client=client, condition="frozen_shoulder", side="left")
    FlagFactory(client=client, condition="scoliosis", state="proposed")
    text = drawn("_flags", client, **parts.flags_part(of(client), TODAY))
    assert "One flag waits to be settled." in text
    assert "body-ring" in text
    assert "Frozen shoulder" in text
    assert "coliosis" not in text


def test_flags_part_without_flags(client):
    text = drawn("_flags", client, **parts.flags_part([], TODAY))
    assert "That is not a permission." in text


def test_answers_part(client):
    SubmissionFactory(client=client, answers={"groups": {"eyes_neuro": "not_sure"}})
    rows = Submission.objects.filter(client=client)
    text = drawn("_answers", client, **parts.answers_part(rows))
    assert "Ask about eyes, head and nerves: not sure" in text
    assert "Form missing" in drawn("_answers", client, **parts.answers_part([]))


def test_goals_part(client):
    GoalFactory(client=client, words="Top shelf", ratings=[(dt.date(2026, 11, 1), 3), (TODAY, 5)])
    text = drawn("_goals", client, goals=Goal.objects.prefetch_related("ratings"))
    assert "Top shelf" in text
    assert "5 of 10 on 25 Nov" in text


@pytest.mark.parametrize(
    ("measured_in", "stature", "mass"),
    [("metric", "167.6 cm", "68 kg"), ("imperial", "5 ft 6 in", "149.9 lb")],
)
def test_care_part(client, measured_in, stature, mass):
    care = CareProfileFactory(
        client=client, touch="ask", home_equipment=["band"], stature_mm=1676, mass_g=68000
    )
    text = drawn("_care", client, **parts.care_part(care, measured_in))
    for words in ("Ask each time", "band", stature, mass):
        assert words in text


def test_care_part_without_a_profile(client):
    assert "Not asked yet." in drawn("_care", client, **parts.care_part(None, "metric"))


def test_contact_part(client):
    text = drawn("_contact", client)
    assert client.telephone in text
    assert client.emergency_name in text


class TestWhatIsKept:
    """Words at a glance are kept by what flags say, day, table and language, and by nothing less."""

    def test_asked_twice_it_is_the_same(self, client):
        FlagFactory(client=client, condition="frozen_shoulder", side="left")
        assert glance.care(of(client), TODAY) is glance.care(of(client), TODAY)
        assert glance.glance(of(client), TODAY) == glance.glance(of(client), TODAY)

    def test_another_side_another_day_and_the_part_are_another(self, client):
        FlagFactory(client=client, condition="frozen_shoulder", side="left")
        right = ClientFactory()
        FlagFactory(client=right, condition="frozen_shoulder", side="right")
        assert glance.care(of(client), TODAY) != glance.care(of(right), TODAY)
        assert glance.care(of(client), TODAY) != glance.care(of(client), TODAY, whole=False)
        FlagFactory(client=client, condition="knee_replacement", side="left", on=TODAY)
        assert glance.care(of(client), TODAY) != glance.care(of(client), TODAY + dt.timedelta(days=400))

    def test_a_flag_more_shows_at_once(self, client):
        before = glance.care(of(client), TODAY)
        FlagFactory(client=client, condition="frozen_shoulder", side="left")
        assert glance.care(of(client), TODAY) != before
        assert glance.glance(of(client), TODAY)

    def test_a_rule_of_the_studio_shows_at_once(self, client):
        FlagFactory(client=client, condition="frozen_shoulder", side="left")
        before = glance.care(of(client), TODAY, table=table_in_force())
        StudioRuleFactory(condition="frozen_shoulder", demand="inversion", reason="Because we say so.")
        after = glance.care(of(client), TODAY, table=table_in_force())
        assert ["Because we say so." in str(one) for one in (before, after)] == [False, True]
