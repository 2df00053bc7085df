"""What must hold for any client and any exercise, tried on many made-up ones."""

from dataclasses import replace
from datetime import date, timedelta
from types import SimpleNamespace

from hypothesis import given, settings
from hypothesis import strategies as st

from library.precautions import chips, judge
from library.tables import exercises, rule_table
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
flag_lists = st.lists(st.one_of(conditions, words), max_size=6)


def ranks(judged):
    return {None: RANK[judged.verdict]} | {d: RANK[found.verdict] for d, found in judged.demands.items()}


def without_places(judged):
    """The judgement without the places of the flags, which follow the order they were given in."""

    def bare(reasons):
        return tuple(sorted((replace(reason, flag=None) for reason in reasons), key=repr))

    demands = {d: (f.verdict, bare(f.reasons), f.loads, f.sides) for d, f in judged.demands.items()}
    return judged.verdict, demands, bare(judged.exercise_reasons)


@settings(max_examples=300, deadline=None)
@given(flag_lists, conditions, exercise_ids, record_side)
def test_adding_a_condition_never_makes_a_verdict_laxer(flags, more, exercise, side):
    before = ranks(judge(flags, exercise, ON, side=side))
    after = ranks(judge([*flags, more], exercise, ON, side=side))
    assert all(after[demand] >= rank for demand, rank in before.items())


@settings(max_examples=200, deadline=None)
@given(flag_lists.flatmap(lambda f: st.tuples(st.just(f), st.permutations(f))), exercise_ids, record_side)
def test_the_order_of_flags_never_matters(lists, exercise, side):
    given_order, other_order = lists
    first = judge(given_order, exercise, ON, side=side)
    second = judge(other_order, exercise, ON, side=side)
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
@given(flag_lists, exercise_ids, record_side)
def test_a_mirrored_client_and_record_give_the_mirrored_verdict(flags, exercise, side):
    one = judge(flags, exercise, ON, side=side)
    other = judge([mirrored(flag) for flag in flags], exercise, ON, side=MIRROR.get(side))
    assert ranks(one) == ranks(other)
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
