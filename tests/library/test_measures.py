"""Change, gap and gap change against published limits, and the facts of the measures against their sources."""

from dataclasses import replace
from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from library import measures, tables
from library.measures import Change, all_measures, change, confirmed, gap, gap_change, measure

KNEE = measure("knee_to_wall_lunge")
REACH = measure("back_saver_sit_and_reach")
BRIDGE = measure("side_bridge")
# Made up after published tests, for rules that none of the three needs: a ceiling of 45 s as in Springer et al., J
# Geriatr Phys Ther 2007;30:8-15, with the limit of 24.1 s of Goldberg et al., Gait Posture 2011;33:737-739.
STANCE = replace(
    BRIDGE, id="stance", ceiling=D(45), change_limit=replace(BRIDGE.change_limit, value=D("24.1"))
)
NO_LIMIT = replace(KNEE, id="no_limit", change_limit=None, sem=None)
SLOWER = replace(KNEE, id="slower_is_worse", direction="lower")
NEUTRAL = replace(KNEE, id="neutral", direction="neutral")


@pytest.mark.parametrize(
    ("of", "limit", "level", "source"),
    [
        # Powden et al., Man Ther 2015;20:524-532, abstract: average of the same-clinician studies, level not stated.
        pytest.param(KNEE, "1.9", None, "Powden2015", id="knee to wall"),
        # J Sports Sci Med 2009;8(1):116-122, Table 1.
        pytest.param(REACH, "4", 95, "LopezMinarro2009", id="seated reach"),
        # Juan-Recio et al., Biology 2022;11(7):1043: typical error 10.95 s, times 1.96 times root 2.
        pytest.param(BRIDGE, "30.4", 95, "JuanRecio2022", id="side bridge"),
    ],
)
def test_limits_are_those_of_the_studies(of, limit, level, source):
    assert of.limit == D(limit)
    assert of.change_limit.level == level
    assert source in of.change_limit.sources


def test_facts_hold_together():
    known = tables.rule_table().demands
    for of in all_measures().values():
        assert of.protocol.startswith(f"{of.id}.")
        assert set(of.demands) <= set(known)
        for demand, means in of.demands.items():
            assert (means is not None) == known[demand]["sided"], f"{of.id}: {demand}"
        assert of.minimum % of.step == of.maximum % of.step == 0
        assert (of.score == "single") == (of.tries == 1)
        cited = {*of.sources, *of.change_limit.sources, *(of.sem.sources if of.sem else ())}
        assert all(measures.source(key)["citation"] for key in cited)
        assert len(measures.words(of.id).how) == 3


def test_an_unknown_measure_is_an_error():
    with pytest.raises(LookupError):
        measure("grip_strength_of_nobody")


@pytest.mark.parametrize(
    ("of", "before", "now", "kind", "amount", "direction", "reason"),
    [
        pytest.param(KNEE, "6.0", "7.9", "real", "1.9", "better", "", id="at the limit counts"),
        pytest.param(KNEE, "6.0", "7.8", "noise", "1.8", "", "", id="just under the limit"),
        pytest.param(KNEE, "9.0", "6.0", "real", "-3.0", "worse", "", id="down"),
        pytest.param(KNEE, "9.0", "9.0", "noise", "0", "", "", id="the same"),
        pytest.param(REACH, "-8.5", "-4.5", "real", "4.0", "better", "", id="both short of the toes"),
        pytest.param(REACH, "-1", "2.5", "noise", "3.5", "", "", id="over the toes within noise"),
        pytest.param(BRIDGE, "44", "74", "noise", "30", "", "", id="30 s is under 30.4"),
        pytest.param(BRIDGE, "44", "75", "real", "31", "better", "", id="31 s is over 30.4"),
        pytest.param(SLOWER, "6", "9", "real", "3", "worse", "", id="lower is better"),
        pytest.param(NEUTRAL, "6", "9", "real", "3", "changed", "", id="no better or worse"),
        pytest.param(NO_LIMIT, "6", "20", "cannot", "14", "", "no_limit", id="no limit known"),
        pytest.param(STANCE, "45", "45", "cannot", "0", "", "both_at_ceiling", id="both at the ceiling"),
        pytest.param(STANCE, "30", "45", "cannot", "15", "", "one_at_ceiling", id="one at the ceiling"),
        pytest.param(
            STANCE, "15", "45", "real", "30", "better", "", id="to the ceiling by more than the limit"
        ),
    ],
)
def test_change(of, before, now, kind, amount, direction, reason):
    """Rules R3, R4 and R5 of the measures: ours, on the limits above."""
    found = change(of, D(before), D(now))
    assert (found.kind, found.amount, found.direction, found.reason) == (kind, D(amount), direction, reason)


def test_sums_are_exact():
    """0.3 - 0.1 is 0.2 and no less: binary floats say 0.19999999999999998."""
    tenth = replace(KNEE, change_limit=replace(KNEE.change_limit, value=D("0.2")))
    assert change(tenth, D("0.1"), D("0.3")).kind == "real"


@pytest.mark.parametrize("value", [6.5, "6.5", True, None])
def test_only_exact_numbers_are_weighed(value):
    with pytest.raises(TypeError):
        change(KNEE, D(6), value)
    with pytest.raises(TypeError):
        gap(KNEE, value, D(6))


def test_what_was_taken_otherwise_is_not_compared():
    found = change(KNEE, D(6), D(20), protocol_same=False)
    assert (found.kind, found.amount, found.reason) == ("cannot", None, "not_comparable")
    assert gap_change(KNEE, (D(6), D(9)), (D(9), D(9)), protocol_same=False).reason == "not_comparable"


def real(amount) -> Change:
    return Change("real", D(amount), "better" if amount > 0 else "worse")


NOISE = Change("noise", D(1))


@pytest.mark.parametrize(
    ("changes", "sure"),
    [
        pytest.param([], False, id="no retest"),
        pytest.param([real(3)], False, id="one retest"),
        pytest.param([real(3), real(4)], True, id="two in a row the same way"),
        pytest.param([real(3), real(-4)], False, id="two in a row, opposite ways"),
        pytest.param([real(3), NOISE], False, id="the latest is noise"),
        pytest.param([real(3), NOISE, real(3)], False, id="not in a row"),
        pytest.param([NOISE, real(-3), real(-2)], True, id="down twice after noise"),
        pytest.param([real(3), Change("cannot", None, reason="not_comparable")], False, id="cannot tell"),
    ],
)
def test_confirmed_by_two_retests_in_a_row(changes, sure):
    """Rule R6."""
    assert confirmed(changes) is sure


@pytest.mark.parametrize(
    ("of", "left", "right", "kind", "amount", "behind", "percent", "reason"),
    [
        # The pairs of the table of left and right in the measures' paper; ratio formula: J Phys Med Rehabil
        # 2014;2:201, Table 1 (smaller over larger).
        pytest.param(BRIDGE, 44, 52, "even", 8, "", None, "", id="44 and 52 s: within noise, no percentage"),
        pytest.param(
            BRIDGE, 0, 12, "even", 12, "", None, "one_side_nothing", id="0 and 12 s: words, no number"
        ),
        pytest.param(BRIDGE, 0, 0, "cannot", 0, "", None, "nothing_done", id="0 and 0 s"),
        pytest.param(REACH, -2, 6, "differ", 8, "left", None, "", id="across the toes: cm, nothing else"),
        pytest.param(REACH, -12, -4, "differ", 8, "left", None, "", id="both short of the toes"),
        pytest.param(REACH, 0, 0, "even", 0, "", None, "", id="both at the toes"),
        pytest.param(KNEE, "11.5", "9.5", "differ", "-2.0", "right", "82.6", "", id="right behind"),
        pytest.param(KNEE, "9", "10.9", "differ", "1.9", "left", "82.6", "", id="gap at the limit"),
        pytest.param(KNEE, "9", "10.5", "even", "1.5", "", None, "", id="gap under the limit"),
        pytest.param(KNEE, 0, 5, "differ", 5, "left", None, "one_side_nothing", id="one side at nought"),
        pytest.param(SLOWER, 6, 9, "differ", 3, "right", "66.7", "", id="the larger is behind"),
        pytest.param(NEUTRAL, 6, 9, "differ", 3, "", "66.7", "", id="nobody is behind"),
        pytest.param(NO_LIMIT, 6, 9, "cannot", 3, "", None, "no_limit", id="no limit known"),
        pytest.param(STANCE, 45, 45, "cannot", 0, "", None, "both_at_ceiling", id="both at the ceiling"),
    ],
)
def test_gap(of, left, right, kind, amount, behind, percent, reason):
    """Rules R7 and R12."""
    found = gap(of, D(left), D(right))
    assert (found.kind, found.amount, found.behind, found.reason) == (kind, D(amount), behind, reason)
    assert (found.percent is None) == (percent is None)
    if percent is not None:
        assert round(found.percent, 1) == D(percent)


def test_percent_of_the_better_side():
    """44 of 52 is 84.6 %, and the other way round the same: the larger is always the whole."""
    small = replace(BRIDGE, change_limit=replace(BRIDGE.change_limit, value=D(5)))
    assert round(gap(small, 44, 52).percent, 1) == D("84.6") == round(gap(small, 52, 44).percent, 1)


@pytest.mark.parametrize(
    ("of", "before", "now", "kind", "amount", "direction"),
    [
        # Limits of four readings, 1.96 x 2 x SEM: 2.69, 5.49 and 42.92.
        pytest.param(KNEE, ("6", "11"), ("9", "11"), "real", "-3.0", "narrower", id="left caught up"),
        pytest.param(KNEE, ("6", "11"), ("8.5", "11"), "noise", "-2.5", "", id="2.5 is under 2.69"),
        pytest.param(KNEE, ("9", "10"), ("9", "13"), "real", "3", "wider", id="wider"),
        pytest.param(KNEE, ("9", "11"), ("12", "9"), "real", "-5", "crossed", id="changed places"),
        pytest.param(
            REACH, ("-10", "-2"), ("-4.5", "-2"), "real", "-5.5", "narrower", id="5.5 is over 5.488"
        ),
        pytest.param(BRIDGE, ("20", "62"), ("62", "62"), "noise", "-42", "", id="42 is under 42.92"),
        pytest.param(BRIDGE, ("20", "63"), ("63", "63"), "real", "-43", "narrower", id="43 is over 42.92"),
        pytest.param(NO_LIMIT, ("1", "9"), ("9", "9"), "cannot", "-8", "", id="no limit known"),
    ],
)
def test_change_of_the_gap(of, before, now, kind, amount, direction):
    found = gap_change(of, tuple(map(D, before)), tuple(map(D, now)))
    assert (found.kind, found.amount, found.direction) == (kind, D(amount), direction)


def test_limit_of_a_gap_is_root_two_more():
    """Chisholm et al., Physiother Can 2012;64:347-355: 1.0 cm for a leg goes with 1.5 cm for the gap (rounded)."""
    of = replace(KNEE, change_limit=replace(KNEE.change_limit, value=D("1.0")))
    assert round(of.gap_limit, 1) == D("1.4")
    assert abs(of.gap_limit - D("1.5")) < D("0.1")
    assert REACH.gap_limit == D("1.96") * 2 * D("1.4")
    assert BRIDGE.gap_limit == D("1.96") * 2 * D("10.95")


halves = st.integers(-80, 80).map(lambda n: D(n) / 2)


@given(halves, halves)
def test_a_change_back_is_the_same_size(before, now):
    there, back = change(REACH, before, now), change(REACH, now, before)
    assert there.kind == back.kind
    assert there.amount == -back.amount
    assert there.kind == ("real" if abs(now - before) >= 4 else "noise")


@given(halves, halves)
def test_swapped_sides_swap_what_is_behind(left, right):
    one, other = gap(REACH, left, right), gap(REACH, right, left)
    assert one.kind == other.kind
    assert one.amount == -other.amount
    assert {one.behind, other.behind} == ({"left", "right"} if one.kind == "differ" else {""})


@given(halves, halves, halves)
def test_moving_both_sides_leaves_the_gap(left, right, moved):
    found = gap_change(REACH, (left, right), (left + moved, right + moved))
    assert (found.kind, found.amount) == ("noise", 0)
