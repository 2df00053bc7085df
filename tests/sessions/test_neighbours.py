"""What its neighbours make of a row: minutes on the back, quick changes of position, and adaptations that lift.

The worked plans are reckoned by hand from the library's repetitions and seconds at a pace of 1.6: a pelvic curl
takes 106 s, a clam 184 s. That short spells on the back are taken in mid-pregnancy and long ones left out:
Leeds Teaching Hospitals, page on exercise in pregnancy, and SOGC/CSEP 2019; the three minutes and the minute of
rest are common practice, no source.
"""

import datetime as dt
from dataclasses import replace
from types import SimpleNamespace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from library import tables
from library.verdicts import RANK
from sessions import judging, plan_wording, planning
from sessions.judging import PlanRow

TODAY = dt.date(2026, 11, 25)
PACE = planning.Pace()
WEDGE = "trunk_raised_on_wedge"


def flag(condition, **said):
    values = dict.fromkeys(("instruction", "until", "on", "due"), None)
    values |= dict.fromkeys(("verdict", "words", "by", "side"), "")
    return SimpleNamespace(condition=condition, **(values | said))


TWENTY_WEEKS = [flag("pregnancy", due=TODAY + dt.timedelta(weeks=20))]


def row(key, *adaptations, pause=0):
    facts = tables.exercise(key)
    count = planning.usual_repetitions(facts)
    sided = planning.is_sided(facts)
    time = planning.Row(facts, **({"left": count, "right": count} if sided else {"both": count}), pause=pause)
    return PlanRow(time, sides="both" if sided else "", adaptations=adaptations)


def verdicts(flags, rows, **more):
    return [judgement.verdict for judgement in judging.judge_rows(flags, rows, TODAY, pace=PACE, **more)]


CURL, CLAM = row("mat_pelvic_curl"), row("mat_clam")


@pytest.mark.parametrize(
    "rows, seconds, said",
    [
        ([CURL], [106], ["modify"]),
        ([CURL, CURL], [212, 212], ["avoid", "avoid"]),
        ([row("mat_pelvic_curl", pause=60), CURL], [106, 106], ["modify", "modify"]),
        ([row("mat_pelvic_curl", pause=120), CURL], [106, 106], ["modify", "modify"]),
        ([row("mat_pelvic_curl", pause=30), CURL], [212, 212], ["avoid", "avoid"]),
        ([CURL, CLAM, CURL], [106, None, 106], ["modify", "watch", "modify"]),
        ([CURL, row("mat_chest_lift", WEDGE), CURL], [212, 305, 212], ["avoid", "modify", "avoid"]),
    ],
    ids=[
        "alone",
        "two in a row",
        "a minute between",
        "two minutes between",
        "half a minute does not end it",
        "on the side between",
        "a raised trunk neither adds nor ends",
    ],
)
def test_minutes_on_the_back_add_up(rows, seconds, said):
    places = judging.places(rows, PACE)
    assert [place.supine_seconds for place in places] == pytest.approx(seconds, abs=1)
    clam = [place for place, one in enumerate(rows) if one is CLAM]
    found = verdicts(TWENTY_WEEKS, rows)
    assert [v for n, v in enumerate(found) if n not in clam] == [
        v for n, v in enumerate(said) if n not in clam
    ]


def test_a_long_spell_names_its_other_rows():
    places = judging.places([row("mat_breath_supine", pause=60), CURL, CURL, CURL], PACE)
    assert [place.together for place in places] == [(0,), (1, 2, 3), (1, 2, 3), (1, 2, 3)]
    assert plan_wording.spell_words(places[0], 0) == ""
    assert plan_wording.spell_words(places[1], 1) == "6 min on the back with 3 and 4"


def test_a_row_at_the_end_has_the_place_it_gets_there():
    rows = [row("mat_clam"), row("mat_pelvic_curl", pause=60), CURL]
    tail = judging.tail(rows, PACE)
    assert len(tail) == 1
    for more in (CURL, row("st_single_leg_stand"), row("mat_chest_lift", WEDGE)):
        whole = judging.places([*rows, more], PACE)[-1]
        assert judging.at_the_end(tail, more, PACE, before=2) == whole


# Standing up at once drops the pressure; slowly, less so (Gerontology 2017;63:137). The half minute is common
# practice, no source.
@pytest.mark.parametrize(
    "before, after, quick",
    [
        (row("mat_clam"), row("st_single_leg_stand"), True),
        (row("st_single_leg_stand"), row("mat_clam"), True),
        (row("mat_clam", pause=30), row("st_single_leg_stand"), False),
        (row("sc_seated_march"), row("st_single_leg_stand"), False),
        (row("mat_breath_supine", "do_seated"), row("st_single_leg_stand"), False),
        (row("mat_clam"), row("st_heel_raise", "do_seated"), False),
    ],
    ids=[
        "side to standing",
        "and back",
        "half a minute between",
        "from sitting",
        "done seated",
        "into sitting",
    ],
)
def test_a_quick_change_is_the_following_rows(before, after, quick):
    faint = [flag("orthostatic_hypotension")]
    first, second = judging.judge_rows(faint, [before, after], TODAY, pace=PACE)
    assert ("rapid_position_change" in second.demands) is quick
    assert "rapid_position_change" not in first.demands
    assert (second.verdict == "avoid") is quick


def test_what_would_lift_is_offered_with_what_it_becomes():
    rows = [CURL, row("mat_chest_lift")]
    assert judging.lifting(TWENTY_WEEKS, rows, 1, TODAY, pace=PACE) == [((WEDGE,), "modify")]
    assert plan_wording.offer_words((WEDGE,), "modify") == "With trunk raised on a wedge: modify"


def test_two_changes_together_where_none_alone_would_do():
    found = judging.lifting([flag("osteoporosis")], [row("mat_saw")], 0, TODAY, pace=PACE)
    assert found == [(("smaller_range", "keep_spine_long"), "modify")]


def test_nothing_is_offered_where_no_rule_asks_for_it():
    assert judging.lifting([], [CURL, row("mat_chest_lift")], 1, TODAY, pace=PACE) == []


def test_what_a_row_rests_on_is_kept_and_said():
    rows = [CURL, row("mat_chest_lift", WEDGE)]
    kept = judging.judged(TWENTY_WEEKS, rows[1], judging.places(rows, PACE)[1], TODAY)
    assert (kept["verdict"], kept["carries"], kept["without"]) == ("modify", [WEDGE], "avoid")
    assert kept["supine_seconds"] == 199
    assert kept["table_version"] == tables.rule_table().version
    assert plan_wording.lift_words(kept) == "Trunk raised on a wedge: without it avoid"


def test_a_stricter_table_of_the_studio_counts():
    table = tables.rule_table()
    line = {
        "id": "studio-1",
        "condition": "pregnancy",
        "demand": "side_lying",
        "verdict": "avoid",
        "window": {"basis": "ongoing", "from_day": None, "to_day": None},
        "reason": "Ours.",
        "adaptation": "",
        "sources": [],
    }
    ours = tables.with_rules(table, [tables.Rule.from_row(line)], "ours")
    assert verdicts(TWENTY_WEEKS, [CLAM]) != ["avoid"]
    assert verdicts(TWENTY_WEEKS, [CLAM], table=ours) == ["avoid"]


def test_a_condition_outside_the_table_is_never_silent():
    place = judging.places([CLAM], PACE)[0]
    kept = judging.judged([flag("moon_sickness")], CLAM, place, TODAY)
    assert kept["verdict"] == "watch"
    assert [reason["kind"] for reason in kept["reasons"]] == ["ask"]


KEYS = (
    "mat_pelvic_curl",
    "mat_chest_lift",
    "mat_breath_supine",
    "mat_knee_fold",
    "mat_clam",
    "mat_saw",
    "mat_cat",
    "mat_spine_twist",
    "st_single_leg_stand",
    "st_roll_down",
    "sc_seated_march",
)
FLAGS = (
    TWENTY_WEEKS[0],
    flag("osteoporosis"),
    flag("orthostatic_hypotension"),
    flag("hypertension_uncontrolled"),
    flag("spinal_stenosis"),
)


@st.composite
def plans(draw):
    """A plan of a few rows with some of their adaptations and rests, and some flags."""
    rows = []
    for key in draw(st.lists(st.sampled_from(KEYS), min_size=1, max_size=7)):
        listed = tables.exercise(key)["adaptations"]
        chosen = draw(st.lists(st.sampled_from(listed), unique=True, max_size=2))
        rows.append(row(key, *chosen, pause=draw(st.sampled_from((0, 0, 30, 60)))))
    return draw(st.lists(st.sampled_from(FLAGS), unique_by=id, max_size=3)), rows


@settings(max_examples=150, deadline=None)
@given(plans())
def test_taking_a_lift_out_brings_the_ordinary_verdict_back(plan):
    flags, rows = plan
    for place, kept in enumerate(judged(flags, rows)):
        if not kept["carries"]:
            assert kept["without"] is None
            continue
        assert kept["verdict"] == "modify"
        assert RANK[kept["without"]] > RANK["modify"]
        left = tuple(code for code in rows[place].adaptations if code not in kept["carries"])
        plain = [*rows[:place], replace(rows[place], adaptations=left), *rows[place + 1 :]]
        # A row that gets up may make the way into it slow; that is not the lift's doing.
        if judging.places(plain, PACE)[place].added == judging.places(rows, PACE)[place].added:
            assert judged(flags, plain)[place]["verdict"] == kept["without"]


@settings(max_examples=150, deadline=None)
@given(plans(), st.randoms())
def test_order_matters_only_through_spells_and_quick_changes(plan, random):
    flags, rows = plan
    order = list(range(len(rows)))
    random.shuffle(order)
    shuffled = [rows[n] for n in order]
    limit = tables.rule_table().supine_limit_s

    def around(place):
        return place.supine_seconds is not None and place.supine_seconds <= limit, place.added

    before, after = judging.places(rows, PACE), judging.places(shuffled, PACE)
    said, said_then = verdicts(flags, rows), verdicts(flags, shuffled)
    for now, then in enumerate(order):
        if around(before[then]) == around(after[now]):
            assert said[then] == said_then[now]


@settings(max_examples=100, deadline=None)
@given(plans())
def test_what_is_offered_is_less_strict_and_never_silent(plan):
    flags, rows = plan
    found = verdicts(flags, rows)
    for place in range(len(rows)):
        for codes, verdict in judging.lifting(flags, rows, place, TODAY, pace=PACE):
            assert verdict != "none"
            assert RANK[verdict] <= RANK[found[place]]
            assert set(codes) <= set(rows[place].facts["adaptations"])


def judged(flags, rows):
    placed = zip(rows, judging.places(rows, PACE), strict=True)
    return [judging.judged(flags, one, place, TODAY) for one, place in placed]
