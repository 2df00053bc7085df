"""Flags at a glance: one line per demand, whatever the exercise."""

from datetime import date
from types import SimpleNamespace

from library.precautions import chips
from library.tables import rule_table

ON = date(2026, 11, 25)


def flag(condition=None, **kwargs):
    return SimpleNamespace(condition=condition, **kwargs)


def word(about, verdict, **kwargs):
    return flag(instruction=about, verdict=verdict, words="letter", by="Dr Osei", **kwargs)


def by_demand(flags):
    return {chip.demand: chip for chip in chips(flags, ON)}


def test_no_flags_no_chips():
    assert chips([], ON) == []


def test_a_condition_gives_one_chip_per_demand_of_its_rules():
    rules = rule_table().rules_of["osteoporosis"]
    found = by_demand([flag("osteoporosis")])
    assert {demand: chip.verdict for demand, chip in found.items()} == {r.demand: r.verdict for r in rules}


def test_strictest_first_then_more_reasons_then_the_order_of_the_list():
    flags = [flag("osteoporosis"), flag("bone_metastases"), flag("reflux")]
    found = chips(flags, ON)
    rank = {"avoid": 0, "modify": 1, "watch": 2, "none": 3}
    order = list(rule_table().demands)
    keys = [
        (
            rank[chip.verdict],
            -sum(reason.verdict == chip.verdict for reason in chip.reasons),
            order.index(chip.demand),
        )
        for chip in found
    ]
    assert keys == sorted(keys)
    assert len({chip.demand for chip in found}) == len(found)


def test_two_conditions_on_one_demand_merge_into_the_stricter():
    chip = by_demand([flag("osteopenia"), flag("osteoporosis")])["end_range_rotation"]
    assert chip.verdict == "avoid"
    assert [(r.condition, r.verdict) for r in chip.reasons] == [
        ("osteoporosis", "avoid"),
        ("osteopenia", "watch"),
    ]


def test_the_affected_side_shows_on_sided_demands_only():
    shoulder = flag("shoulder_instability", side="left", on=date(2026, 11, 1))
    found = by_demand([shoulder])
    assert found["overhead_reach"].side == "left"
    assert found["elevated_unstable_platform"].side is None
    unknown = by_demand([flag("shoulder_instability", side="unknown", on=date(2026, 11, 1))])
    assert unknown["overhead_reach"].side == "both"
    assert by_demand([flag("osteoarthritis_general")])["kneeling_load"].side is None


def test_the_stricter_side_names_the_chip_and_the_other_stays_in_sight():
    knees = [
        flag("knee_replacement", side="right", on=date(2026, 11, 1)),
        flag("knee_replacement", side="left", on="long_ago"),
    ]
    chip = by_demand(knees)["kneeling_load"]
    assert (chip.verdict, chip.side) == ("avoid", "right")
    assert dict(chip.sides) == {"left": "modify", "right": "avoid"}
    assert [reason.side for reason in chip.reasons] == ["right", "left"]


def test_a_chip_ends_with_the_last_of_its_deciding_reasons():
    hip = flag("hip_replacement_posterior", side="left", on=date(2026, 11, 1))
    knee = flag("knee_replacement", side="left", on="long_ago")
    assert by_demand([hip])["jump_impact"].until == date(2027, 5, 2)
    assert by_demand([hip, knee])["jump_impact"].until is None


def test_a_clinician_on_an_exercise_has_a_chip_of_its_own_before_the_demands():
    found = chips([flag("osteoporosis"), word("mat_saw", "avoid", until=date(2026, 12, 24))], ON)
    assert (found[0].exercise, found[0].verdict, found[0].until) == ("mat_saw", "avoid", date(2026, 12, 24))
    assert found[0].demand is None


def test_a_demand_that_a_clinician_lifted_comes_last_and_says_so():
    found = chips([flag("osteopenia"), word("end_range_rotation", "none")], ON)
    assert (found[-1].demand, found[-1].verdict) == ("end_range_rotation", "none")
    assert [(r.kind, r.outranked) for r in found[-1].reasons] == [("instruction", False), ("rule", True)]


def test_what_the_table_does_not_know_has_a_chip():
    found = chips([flag("gout_of_the_moon"), flag("reflux")], ON)
    ask = next(chip for chip in found if chip.condition)
    assert (ask.condition, ask.verdict) == ("gout_of_the_moon", "watch")
    watches = [chip for chip in found if chip.verdict == "watch"]
    assert watches[0] is ask


def test_an_ended_instruction_is_gone():
    assert chips([word("inversion", "avoid", until=date(2026, 11, 24))], ON) == []
