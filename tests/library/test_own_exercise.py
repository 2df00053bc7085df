"""An exercise of the studio's own by itself: checked as the shipped ones are, apart from what waits."""

import copy

import pytest

from library import own_exercise as own
from library import tables, versions_apart
from library.contents import payloads

LIBRARY = own.Library(
    tables.exercises(), tables.vocab(), tables.rule_table().demands, tables.transfer_families()
)
SHIPPED = payloads()


def bridge() -> dict:
    """A new exercise like the shipped pelvic curl."""
    payload = own.copied(copy.deepcopy(SHIPPED["mat_pelvic_curl"]), "own_1")
    payload["facts"]["name"] = "Curl over a towel"
    return payload


@pytest.mark.parametrize("key", ["mat_pelvic_curl", "ref_foot_v", "ch_foot_toes", "arc_side_stretch"])
def test_every_shipped_one_would_pass_as_it_is(key):
    payload = SHIPPED.get(key) or next(iter(SHIPPED.values()))
    assert own.slips(payload, LIBRARY) == []


def test_a_copy_holds_once_it_has_a_name_of_its_own_and_waits_for_its_demands():
    payload = bridge()
    assert own.slips(payload, LIBRARY) == []
    assert not own.is_classified(payload["facts"])
    assert own.steps_to_do(payload) == []


BREAKS = {
    "taken name": ("name", "Clam, side-lying", "name"),
    "no such place": ("apparatus", "cloud", "apparatus"),
    "springs on the mat": ("spring_grade", "light", "spring_grade"),
    "more at least than at most": ("reps_min", 30, "reps_min"),
    "sides of what has none": ("side_means", "working_leg", "side_means"),
    "unknown easier one": ("regression_to", ["mat_nothing"], "regression_to"),
    "no way down": ("regression_to", [], "regression_to"),
    "a stage without an idea": ("transfer_family", None, "transfer_stage"),
    "no faults": ("faults", [], "faults"),
    "a prop that stays here": ("home_ok", "yes", "home_ok"),
}


@pytest.mark.parametrize(("field", "value", "at"), BREAKS.values(), ids=BREAKS)
def test_what_the_rules_of_the_library_refuse_is_refused_here(field, value, at):
    payload = bridge()
    if field == "regression_to":
        payload["facts"] |= {"level": "building", "progression_of": []}
    payload["facts"][field] = value
    assert at in {slip.field for slip in own.slips(payload, LIBRARY)}


def test_demands_are_judged_once_they_are_there():
    payload = bridge()
    payload["facts"] |= {"demands": [], "demand_sides": {}}
    # On the back, and that is a demand of the rule table.
    assert [slip.field for slip in own.slips(payload, LIBRARY)] == ["demands"]


def test_another_exercise_that_would_lose_its_way_down_is_named():
    facts = SHIPPED["mat_pelvic_curl"]["facts"]
    payload = {**SHIPPED["mat_pelvic_curl"], "facts": {**facts, "level": "advanced"}}
    slips = own.slips(payload, LIBRARY)
    assert any(slip.field == "" for slip in slips), slips


def test_an_own_exercise_finds_its_place_in_the_path_of_its_family():
    facts = {**tables.exercises(), "own_1": bridge()["facts"]}
    family = SHIPPED["mat_pelvic_curl"]["facts"]["transfer_family"]
    path = next(
        row["path"]
        for row in own.families_with(LIBRARY.families, facts, LIBRARY.vocab)
        if row["id"] == family
    )
    stages, levels = tables.closed_list("transfer_stage"), tables.closed_list("level")
    places = [(stages.index(facts[key]["transfer_stage"]), levels.index(facts[key]["level"])) for key in path]
    assert "own_1" in path
    assert places == sorted(places)


@pytest.mark.parametrize("field", own.BEAR_ON_DEMANDS)
def test_what_bears_on_the_demands_opens_them_again(field):
    before = SHIPPED["ref_foot_v"]["facts"]
    assert own.reopens(before, before) == []
    assert own.reopens(before, {**before, field: "another"}) == [field]
    assert own.reopens({**before, "demands": None}, {**before, field: "another"}) == []


def test_demands_left_out_or_on_another_side_are_named():
    before = {"demands": ["inversion", "kneeling_load"], "demand_sides": {"kneeling_load": "both"}}
    fewer = {"demands": ["kneeling_load"], "demand_sides": {"kneeling_load": "named"}}
    assert own.lessened(before, before) == []
    assert own.lessened(before, fewer) == ["inversion", "kneeling_load"]
    assert own.lessened(fewer, before) == ["kneeling_load"]


class TestVersionsApart:
    BASE = SHIPPED["mat_pelvic_curl"]

    def changed(self, **text):
        return {**self.BASE, "text": {**self.BASE["text"], **text}}

    def test_what_only_one_side_changed(self):
        ours, theirs = self.changed(purpose="Ours."), self.changed(dose="Theirs.")
        (row,) = versions_apart.apart(self.BASE, ours, theirs)
        assert (row.field, row.both_changed) == (("text", "dose"), False)

    def test_what_both_changed_apart_and_what_both_changed_alike(self):
        ours, theirs = self.changed(purpose="Ours.", dose="x"), self.changed(purpose="Theirs.", dose="x")
        (row,) = versions_apart.apart(self.BASE, ours, theirs)
        assert (row.field, row.both_changed, row.ours, row.theirs) == (
            ("text", "purpose"), True, "Ours.", "Theirs.",
        )  # fmt: skip

    def test_taking_every_field_of_theirs_gives_theirs(self):
        ours, theirs = SHIPPED["mat_clam"], SHIPPED["ref_foot_v"]
        fields = [field for field, _old, _new in versions_apart.differing(ours, theirs)]
        made = versions_apart.merged(ours, theirs, fields)
        assert versions_apart.differing(made, theirs) == []

    def test_taking_none_gives_ours(self):
        assert versions_apart.merged(self.BASE, SHIPPED["mat_clam"], []) == self.BASE

    def test_the_side_of_a_demand_travels_with_the_demands(self):
        theirs = SHIPPED["ref_foot_v"]
        made = versions_apart.merged(self.BASE, theirs, [("facts", "demands")])
        assert made["facts"]["demand_sides"] == theirs["facts"]["demand_sides"]
