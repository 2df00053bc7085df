"""Progress: tests, changes, gaps, flare-ups, steps and springs, from plain values; and what is said of them."""

import datetime as dt
from decimal import Decimal as D

import pytest

from library import measure_wording, measures
from sessions import progress, progress_wording
from sessions.progress import Done, Happened, Reading

LUNGE, REACH, BRIDGE = (
    measures.measure(key) for key in ("knee_to_wall_lunge", "back_saver_sit_and_reach", "side_bridge")
)
TODAY = dt.date(2026, 11, 25)
DAYS = [dt.date(2026, 4, 8) + dt.timedelta(weeks=6 * n) for n in range(6)]
WAY = "same"


def readings(left, right, days=DAYS, way=WAY) -> list[Reading]:
    return [
        Reading(day, side, D(str(value)), way)
        for day, pair in zip(days, zip(left, right, strict=True), strict=False)
        for side, value in zip(("left", "right"), pair, strict=True)
        if value is not None
    ]


# The design's own example: six tests of the lunge, left 5.5 to 8.5 and right 10.5 to 11.0 cm.
SIX = readings([5.5, 6.5, 7.5, 8.5, 6, 8.5], [10.5, 10, 11, 10.5, 11, 11])


# Source of the limits: Powden 2015 (1.9 cm), Lopez-Minarro 2009 (4 cm), Juan-Recio 2022 (30.4 s, derived), as in
# library/data/measures. At the limit counts as real.
@pytest.mark.parametrize(
    ("of", "left", "words"),
    [
        (LUNGE, (5.5, 8.5), "up 3.0 cm"),
        (LUNGE, (10.5, 11), "up 0.5 cm, within noise"),
        (LUNGE, (8.5, 6), "down 2.5 cm"),
        (LUNGE, (8, 8), "the same"),
        (REACH, (0, 4), "up 4.0 cm"),
        (REACH, (-2, 1.5), "up 3.5 cm, within noise"),
        (BRIDGE, (12, 42), "up 30 s, within noise"),
        (BRIDGE, (12, 43), "up 31 s"),
    ],
    ids=["real", "noise", "down", "same", "at_limit", "below_limit", "bridge_noise", "bridge_real"],
)
def test_heading_says_the_change_since_the_first_test(of, left, words):
    shown = progress.progress(of, readings(left, left))
    assert progress_wording.head(of, shown.sides["left"])["change"] == words


def test_a_measure_without_a_limit_cannot_be_told():
    from dataclasses import replace

    bare = replace(LUNGE, change_limit=None, sem=None)
    shown = progress.progress(bare, SIX)
    assert progress_wording.head(bare, shown.sides["left"])["change"] == "up 3.0 cm, cannot tell"
    assert progress_wording.gap_strip(bare, shown)["words"] == "cannot tell"
    lines = progress_wording.changed(bare, shown, EXTRA, TODAY)
    assert "No study gives the error of this measure." in " ".join(lines)


EXTRA = {"quality": [], "springs": [], "names": {}, "sessions": 27, "missed": 2}


def test_the_design_example_in_words():
    shown = progress.progress(LUNGE, SIX)
    heads = {side: progress_wording.head(LUNGE, shown.sides[side]) for side in ("left", "right")}
    assert (heads["left"]["number"], heads["left"]["change"]) == ("8.5", "up 3.0 cm")
    assert (heads["right"]["number"], heads["right"]["change"]) == ("11.0", "up 0.5 cm, within noise")
    assert progress_wording.gap_heading(LUNGE, shown) == "Gap, 5.0 to 2.5 cm"
    assert progress_wording.gap_strip(LUNGE, shown)["words"] == "left 2.5 cm behind, was 5.0"
    lines = progress_wording.changed(LUNGE, shown, EXTRA, TODAY)
    assert lines[0].startswith("Left, since 8 Apr: up 3.0 cm: more than noise, better. Seen once")
    assert "within noise" in lines[1]
    assert lines[-1] == "27 sessions in this time. 2 weeks without one."


def test_two_retests_in_a_row_confirm():
    """Rule R6 of the project's measures: confirmed when two retests in a row say it in the same direction."""
    shown = progress.progress(LUNGE, readings([5, 7, 7.5], [9, 9, 9]))
    assert shown.sides["left"].confirmed
    assert "Seen in two tests running." in progress_wording.changed(LUNGE, shown, EXTRA, TODAY)[0]


def test_a_range_moves_the_first_test_and_keeps_the_numbers():
    shown = progress.progress(LUNGE, SIX, first=DAYS[3], last=DAYS[4])
    assert [test.number for test in shown.tests] == [4, 5]
    assert shown.sides["left"].change.amount == D("-2.5")


def test_of_two_values_on_a_day_the_later_counts():
    twice = [Reading(DAYS[0], "left", D(5), WAY), Reading(DAYS[0], "left", D(6), WAY)]
    assert [test.left for test in progress.tests(twice)] == [D(6)]


def test_tests_taken_another_way_stand_in_the_table_only():
    other = readings([4, 4.5], [9, 9], DAYS[:2], way="shoes on")
    shown = progress.progress(LUNGE, other + readings([7, 8], [9, 9], DAYS[2:4]))
    assert [test.number for test in shown.tests] == [3, 4]
    assert shown.sides["left"].change.amount == 1
    rows = progress_wording.table(LUNGE, shown, TODAY)
    assert [row["number"] for row in rows] == [1, 2, 3, 4]
    assert rows[0]["gap"] == "taken in another way: not drawn"


def test_a_side_that_was_not_taken_is_no_nought():
    shown = progress.progress(LUNGE, readings([5, None, 6], [9, 9, None]))
    assert len(shown.gaps) == 1
    assert shown.sides["left"].change.amount == 1
    rows = progress_wording.table(LUNGE, shown, TODAY)
    assert (rows[1]["left"], rows[1]["gap"]) == ("–", "one side only")


def test_table_holds_the_numbers_of_the_chart():
    shown = progress.progress(LUNGE, SIX)
    rows = progress_wording.table(LUNGE, shown, TODAY)
    for row, test in zip(rows, shown.tests, strict=True):
        for side in ("left", "right"):
            assert row[side] == measure_wording.value_words(LUNGE, test.side(side))
    assert [row["gap"] for row in rows][0] == "left 5.0 cm behind"


def test_the_side_behind_is_named_also_within_noise():
    gap = measures.gap(LUNGE, D(10), D(11))
    assert gap.behind == ""
    assert progress.behind(LUNGE, gap) == "left"
    assert progress.behind(LUNGE, measures.gap(LUNGE, D(10), D(10))) == ""


# Flare-ups


@pytest.mark.parametrize(
    ("key", "steps", "expected"),
    [
        ("ankle_sprain", [(3, "proposed"), (4, "active"), (24, "ended")], (1, 24, True)),
        ("ankle_sprain", [(4, "active")], (1, 200, False)),
        ("ankle_sprain", [(4, "active"), (9, "resting")], (1, 9, True)),
        ("ankle_sprain", [(3, "proposed")], None),
        ("osteoporosis", [(4, "active"), (24, "ended")], None),
    ],
    ids=["over", "goes_on", "rests", "never_confirmed", "does_not_come_and_go"],
)
def test_flare_up_reaches_from_its_day_to_its_end(key, steps, expected):
    def day(n):
        return dt.date(2026, 1, 1) + dt.timedelta(days=n)

    found = progress.flare_up(key, "left", day(1), [(day(n), state) for n, state in steps], day(200))
    if expected is None:
        assert found is None
        return
    first, last, ended = expected
    assert (found.first, found.last, found.ended) == (day(first), day(last), ended)


def test_what_lasts_longer_than_twelve_weeks_is_hatched_for_twelve():
    day = dt.date(2026, 1, 1)
    found = progress.flare_up("whiplash", "", day, [(day, "active")], dt.date(2026, 11, 1))
    assert (found.last, found.hatched_to) == (dt.date(2026, 11, 1), dt.date(2026, 3, 26))


# Source of the two points: Childs 2005, low back pain on 0 to 10.
@pytest.mark.parametrize(
    ("numbers", "spells"),
    [
        ([2, 2, 3, 2, 6, 5, 2], [(4, 5, 6, 2, True)]),
        ([2, 2, 3, 3, 3, 3], []),
        ([2, 2, 2, 5], [(3, 3, 5, 2, False)]),
        ([5, 6, 5], []),
        ([0, 0, 0, 2, 0], []),
        ([2, 2, 2, 4, 4, 2, 2, 2, 4], [(3, 4, 4, 2, True), (8, 8, 4, 2, False)]),
    ],
    ids=["two_sessions", "one_point_is_noise", "goes_on", "too_few_before", "two_is_little", "twice"],
)
def test_more_pain_than_before_is_a_spell(numbers, spells):
    days = [dt.date(2026, 1, 1) + dt.timedelta(weeks=n) for n in range(len(numbers))]
    found = progress.pain_spells([(day, n, "") for day, n in zip(days, numbers, strict=True)])
    assert [(days.index(s.first), days.index(s.last), s.most, s.before, s.ended) for s in found] == spells


# Quality: order only. Common practice, no source: changed at two steps, or at one step seen twice running.
@pytest.mark.parametrize(
    ("values", "expected"),
    [
        ([1, 2, 2, 4], (1, 4, 2, 2, 1, 0, "up")),
        ([3, 4], (3, 4, 3, 1, 0, 0, "")),
        ([3, 4, 4], (3, 4, 4, 1, 1, 0, "up")),
        ([3, 2, 2], (3, 2, 2, 0, 1, 1, "down")),
        ([4, None, 2], (4, 2, 2, 0, 0, 1, "down")),
        ([3, 4, 3], (3, 3, 3, 1, 0, 1, "")),
        ([3, None], None),
    ],
    ids=["three_steps", "one_step_once", "one_step_twice", "down_twice", "gap", "back_again", "once"],
)
def test_steps_are_compared_and_counted_never_averaged(values, expected):
    found = progress.steps_moved(values)
    got = found and (found.first, found.last, found.middle, found.up, found.same, found.down, found.changed)
    assert got == expected


def test_quality_rows_are_the_exercises_noted_most_often():
    day = dt.date(2026, 1, 1)
    done = [
        Done(day, 7, (), left=3),
        Done(day, 7, (), right=4),
        Done(day, 8, (), left=2),
        Done(day, 9, (), both=5),
    ]
    assert [row.exercise for row in progress.quality_rows(done)] == [7]


@pytest.mark.parametrize(
    ("before", "after", "way"),
    [
        ([("heavy", 2)], [("heavy", 2), ("medium", 1)], "up"),
        ([("heavy", 1)], [("medium", 1)], "down"),
        ([("medium", 1)], [("heavy", 1)], "up"),
        ([("heavy", 1)], [("light", 3)], "other"),
        ([("medium", 2)], [("medium", 1)], "down"),
    ],
    ids=["one_more", "lighter", "heavier", "cannot_be_weighed", "one_less"],
)
def test_springs_up_only_where_it_is_plain(before, after, way):
    """A heavier spring for a lighter one, or one more, is up; one heavy for three light is not ours to weigh."""
    days = [dt.date(2026, 1, 1), dt.date(2026, 1, 8)]
    moves = progress.springs_moved([Done(days[0], 1, tuple(before)), Done(days[1], 1, tuple(after))])
    assert [(move.on, move.way) for move in moves] == [(days[1], way)]


def test_weeks_without_a_session_are_counted_by_the_calendar():
    days = [
        dt.date(2026, 11, 2),
        dt.date(2026, 11, 8),
        dt.date(2026, 11, 23),
    ]  # weeks 45, 45 and 48 of ISO 8601
    assert [day.isocalendar().week for day in days] == [45, 45, 48]
    assert progress.missed_weeks(days, days[0], days[-1]) == 2


# The story line


def test_story_is_oldest_first_and_inside_its_days():
    events = [
        Happened(dt.date(2026, 5, 6), "test", "in"),
        Happened(dt.date(2026, 5, 6), "flare", "same day, before the test"),
        Happened(dt.date(2026, 1, 6), "flare", "reaches in", until=dt.date(2026, 5, 1)),
        Happened(dt.date(2026, 1, 5), "goal", "before"),
    ]
    found = progress.story(events, dt.date(2026, 4, 1), dt.date(2026, 12, 1))
    assert [one.thing for one in found] == ["reaches in", "same day, before the test", "in"]


def test_the_line_keeps_the_newest_of_each_kind():
    day = dt.date(2026, 1, 1)
    kinds = ["goal", "flare", *["load"] * 8, "test"]
    happened = [Happened(day + dt.timedelta(days=n), kind, n) for n, kind in enumerate(kinds)]
    assert [one.thing for one in progress.picked(happened, 5)] == [0, 1, 8, 9, 10]
