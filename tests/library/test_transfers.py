"""One idea across the apparatus: each exercise of a family stands once, in its stage and its column."""

import pytest

from library import facts_wording, map_wording, tables, transfers

FACTS = tables.exercises()
FAMILIES = {row["id"]: row["path"] for row in tables.transfer_families()}


def test_there_are_twenty_with_words_each():
    assert len(transfers.families()) == 20
    assert len({facts_wording.transfer_family(one) for one in transfers.families()}) == 20


@pytest.mark.parametrize("family", FAMILIES, ids=str)
def test_each_stands_once_where_its_facts_say(family):
    stages = transfers.stages(transfers.members(family, FACTS), FACTS)
    assert [stage.id for stage in stages] == ["prepare", "support", "load", "integrate"]
    seen = []
    for stage in stages:
        assert [cell.column for cell in stage.cells] == list(transfers.COLUMNS)
        for cell in stage.cells:
            seen += cell.ids
            for key in cell.ids:
                one = FACTS[key]
                assert one["transfer_stage"] == stage.id
                assert one["apparatus"] in transfers.COLUMNS[cell.column]
    assert sorted(seen) == sorted(FAMILIES[family])


def test_what_stands_in_the_home_column_may_go_home():
    kinds = transfers.COLUMNS["home"]
    assert [key for key, one in FACTS.items() if one["apparatus"] in kinds and not one["home_ok"]] == []


def test_every_apparatus_has_one_column():
    kinds = [kind for column in transfers.COLUMNS.values() for kind in column]
    assert sorted(kinds) == sorted({one["apparatus"] for one in FACTS.values()})
    assert len({map_wording.column(name) for name in transfers.COLUMNS}) == len(transfers.COLUMNS)


def test_an_exercise_of_the_studio_joins_after_the_path():
    own = {**FACTS["mat_plank"], "id": "own_one", "name": "Own", "level": "foundation"}
    family = own["transfer_family"]
    keys = transfers.members(family, FACTS | {"own_one": own})
    assert keys == [*FAMILIES[family], "own_one"]


def test_what_is_not_on_the_shelf_is_passed_over():
    some = {key: FACTS[key] for key in FAMILIES["tf_breath"][:2]}
    assert transfers.members("tf_breath", some) == FAMILIES["tf_breath"][:2]
    assert transfers.members("tf_teaser", some) == []


@pytest.mark.parametrize("key", ["mat_clam", "ref_frog", "mat_rest_stretch", "tt_leg_springs_frog"])
def test_beside_names_one_for_each_other_apparatus_nearest_in_stage(key):
    found = transfers.beside(key, FACTS)
    one, order = FACTS[key], list(transfers.STAGES)
    others = [
        other
        for other in FAMILIES.get(one["transfer_family"], ())
        if FACTS[other]["apparatus"] != one["apparatus"]
    ]
    assert {FACTS[other]["apparatus"] for other in found} == {FACTS[other]["apparatus"] for other in others}
    assert len(found) == len({FACTS[other]["apparatus"] for other in found})

    def apart(other):
        return abs(order.index(FACTS[other]["transfer_stage"]) - order.index(one["transfer_stage"]))

    for other in found:
        kind = FACTS[other]["apparatus"]
        assert apart(other) == min(apart(o) for o in others if FACTS[o]["apparatus"] == kind)
