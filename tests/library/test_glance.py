"""A judgement at a glance: merged by demand, strictest first."""

from datetime import date
from types import SimpleNamespace

from library.glance import merged
from library.precautions import judge
from library.verdicts import RANK

ON = date(2026, 11, 25)


def flag(condition=None, **kwargs):
    return SimpleNamespace(condition=condition, **kwargs)


def asked(*demands, **kwargs):
    return SimpleNamespace(id="x", demands=demands, demand_sides=kwargs)


def test_each_demand_stands_once_with_all_its_reasons():
    flags = [flag("osteoporosis"), flag("glaucoma"), flag("hypertension_controlled")]
    found = merged(judge(flags, asked("inversion", "loaded_spinal_flexion", "hip_wide_abduction"), ON))
    assert len({one.demand for one in found}) == len(found)
    assert [RANK[one.verdict] for one in found] == sorted((RANK[one.verdict] for one in found), reverse=True)
    both = next(one for one in found if one.demand == "inversion")
    assert {"glaucoma"} < {reason.condition for reason in both.reasons}
    assert "hip_wide_abduction" not in {one.demand for one in found}


def test_what_speaks_of_the_whole_exercise_comes_before_its_demands():
    told = flag(instruction="x", verdict="avoid", by="Dr Osei", words="not this one")
    found = merged(judge([flag("osteoporosis"), told], asked("loaded_spinal_flexion"), ON))
    assert [(one.verdict, one.demand) for one in found] == [
        ("avoid", None),
        ("avoid", "loaded_spinal_flexion"),
    ]


def test_a_demand_that_a_clinician_lifted_comes_last_and_keeps_its_reasons():
    told = flag(instruction="inversion", verdict="none", by="Dr Osei", words="")
    found = merged(
        judge([flag("glaucoma"), flag("asthma"), told], asked("inversion", "breath_hold_strain"), ON)
    )
    assert [one.verdict for one in found][-1] == "none"
    assert found[-1].demand == "inversion"
    assert any(reason.outranked for reason in found[-1].reasons)


def test_nothing_to_say_is_nothing_to_show():
    assert merged(judge([], asked("inversion"), ON)) == []
