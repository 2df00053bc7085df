"""One entry as it went: as planned, changed, skipped, stopped, eased. Empty is never zero."""

import uuid
from types import SimpleNamespace

import pytest

from sessions import recording, stopping
from sessions.recording import CHANGED, DONE, SKIPPED, Done, SideDone
from studio import wording

ID = uuid.uuid4()
SPRINGS = {"springs": [{"spring": "s1", "name": "Light", "grade": "light", "count": 1}]}


def row(sides="both", repetitions=8, right=None, seconds=None, seconds_right=None, setting=None):
    return SimpleNamespace(
        sides=sides,
        repetitions=repetitions,
        repetitions_right=right,
        seconds=seconds,
        seconds_right=seconds_right,
        setting=setting or {},
    )


PLANNED = {
    "no sides": (row(""), {"both": (8, None)}),
    "both alike": (row(), {"left": (8, None), "right": (8, None)}),
    "right has its own number": (row(right=6), {"left": (8, None), "right": (6, None)}),
    "right has its own nought": (row(right=0), {"left": (8, None), "right": (0, None)}),
    "left only": (row("left"), {"left": (8, None)}),
    "right only": (row("right", right=5), {"right": (5, None)}),
    "held": (
        row(repetitions=None, seconds=30, seconds_right=20),
        {"left": (None, 30), "right": (None, 20)},
    ),
}


@pytest.mark.parametrize("item, asked", PLANNED.values(), ids=PLANNED)
def test_what_a_row_asks_for(item, asked):
    assert recording.planned(item) == asked


def done(**sides):
    return Done(ID, CHANGED, sides)


STATES = {
    "the plan's numbers": (row(), done(left=SideDone(8), right=SideDone(8)), DONE),
    "quality beside them": (row(), done(left=SideDone(8, quality=2), right=SideDone(8)), DONE),
    "fewer on one side": (row(), done(left=SideDone(6), right=SideDone(8)), CHANGED),
    "one side left empty": (row(), done(left=SideDone(8)), CHANGED),
    "nought is not empty": (row(), done(left=SideDone(8), right=SideDone(0)), CHANGED),
    "nothing noted": (row(), done(), CHANGED),
    "other springs": (row("", setting=SPRINGS), done(both=SideDone(8)), CHANGED),
}


@pytest.mark.parametrize("item, typed, state", STATES.values(), ids=STATES)
def test_done_as_planned_is_told_from_changed(item, typed, state):
    assert recording.settled(item, typed).state == state


def test_the_same_springs_in_another_shape_are_the_same():
    again = [{"spring": "s1", "grade": "light", "count": 1}, {"spring": "s2", "grade": "heavy", "count": 0}]
    typed = Done(ID, CHANGED, {"both": SideDone(8)}, {"springs": again, "bar": ""})
    assert recording.settled(row("", setting=SPRINGS), typed).state == DONE


def test_as_planned_keeps_what_was_said_beside_the_numbers():
    typed = Done(ID, CHANGED, {"left": SideDone(3, quality=2, felt=("stretch",))}, {"bar": "high"}, "slow")
    kept = recording.as_planned(row(setting=SPRINGS), ID, typed)
    assert kept.sides == {"left": SideDone(8, quality=2, felt=("stretch",)), "right": SideDone(8)}
    assert (kept.state, kept.setting, kept.note) == (DONE, SPRINGS, "slow")


SKIPS = {
    "numbers go": (done(left=SideDone(8, quality=3)), {}),
    "a plain felt word goes": (done(left=SideDone(8, felt=("stretch",))), {}),
    "a sign stays": (done(left=SideDone(8, felt=("stretch", "pain"))), {"left": SideDone(felt=("pain",))}),
}


@pytest.mark.parametrize("typed, sides", SKIPS.values(), ids=SKIPS)
def test_skipping_leaves_nothing_but_a_sign(typed, sides):
    skipped = recording.skipped(typed)
    assert (skipped.state, skipped.sides) == (SKIPPED, sides)


STOPS = {
    "untouched numbers are not known": (
        done(left=SideDone(8, felt=("tingling",)), right=SideDone(8)),
        {"left": SideDone(felt=("tingling",))},
        CHANGED,
    ),
    "a changed number is kept": (
        done(left=SideDone(3), right=SideDone(8)),
        {"left": SideDone(3)},
        CHANGED,
    ),
    "nothing at all": (done(left=SideDone(8), right=SideDone(8)), {}, SKIPPED),
}


@pytest.mark.parametrize("typed, sides, state", STOPS.values(), ids=STOPS)
def test_what_is_kept_of_a_stopped_exercise(typed, sides, state):
    stopped = recording.stopped(row(), typed, "stopped")
    assert (stopped.sides, stopped.state, stopped.note) == (sides, state, "stopped")


NOTES = {
    "none": ("", "stopped"),
    "one": ("left knee", "stopped; left knee"),
    "said already": ("stopped; left knee", "stopped; left knee"),
    "the longest that may be typed": (
        "x" * recording.TYPED_AT_MOST,
        "stopped; " + "x" * recording.TYPED_AT_MOST,
    ),
}


@pytest.mark.parametrize("typed, kept", NOTES.values(), ids=NOTES)
def test_a_word_of_ours_leaves_the_note_whole(typed, kept):
    assert recording.stopped(row(), Done(ID, CHANGED, note=typed), "stopped").note == kept


GRAVEST = {
    "none": (set(), None),
    "one": ({("left", "pain")}, ("pain", "left")),
    "both sides": ({("left", "pain"), ("right", "pain")}, ("pain", "both")),
    "numbness outweighs pain": ({("left", "pain"), ("right", "numb_or_weak")}, ("numb_or_weak", "right")),
    "tingling outweighs pain": ({("left", "pain"), ("right", "tingling")}, ("tingling", "right")),
}


@pytest.mark.parametrize("signs, found", GRAVEST.values(), ids=GRAVEST)
def test_the_gravest_sign_leads(signs, found):
    assert recording.gravest(signs) == found


def test_the_felt_words_that_stop_are_those_of_the_screen():
    assert set(recording.STOP_FELT) == set(wording.STOP_SIGNS)


# The stop sheet. Which sign asks for what: the house's screening list, section 'stop during a session'
# (ACSM's pre-participation guidance as cited there; chest pain, breathlessness and faintness first).

URGENT = ("chest", "breath", "faint", "headache", "stroke_signs", "self_harm_thoughts")


def test_urgent_signs_come_first_and_end_the_session():
    ids = [sign.id for sign in stopping.signs()]
    assert set(ids[: len(URGENT)]) == set(URGENT)
    assert [sign.id for sign in stopping.signs() if stopping.ends_session(sign.id)] == ids[: len(URGENT)]


CALMER = ("nerve", "heartbeat", "asked", "fault", "doming", "", "pain", "no such sign")


@pytest.mark.parametrize("sign", CALMER, ids=lambda sign: sign or "none")
def test_other_signs_leave_the_choice(sign):
    assert not stopping.ends_session(sign)


def test_every_sign_of_the_list_is_short_and_none_is_lost():
    from library import tables

    on_the_sheet = {sign.id for sign in stopping.signs()}
    assert {row["id"] for row in tables.rule_data()["stop_in_session"]} <= on_the_sheet
    assert all(
        0 < len(sign.short) <= 50 for sign in stopping.signs() if sign.id not in stopping.FROM_RED_FLAGS
    )
