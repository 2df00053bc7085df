"""A studio's own rules beside the shipped table: what may be added, and that it only makes things stricter."""

from dataclasses import replace
from datetime import date
from types import SimpleNamespace

import pytest

from library.precautions import chips, judge
from library.tables import Rule, rule_table, with_rules

TABLE = rule_table()
ON = date(2026, 11, 25)
KNEE = {"condition": "knee_replacement", "demand": "kneeling_load", "verdict": "avoid"}


def studio_rule(*, condition, demand, verdict, window=("ongoing", None, None), **kwargs):
    row = {"id": "studio-1", "condition": condition, "demand": demand, "verdict": verdict}
    row |= {"window": dict(zip(("basis", "from_day", "to_day"), window, strict=True)), "sources": ["studio"]}
    return Rule.from_row({**row, "reason": "", "adaptation": "", **kwargs})


def doing(*demands, **sides):
    return SimpleNamespace(id="x", demands=list(demands), demand_sides=sides)


def had(condition, on=None, side=None):
    return SimpleNamespace(condition=condition, on=on, side=side)


def test_a_studios_rule_makes_a_verdict_stricter_and_says_whose_it_is():
    rule = studio_rule(**KNEE, reason="Our floor is hard.", adaptation="Sit.")
    table = with_rules(TABLE, [rule], "3a")
    old = had("knee_replacement", date(2020, 1, 1), "left")
    exercise = doing("kneeling_load", kneeling_load="named")
    assert judge([old], exercise, ON, side="left").verdict == "modify"
    judged = judge([old], exercise, ON, side="left", table=table)
    assert (judged.verdict, judged.table_version) == ("avoid", f"{TABLE.version}+3a")
    assert [(r.rule, r.verdict, r.sources) for r in judged.reasons][0] == ("studio-1", "avoid", ("studio",))
    assert len(judged.reasons) == 2
    assert judged.reasons[0].text == "Our floor is hard."
    assert judge([old], exercise, ON, side="right", table=table).verdict == "none"
    assert chips([old], ON, table=table)[0].verdict == "avoid"


def test_the_table_as_shipped_is_left_as_it_is():
    before = (len(TABLE.rules), TABLE.version, len(TABLE.rules_of["knee_replacement"]))
    table = with_rules(TABLE, [studio_rule(**KNEE)], "1")
    assert (len(TABLE.rules), TABLE.version, len(TABLE.rules_of["knee_replacement"])) == before
    assert len(table.rules) == before[0] + 1
    assert with_rules(TABLE, [], "1") is TABLE


def test_a_laxer_rule_beside_the_table_changes_no_verdict():
    rule = studio_rule(condition="osteoporosis", demand="end_range_rotation", verdict="watch")
    judged = judge(
        [had("osteoporosis")], doing("end_range_rotation"), ON, table=with_rules(TABLE, [rule], "1")
    )
    assert judged.verdict == "avoid"


def test_days_count_as_the_condition_counts_them():
    rule = studio_rule(**{**KNEE, "demand": "standing_balance"}, window=("event_days", 0, 10))
    table = with_rules(TABLE, [rule], "1")

    def on(day):
        return judge([had("knee_replacement", day)], doing("standing_balance"), ON, table=table).verdict

    # The shipped rule: 'modify' in the first 12 weeks.
    assert [on(date(2026, 11, 16)), on(date(2026, 11, 15)), on(None)] == ["avoid", "modify", "avoid"]
    weeks = studio_rule(
        condition="pregnancy",
        demand="prone_lying",
        verdict="avoid",
        window=("gestation_days", 84, 98),
    )
    # Due in 189 days: day 91 of 280, which is 13w0d, and the shipped rule says 'watch' to 13w6d.
    client = SimpleNamespace(condition="pregnancy", due=date(2027, 6, 2))
    assert judge([client], doing("prone_lying"), ON).verdict == "watch"
    assert judge([client], doing("prone_lying"), ON, table=with_rules(TABLE, [weeks], "1")).verdict == "avoid"


def test_a_studios_rule_on_a_lifted_demand_is_lifted_like_the_others():
    rule = studio_rule(condition="osteopenia", demand="loaded_spinal_flexion", verdict="avoid")
    table = with_rules(TABLE, [rule], "1")
    picked = {"adaptations": ["head_stays_down"], "table": table}
    assert judge([had("osteopenia")], "mat_chest_lift", ON, table=table).verdict == "avoid"
    assert judge([had("osteopenia")], "mat_chest_lift", ON, **picked).demands["loaded_spinal_flexion"].carries


REFUSED = [
    ({"condition": "gout_of_the_moon"}, "no condition 'gout_of_the_moon'"),
    ({"demand": "levitation"}, "no demand 'levitation'"),
    ({"verdict": "none"}, "says avoid, modify or watch"),
    ({"verdict": "maybe"}, "says avoid, modify or watch"),
    ({"spell": "medium"}, "short or long"),
    ({"window": ("ongoing", None, 7)}, "counts no days"),
    ({"condition": "osteoporosis", "window": ("event_days", 0, 7)}, "does not count days that way"),
    ({"window": ("gestation_days", 0, 7)}, "does not count days that way"),
    ({"window": ("event_days", 7, 7)}, "comes after the day on which it begins"),
]


@pytest.mark.parametrize(("changed", "said"), REFUSED, ids=range(len(REFUSED)))
def test_what_the_table_does_not_know_is_refused_in_a_sentence(changed, said):
    with pytest.raises(ValueError, match=said):
        with_rules(TABLE, [studio_rule(**{**KNEE, **changed})], "1")


def test_a_rule_under_a_foreign_or_a_double_name_is_refused():
    rule = studio_rule(**KNEE)
    with pytest.raises(ValueError, match="begins with 'studio-', not 'R001'"):
        with_rules(TABLE, [replace(rule, id="R001")], "1")
    with pytest.raises(ValueError, match="two rules 'studio-1'"):
        with_rules(TABLE, [rule, rule], "1")
