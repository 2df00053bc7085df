"""A client's own limit in words."""

import pytest

from library import limit_wording
from library.body import all_poses
from library.body.limits import NO_EFFECT, NOTHING_LEFT, PARTLY, UNKNOWN, Held, Lead, lead

KNEE = {"by": "degrees", "value": 60.0, "of": "both.knee", "from": 112.0}
TURN = {"by": "degrees", "value": -20.0, "of": "twist", "from": 0.0}
PEDAL = {"by": "degrees", "value": 16.0, "of": "pedal", "from": 27.0}


def share(value):
    return {"by": "share", "value": value}


@pytest.mark.parametrize(
    ("limits", "words"),
    [
        (None, ""),
        ({}, ""),
        ({"both": share(50)}, "half way"),
        ({"both": share(25)}, "a quarter of the way"),
        ({"both": share(75)}, "three quarters of the way"),
        ({"both": share(30)}, "30 % of the way"),
        ({"both": KNEE}, "knee bend 60°"),
        ({"left": share(50), "right": KNEE}, "left half way, right knee bend 60°"),
        ({"right": TURN}, "right turn of the trunk 20°"),
        ({"both": PEDAL}, "way of the pedal 11°"),
    ],
)
def test_limits(limits, words):
    assert limit_wording.limits_words(limits) == words


@pytest.mark.parametrize(
    ("leading", "number", "value"),
    [
        (Lead("r.hip", ((0.0, 88.0), (1.0, -12.0))), -5, -5),
        (Lead("twist", ((0.0, 0.0), (1.0, -45.0))), 20, -20),
        (Lead("lean", ((0.0, 90.0), (1.0, 112.0))), 10, 100),
        (Lead("pedal", ((0.0, 27.0), (1.0, 5.0))), 11, 16),
    ],
    ids=["as a goniometer reads it", "to the right", "from where it starts", "downwards"],
)
def test_numbers_go_there_and_back(leading, number, value):
    assert limit_wording.value_of(number, leading) == value
    assert limit_wording.shown(value, leading.driver, leading.start) == number


def test_from_where_to_where():
    leading = Lead("both.knee", ((0.0, 112.0), (1.0, 6.0)))
    assert limit_wording.way_words(leading) == "Knee bend goes from 112° to 6°."


@pytest.mark.parametrize(
    ("effect", "drawn", "words"),
    [
        (PARTLY, True, ""),
        (PARTLY, False, "It cannot be drawn at this limit. The picture shows the whole way."),
        (NO_EFFECT, True, "This limit changes nothing: the movement ends at 6° anyway."),
        (NOTHING_LEFT, False, "Nothing is left of the movement: it starts at 112°."),
        (UNKNOWN, False, "The drawing has changed since this limit was set. Set it again."),
    ],
)
def test_what_a_limit_does(effect, drawn, words):
    leading = Lead("both.knee", ((0.0, 112.0), (1.0, 6.0)))
    assert limit_wording.effect_words(Held({}, 0.5, effect, drawn), leading) == words


@pytest.mark.parametrize(
    ("effect", "words"),
    [(NO_EFFECT, "This limit changes nothing."), (NOTHING_LEFT, "Nothing is left of the movement.")],
)
def test_where_nothing_leads_no_number_is_named(effect, words):
    assert limit_wording.effect_words(Held({}, 0.0, effect, False), None) == words


@pytest.mark.parametrize(
    ("driver", "words"),
    [
        ("up_curl", "Bend of the upper back leads this movement and changes by less than 4°: too little"),
        (
            "both.shoulder_out",
            "Arm out to the side leads this movement and changes by less than 4°: too little",
        ),
        ("", "Nothing that is read in degrees leads this movement, so it is set in per cent of the way."),
    ],
)
def test_why_it_is_per_cent_only(driver, words):
    assert limit_wording.per_cent_only_words({"driver": driver}).startswith(words)


def test_every_exercise_that_takes_per_cent_only_says_why():
    unled = [pose for pose in all_poses().values() if lead(pose) is None]
    assert unled
    for pose in unled:
        assert "the way it goes" not in limit_wording.per_cent_only_words(pose).casefold()


@pytest.mark.parametrize(
    ("key", "words"),
    [
        ("ref_short_box_tree", "Tilt of the trunk goes from 0° to 70°."),
        ("mat_side_support_knees", "Side bend goes from 0° to 24°."),
    ],
)
def test_what_leads_is_what_goes_far(key, words):
    """How far back, and how high the hips: what a teacher would stop (common practice, no source)."""
    assert limit_wording.way_words(lead(all_poses()[key])) == words


def test_every_driver_has_a_name():
    drivers = {leading.driver for leading in map(lead, all_poses().values()) if leading}
    unnamed = [driver for driver in drivers if limit_wording.measure(driver) == "the way it goes"]
    assert unnamed == []
