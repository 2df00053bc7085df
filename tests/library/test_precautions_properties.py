"""What must hold for any client and any exercise, tried on many made-up ones."""

from dataclasses import replace
from datetime import date, timedelta
from types import SimpleNamespace

from hypothesis import given, settings
from hypothesis import strategies as st

from library import lifts, supine
from library.precautions import chips, judge, supine_spells
from library.tables import Rule, exercises, rule_table, with_rules
from library.verdicts import RANK

TABLE = rule_table()
ON = date(2026, 11, 25)
MIRROR = {"left": "right", "right": "left"}
FIELDS = ("condition", "instruction", "verdict", "words", "by", "until", "side", "on", "due")

days = st.integers(-400, 400).map(lambda n: ON - timedelta(days=n))
event = st.one_of(st.none(), st.just("long_ago"), days)
flag_side = st.sampled_from([None, "left", "right", "both", "unknown"])
record_side = st.sampled_from([None, "left", "right"])
exercise_ids = st.sampled_from(sorted(exercises()))


def make(**kwargs):
    return SimpleNamespace(**{**dict.fromkeys(FIELDS), **kwargs})


conditions = st.builds(
    make,
    condition=st.sampled_from([*TABLE.conditions, "not_in_the_table"]),
    side=flag_side,
    on=event,
    due=st.one_of(st.none(), days),
)
words = st.builds(
    make,
    instruction=st.one_of(st.sampled_from([*TABLE.demands]), exercise_ids),
    verdict=st.sampled_from(["avoid", "modify", "watch", "none"]),
    side=flag_side,
    until=st.one_of(st.none(), days),
    words=st.just("as agreed"),
    by=st.sampled_from(["Dr Osei", "Ms Lind"]),
)
# Any code of the closed list, with those of a row much more often, as each exercise names few of them.
CODES = sorted({code for fact in exercises().values() for code in fact["adaptations"]})
LIFTING = sorted({row.adaptation for id in exercises() for row in lifts.of_exercise(id)})
picked = st.lists(st.one_of(st.sampled_from(LIFTING), st.sampled_from([*CODES, "no_such_code"])), max_size=5)
lifted_ids = st.sampled_from([id for id in exercises() if lifts.of_exercise(id)])


def with_codes(ids):
    """An exercise and some of its own adaptations."""
    return ids.flatmap(
        lambda id: st.tuples(
            st.just(id), st.lists(st.sampled_from(exercises()[id]["adaptations"]), max_size=4)
        )
    )


adapted = with_codes(lifted_ids)


@st.composite
def studio_rules(draw):
    condition = draw(st.sampled_from([*TABLE.conditions.values()]))
    start, length = draw(st.integers(0, 200)), draw(st.integers(1, 200))
    days = st.sampled_from([(None, None), (start, None), (None, length), (start, start + length)])
    from_day, to_day = draw(days) if condition["window_basis"] != "ongoing" else (None, None)
    basis = "ongoing" if (from_day, to_day) == (None, None) else condition["window_basis"]
    row = {"condition": condition["id"], "demand": draw(st.sampled_from([*TABLE.demands]))}
    row |= {"verdict": draw(st.sampled_from(["avoid", "modify", "watch"])), "sources": ["studio"]}
    row |= {
        "window": {"basis": basis, "from_day": from_day, "to_day": to_day},
        "reason": "",
        "adaptation": "",
    }
    return row | {"id": "studio-x", "spell": draw(st.sampled_from([None, "short", "long"]))}


flag_lists = st.lists(st.one_of(conditions, words), max_size=6)


def ranks(judged):
    return {None: RANK[judged.verdict]} | {d: RANK[found.verdict] for d, found in judged.demands.items()}


def without_places(judged):
    """The judgement without the places of the flags, which follow the order they were given in."""

    def bare(reasons):
        return tuple(sorted((replace(reason, flag=None) for reason in reasons), key=repr))

    demands = {
        d: (f.verdict, bare(f.reasons), f.loads, f.sides, f.carries, f.without, f.added_by)
        for d, f in judged.demands.items()
    }
    return judged.verdict, demands, bare(judged.exercise_reasons)


@settings(max_examples=300, deadline=None)
@given(flag_lists, conditions, with_codes(exercise_ids), record_side)
def test_adding_a_condition_never_makes_a_verdict_laxer(flags, more, adapted, side):
    exercise, codes = adapted
    before = ranks(judge(flags, exercise, ON, side=side, adaptations=codes))
    after = ranks(judge([*flags, more], exercise, ON, side=side, adaptations=codes))
    assert all(after[demand] >= rank for demand, rank in before.items())


@settings(max_examples=200, deadline=None)
@given(flag_lists.flatmap(lambda f: st.tuples(st.just(f), st.permutations(f))), adapted, record_side)
def test_the_order_of_flags_and_of_adaptations_never_matters(lists, adapted, side):
    given_order, other_order = lists
    exercise, codes = adapted
    first = judge(given_order, exercise, ON, side=side, adaptations=codes)
    second = judge(other_order, exercise, ON, side=side, adaptations=codes[::-1])
    assert first.carries == second.carries
    assert without_places(first) == without_places(second)
    assert [(c.verdict, c.demand, c.exercise, c.condition) for c in chips(given_order, ON)] == [
        (c.verdict, c.demand, c.exercise, c.condition) for c in chips(other_order, ON)
    ]


@settings(max_examples=200, deadline=None)
@given(conditions, exercise_ids, record_side)
def test_long_ago_is_never_stricter_than_unknown_and_no_date_is_either(flag, exercise, side):
    def judged(on, due=None):
        changed = make(**{**vars(flag), "on": on, "due": due})
        return ranks(judge([changed], exercise, ON, side=side))

    unknown = judged(None)
    for known in (judged("long_ago"), judged(flag.on, flag.due)):
        assert all(known[demand] <= rank for demand, rank in unknown.items())


def mirrored(flag):
    return make(**{**vars(flag), "side": MIRROR.get(flag.side, flag.side)})


@settings(max_examples=200, deadline=None)
@given(flag_lists, with_codes(exercise_ids), record_side)
def test_a_mirrored_client_and_record_give_the_mirrored_verdict(flags, adapted, side):
    exercise, codes = adapted
    one = judge(flags, exercise, ON, side=side, adaptations=codes)
    other = judge([mirrored(flag) for flag in flags], exercise, ON, side=MIRROR.get(side), adaptations=codes)
    assert ranks(one) == ranks(other)
    assert one.carries == other.carries
    for demand, found in one.demands.items():
        twin = other.demands[demand]
        assert twin.loads == MIRROR.get(found.loads, found.loads)
        assert dict(twin.sides) == {MIRROR[s]: verdict for s, verdict in found.sides.items()}


@settings(max_examples=200, deadline=None)
@given(flag_lists, exercise_ids)
def test_judging_both_sides_is_the_stricter_of_the_two(flags, exercise):
    both = ranks(judge(flags, exercise, ON))
    left = ranks(judge(flags, exercise, ON, side="left"))
    right = ranks(judge(flags, exercise, ON, side="right"))
    assert both == {demand: max(left[demand], right[demand]) for demand in both}


@settings(max_examples=200, deadline=None)
@given(flag_lists, exercise_ids, record_side)
def test_a_verdict_is_held_up_by_reasons_as_strict_as_itself(flags, exercise, side):
    judged = judge(flags, exercise, ON, side=side)
    assert (judged.verdict == "none") or judged.deciding
    assert all(RANK[r.verdict] <= RANK[judged.verdict] for r in judged.reasons if not r.outranked)
    whole = max((RANK[r.verdict] for r in judged.exercise_reasons), default=0)
    parts = max((RANK[found.verdict] for found in judged.demands.values()), default=0)
    assert RANK[judged.verdict] == max(whole, parts)


@settings(max_examples=200, deadline=None)
@given(st.lists(conditions, max_size=5), exercise_ids)
def test_no_demand_of_an_exercise_is_stricter_than_its_chip(flags, exercise):
    at_a_glance = {chip.demand: RANK[chip.verdict] for chip in chips(flags, ON) if chip.demand}
    for demand, found in judge(flags, exercise, ON).demands.items():
        assert RANK[found.verdict] <= at_a_glance.get(demand, 0)


@settings(max_examples=100, deadline=None)
@given(flag_lists, exercise_ids, st.integers(0, 400))
def test_dates_matter_only_through_rules_that_have_dates(flags, exercise, later):
    undated = [flag for flag in flags if not flag.until]
    ongoing = [
        flag
        for flag in undated
        if flag.instruction or all(rule.basis == "ongoing" for rule in TABLE.rules_of.get(flag.condition, ()))
    ]
    now = judge(ongoing, exercise, ON)
    then = judge(ongoing, exercise, ON + timedelta(days=later))
    assert ranks(now) == ranks(then)


@settings(max_examples=150, deadline=None)
@given(flag_lists, exercise_ids, event, days, days)
def test_a_date_matters_only_where_a_rule_of_its_condition_has_dates(flags, exercise, on, due, later):
    def undated(flag):
        return not flag.instruction and {rule.basis for rule in TABLE.rules_of.get(flag.condition, ())} <= {
            "ongoing"
        }

    changed = [make(**{**vars(flag), "on": on, "due": due}) if undated(flag) else flag for flag in flags]
    assert ranks(judge(changed, exercise, ON)) == ranks(judge(flags, exercise, ON))


# Adaptations that lift a demand.


@settings(max_examples=200, deadline=None)
@given(flag_lists, adapted, record_side)
def test_a_lift_never_gives_less_than_modify_where_it_was_avoid_or_modify(flags, adapted, side):
    exercise, codes = adapted
    plain = judge(flags, exercise, ON, side=side)
    held = judge(flags, exercise, ON, side=side, adaptations=codes)
    for demand, before in ranks(plain).items():
        after = ranks(held)[demand]
        assert after >= min(before, RANK["modify"])
        assert (before == 0) == (after == 0) or after > before
    assert RANK[held.verdict] >= min(RANK[plain.verdict], RANK["modify"])


@settings(max_examples=200, deadline=None)
@given(flag_lists, adapted, record_side)
def test_a_verdict_says_what_it_rests_on(flags, adapted, side):
    exercise, codes = adapted
    judged = judge(flags, exercise, ON, side=side, adaptations=codes)
    plain = judge(flags, exercise, ON, side=side)
    if RANK[judged.verdict] < RANK[plain.verdict]:
        assert judged.carries
    assert set(judged.carries) <= set(codes)
    without = judge(flags, exercise, ON, side=side, adaptations=[c for c in codes if c not in judged.carries])
    assert not judged.carries or RANK[without.verdict] > RANK[judged.verdict]
    for demand, found in judged.demands.items():
        assert (found.carries is None) == (found.without is None)
        assert found.carries is None or RANK[found.without] >= RANK[found.verdict] == RANK["modify"]
        if RANK[found.verdict] < ranks(plain).get(demand, 0):
            assert found.carries in codes


@settings(max_examples=200, deadline=None)
@given(flag_lists, exercise_ids, picked, record_side)
def test_adaptations_that_no_row_names_for_the_exercise_change_nothing(flags, exercise, codes, side):
    # What is done lying after all is on the back, whatever the rows say.
    idle = [c for c in codes if not lifts.chosen(exercise, [c]) and c != supine.LIES_DOWN]
    assert judge(flags, exercise, ON, side=side, adaptations=idle) == judge(flags, exercise, ON, side=side)


@settings(max_examples=200, deadline=None)
@given(st.lists(words, max_size=3), conditions, adapted, record_side)
def test_a_lift_changes_nothing_that_a_clinician_said(said, flag, adapted, side):
    exercise, codes = adapted
    alone = judge(said, exercise, ON, side=side, adaptations=codes)
    for demand, found in judge([*said, flag], exercise, ON, side=side, adaptations=codes).demands.items():
        assert RANK[found.verdict] >= RANK[alone.demands[demand].verdict]
        by_clinician = [reason for reason in found.reasons if reason.kind == "instruction"]
        assert not any(reason.lifted_by for reason in by_clinician)
        assert not any(reason.lifted_by and reason.outranked for reason in found.reasons)


# A studio's own rules.


@settings(max_examples=200, deadline=None)
@given(flag_lists, studio_rules(), with_codes(exercise_ids), record_side)
def test_a_rule_of_the_studio_never_makes_a_verdict_laxer(flags, row, adapted, side):
    exercise, codes = adapted
    here = [flag.condition for flag in flags if flag.condition in TABLE.conditions]
    demands = exercises()[exercise]["demands"]
    if here and demands and row["window"]["basis"] == "ongoing":
        row = {**row, "condition": here[0], "demand": demands[0]}  # a rule that speaks here
    table = with_rules(TABLE, [Rule.from_row(row)], "x")
    for seconds in (None, 60):
        how = {"side": side, "adaptations": codes, "supine_seconds": seconds}
        before, after = (ranks(judge(flags, exercise, ON, table=t, **how)) for t in (TABLE, table))
        assert all(after[demand] >= rank for demand, rank in before.items())


# Minutes on the back.

pauses = st.integers(0, 120)
entries = st.tuples(exercise_ids, st.one_of(st.none(), st.integers(1, 20)), picked)
plans = st.lists(st.one_of(entries, pauses), max_size=10)
place = st.integers(0, 10)


def longest(plan, pace=1.6):
    return max(supine_spells(plan, pace), default=0)


@settings(max_examples=200, deadline=None)
@given(plans, entries, place)
def test_adding_an_entry_that_ends_no_spell_never_shortens_the_longest(plan, more, at):
    exercise, _, codes = more
    if supine.row(exercises()[exercise], 600, codes).ends_spell:
        more = (exercise, 1, [])  # not one that gets off the back
        if supine.row(exercises()[exercise], 600).ends_spell:
            more = ("mat_pelvic_tilt", None, [])
    assert longest([*plan[:at], more, *plan[at:]]) >= longest(plan)


@settings(max_examples=200, deadline=None)
@given(plans, st.integers(60, 300), place)
def test_a_pause_of_a_minute_never_lengthens_a_spell(plan, pause, at):
    parted = supine_spells([*plan[:at], pause, *plan[at:]], 1.6)
    whole = supine_spells(plan, 1.6)
    assert max(parted, default=0) <= max(whole, default=0)
    assert len(whole) <= len(parted) <= len(whole) + 1
    # Whole seconds are rounded up once a spell, so two halves may be a second more together.
    assert sum(whole) <= sum(parted) <= sum(whole) + 1


@settings(max_examples=200, deadline=None)
@given(plans, st.integers(0, 59), place)
def test_a_pause_under_a_minute_changes_nothing(plan, pause, at):
    assert supine_spells([*plan[:at], pause, *plan[at:]], 1.6) == supine_spells(plan, 1.6)


@settings(max_examples=200, deadline=None)
@given(plans)
def test_a_slower_pace_never_shortens_the_time_on_the_back_alone(plan):
    on_the_back = [entry for entry in plan if not isinstance(entry, int) and _stays_down(entry)]
    assert longest(on_the_back, 2.0) >= longest(on_the_back, 1.6)


def _stays_down(entry):
    return not supine.row(exercises()[entry[0]], 600, entry[2]).ends_spell
