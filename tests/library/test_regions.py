"""Where on the small body a flag sits. Which part stands for a condition: common practice, no source."""

from types import SimpleNamespace

import pytest

from library import regions, tables
from studio import drawing

CONDITIONS = {row["id"]: row for row in tables.rule_data()["conditions"]}
DEMANDS = {row["id"] for row in tables.rule_data()["demands"]}


def flag(condition="", side="", instruction=None):
    return SimpleNamespace(condition=condition, side=side, instruction=instruction)


def test_only_conditions_and_demands_of_the_table_have_places():
    assert set(regions.PLACES) <= set(CONDITIONS) and set(regions.DEMAND_PLACES) <= DEMANDS


@pytest.mark.parametrize("places", [regions.PLACES, regions.DEMAND_PLACES], ids=["conditions", "demands"])
def test_every_place_is_drawn(places):
    assert all(part in drawing.REGIONS for parts in places.values() for part in parts)


def test_every_condition_with_a_side_has_a_place():
    # A stroke and a pacemaker have a side and no joint: the side of a stroke is that of a whole half.
    without = {name for name, row in CONDITIONS.items() if row["sided"]} - set(regions.PLACES)
    assert without == {"stroke"}


SPOTS = {
    "left shoulder": ([flag("frozen_shoulder", "left")], [("shoulder", "left")]),
    "no side": ([flag("neck_pain")], [("neck", None)]),
    "the whole body": ([flag("asthma")], []),
    "two flags on one place": (
        [flag("frozen_shoulder", "left"), flag("shoulder_instability", "left")],
        [("shoulder", "left")],
    ),
    "left and right apart": (
        [flag("knee_replacement", "left"), flag("meniscus_tear", "right")],
        [("knee", "left"), ("knee", "right")],
    ),
    "a clinician's word on a demand": (
        [flag(side="left", instruction="overhead_reach")],
        [("shoulder", "left")],
    ),
    "a clinician's word on an exercise": ([flag(instruction="mat_pelvic_curl")], []),
    "a condition outside the table": ([flag("hiccups")], []),
}


@pytest.mark.parametrize("flags, spots", SPOTS.values(), ids=SPOTS)
def test_where_flags_sit(flags, spots):
    assert regions.spots(flags) == spots


def test_flags_are_numbered_like_their_spots():
    flags = [flag("asthma"), flag("frozen_shoulder", "left"), flag("knee_replacement", "right")]
    assert [numbers for _flag, numbers in regions.numbered(flags)] == [[], [1], [2]]


@pytest.mark.parametrize(
    "side, places", [("left", {"left"}), ("right", {"right"}), ("unknown", {"left", "right"})]
)
def test_left_is_drawn_on_the_left(side, places):
    drawn = drawing.spots_of(*regions.spots([flag("frozen_shoulder", side)])[0])
    assert {"left" if x < drawing.MIDLINE else "right" for x, _y, _radius in drawn} == places
