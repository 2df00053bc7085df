"""The apparatus of a figure in numbers: every place in every shipped scene can be typed, there and back."""

import copy

import pytest

from library import own_scene, scene_wording
from library.body import all_poses
from tests.rows import each

POSES = all_poses()
FREE = {("dir",), ("stool", 1)}  # which way something points is no place


def scenes() -> list[tuple]:
    return [(key, pose["scene"]) for key, pose in POSES.items()]


def places(value, path=()) -> list[tuple]:
    """Return the way to every number in a scene."""
    if isinstance(value, dict):
        return [one for key, inside in value.items() for one in places(inside, (*path, key))]
    if isinstance(value, list):
        return [one for n, inside in enumerate(value) for one in places(inside, (*path, n))]
    return [path] if isinstance(value, int | float) and not isinstance(value, bool) else []


@each("key, scene", scenes)
def test_every_place_of_a_scene_has_a_field(key, scene):
    offered = {one.path for one in own_scene.numbers(scene)}
    assert set(places(scene)) - offered - FREE == set()


@each("key, scene", scenes)
def test_what_is_not_changed_stays_as_it_is(key, scene):
    assert own_scene.built(scene, own_scene.initial(scene)) == scene
    assert own_scene.built(scene, {}) == scene


@each("key, scene", scenes)
def test_each_number_lies_within_its_bounds_and_has_words(key, scene):
    values = own_scene.initial(scene)
    for one in own_scene.numbers(scene):
        assert one.least <= values[one.name] <= one.most
        assert "cm" in scene_wording.full_label(one, scene)
    assert own_scene.turned_about(scene, values) == []
    assert all(scene_wording.part_name(part) for part in own_scene.parts(scene))


@each("key, scene", scenes)
def test_each_number_is_written_where_it_was_read(key, scene):
    before = copy.deepcopy(scene)
    values = own_scene.initial(scene)
    for one in own_scene.numbers(scene):
        made = own_scene.built(scene, {**values, one.name: values[one.name] + 1})
        again = own_scene.initial(made)
        assert again.pop(one.name) == pytest.approx(values[one.name] + 1)
        assert again == {name: value for name, value in values.items() if name != one.name}
    assert scene == before


@pytest.mark.parametrize(
    ("scene", "values", "made"),
    [
        ({"kind": "reformer"}, {"bar-1": 70.0}, {"kind": "reformer", "bar": [0.0, 0.7]}),
        (
            {"kind": "reformer", "bar": [0.0, 0.72]},
            {"box": "long"},
            {"kind": "reformer", "bar": [0.0, 0.72], "box": "long"},
        ),
        ({"kind": "reformer", "box": "short"}, {"box": ""}, {"kind": "reformer"}),
        ({"kind": "reformer", "board": True}, {"bar-1": 70.0}, {"kind": "reformer", "board": True}),
        ({"kind": "chair", "dir": -1}, {"x": 12.5}, {"kind": "chair", "dir": -1, "x": 0.125}),
        (
            {"kind": "mat", "cushion": [0.5, 0.7, 0.1]},
            {"cushion-2": 8.0},
            {"kind": "mat", "cushion": [0.5, 0.7, 0.08]},
        ),
        ({"kind": "mat"}, {"cushion-2": 8.0}, {"kind": "mat"}),
    ],
    ids=[
        "a bar where it usually is",
        "a box",
        "no box",
        "no bar beside a board",
        "a chair",
        "a cushion",
        "what is not there",
    ],
)
def test_what_is_typed_is_in_the_scene(scene, values, made):
    assert own_scene.built(scene, values) == made


@pytest.mark.parametrize(
    ("scene", "values", "wrong"),
    [
        ({"kind": "mat", "cushion": [0.5, 0.7, 0.1]}, {"cushion-0": 80.0, "cushion-1": 70.0}, ["cushion-1"]),
        ({"kind": "floor", "x0": -0.5, "x1": 0.9}, {"x0": 90.0, "x1": 90.0}, ["x1"]),
        (
            {"kind": "chair", "block": [[0, 0.2], [0, 0.2], 0.1]},
            {"block-1-0": 30.0, "block-1-1": 20.0},
            ["block-1-1"],
        ),
    ],
    ids=["a cushion", "the floor", "a block, sideways"],
)
def test_ends_that_are_turned_about_are_found(scene, values, wrong):
    typed = {**own_scene.initial(scene), **values}
    assert [one.name for one in own_scene.turned_about(scene, typed)] == wrong


def test_what_two_scenes_have_differently_is_told():
    theirs, mine = {"kind": "reformer"}, {"kind": "reformer", "bar": [0.0, 0.7], "box": "long"}
    assert scene_wording.apart(theirs, mine) == [
        {"label": "Foot bar: Height, cm", "theirs": "66", "yours": "70"},
        {"label": "Box", "theirs": "No box", "yours": "Lengthwise, to lie on"},
    ]
