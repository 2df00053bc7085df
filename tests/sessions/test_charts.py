"""Charts: points stand where the scale puts them, both sides on one scale, and every drawing is sound SVG."""

import datetime as dt
import re
import xml.etree.ElementTree as ET
from decimal import Decimal as D

import pytest

from sessions import chart_gap, chart_paints, chart_steps, chart_strips, charts
from sessions.charts import Band, Chart, Line, Point

SVG = "{http://www.w3.org/2000/svg}"
DAYS = [dt.date(2026, 1, 1), dt.date(2026, 2, 20), dt.date(2026, 4, 11)]
LEFT, RIGHT, LIMIT = [D("5.5"), D("8.5"), D("6")], [D("10.5"), D("11"), D("10")], D("1.9")


def a_chart(**changed) -> Chart:
    points = {
        "left": [Point(*pair) for pair in zip(DAYS, LEFT, strict=True)],
        "right": [Point(*pair) for pair in zip(DAYS, RIGHT, strict=True)],
    }
    wanted = {"points": points, "first": DAYS[0], "last": DAYS[-1], "limit": LIMIT}
    wanted |= {"tick_words": lambda value, unit: f"{value} cm" if unit else str(value), "month_words": str}
    return Chart(**(wanted | changed))


def drawn(chart: Chart, side: str, frame=charts.WIDE) -> ET.Element:
    text = charts.panel(chart, side, frame, chart_paints.PAGE, name="n", title="Title", desc="Words")
    return ET.fromstring(text)


def path_of(root: ET.Element, role: str) -> str:
    """Return the path data of the shape painted with a role."""
    return root.find(f".//{SVG}path[@{chart_paints.PAGE[role]}]").get("d")


def corners(path: str) -> list[tuple[float, float]]:
    """Return the absolute points of a path made of M and L."""
    return [tuple(map(float, pair.split())) for pair in re.findall(r"[ML](-?[\d.]+ -?[\d.]+)", path)]


# A straight scale is linear interpolation: its ends at its ends, the middle in the middle.
@pytest.mark.parametrize(
    ("value", "expected"),
    [(D(0), 100.0), (D(10), 0.0), (D(5), 50.0), (D("2.5"), 75.0)],
    ids=["low", "high", "middle", "quarter"],
)
def test_scale_is_straight(value, expected):
    assert charts.Scale(D(0), D(10), 100, 0)(value) == pytest.approx(expected)


def test_scale_of_dates_counts_days():
    scale = charts.Scale(dt.date(2026, 1, 1), dt.date(2026, 12, 31), 0, 364)
    assert scale(dt.date(2026, 3, 1)) == pytest.approx(59)  # 31 days of January and 28 of February


# Steps of 1, 2 and 5 times a power of ten: the usual rule for round ticks (from memory: Heckbert 1990).
@pytest.mark.parametrize(
    ("low", "high", "expected"),
    [
        (D("3.4"), D("13.4"), [4, 6, 8, 10, 12]),
        (D(0), D(61), [0, 20, 40, 60]),
        (D("-8.4"), D("12.4"), [-5, 0, 5, 10]),
        (D("0.1"), D("0.62"), [D("0.1"), D("0.2"), D("0.3"), D("0.4"), D("0.5"), D("0.6")]),
    ],
    ids=["lunge", "seconds", "minus", "under_one"],
)
def test_ticks_are_round_and_inside(low, high, expected):
    assert charts.ticks(low, high) == [D(value) for value in expected]


@pytest.mark.parametrize(
    ("first", "last", "months"),
    [
        (dt.date(2026, 4, 1), dt.date(2026, 11, 30), [4, 5, 6, 7, 8, 9, 10, 11]),
        (dt.date(2026, 1, 1), dt.date(2026, 12, 31), [1, 3, 5, 7, 9, 11]),
        (dt.date(2025, 1, 1), dt.date(2026, 12, 31), [1, 4, 7, 10, 1, 4, 7, 10]),
    ],
    ids=["every", "second", "third"],
)
def test_month_names_thin_out(first, last, months):
    assert [day.month for day in charts.months(first, last)] == months


def test_five_years_are_named_by_year():
    named = charts.months(dt.date(2021, 11, 25), dt.date(2026, 11, 25))
    assert [day.year for day in named] == [2022, 2023, 2024, 2025, 2026]
    assert charts.spans_years(dt.date(2021, 11, 25), dt.date(2026, 11, 25))


@pytest.mark.parametrize("side", charts.SIDES)
def test_points_stand_where_date_and_value_put_them(side):
    chart = a_chart()
    low, high = charts.reach(chart)
    values = LEFT if side == "left" else RIGHT
    plot = charts.WIDE
    across, down = plot.width - 2 * plot.edge, plot.height - plot.top - plot.foot
    for (x, y), day, value in zip(
        corners(path_of(drawn(chart, side), f"line.{side}")), DAYS, values, strict=True
    ):
        # By hand: 1 January to 11 April are 100 days.
        assert x == pytest.approx(plot.edge + across * (day - DAYS[0]).days / 100, abs=0.06)
        assert y == pytest.approx(plot.top + down * float((high - value) / (high - low)), abs=0.06)


@pytest.mark.parametrize("side", charts.SIDES)
def test_ribbon_is_the_limit_either_way(side):
    chart = a_chart()
    low, high = charts.reach(chart)
    unit = (charts.WIDE.height - charts.WIDE.top - charts.WIDE.foot) / float(high - low)
    root = drawn(chart, side)
    line, ribbon = corners(path_of(root, f"line.{side}")), corners(path_of(root, f"ribbon.{side}"))
    over, under = ribbon[:3], ribbon[3:][::-1]
    for (x, y), (ox, oy), (ux, uy) in zip(line, over, under, strict=True):
        assert (ox, ux) == (x, x)
        assert y - oy == pytest.approx(1.9 * unit, abs=0.11)
        assert uy - y == pytest.approx(1.9 * unit, abs=0.11)


def test_ribbon_stops_where_nothing_can_be():
    chart = a_chart(limit=D("30.4"), lowest=D(0))
    y = charts.Scale(*charts.reach(chart), charts.WIDE.height - charts.WIDE.foot, charts.WIDE.top)
    ribbon = corners(path_of(drawn(chart, "left"), "ribbon.left"))
    assert max(level for _x, level in ribbon) == pytest.approx(y(D(0)), abs=0.06)


def test_both_panels_share_one_scale():
    root_left, root_right = (drawn(a_chart(), side) for side in charts.SIDES)
    assert path_of(root_left, "grid") == path_of(root_right, "grid")
    assert corners(path_of(root_left, "ghost")) == corners(path_of(root_right, "line.right"))
    assert corners(path_of(root_right, "ghost")) == corners(path_of(root_left, "line.left"))


def test_axis_stands_beside_the_same_grid():
    chart = a_chart()
    root = ET.fromstring(charts.axis(chart, charts.WIDE, chart_paints.PAGE))
    rules = [float(y) for y in re.findall(r"M0 ([\d.]+)H", path_of(drawn(chart, "left"), "grid"))]
    words = [(float(t.get("y")) - 6, t.text) for t in root.iter(f"{SVG}text")]
    assert [y for y, _text in words] == pytest.approx(rules, abs=0.11)
    assert [text for _y, text in words] == ["4 cm", "6 cm", "8 cm", "10 cm", "12 cm"]


def test_half_discs_are_mirror_images():
    """Round towards the own side: an arc of sweep 1 from foot to top bulges left, of sweep 0 right (SVG 1.1, 8.3.8)."""
    left, right = charts.half_disc(50, 20, "left", 7), charts.half_disc(50, 20, "right", 7)
    assert left.replace(" 0 0 1 ", " 0 0 0 ") == right
    assert left != right


def test_without_a_limit_there_is_neither_ribbon_nor_band():
    chart = a_chart(limit=None)
    for side in charts.SIDES:
        assert "ribbon" not in charts.panel(chart, side, charts.WIDE, chart_paints.PAGE)
    gaps = [chart_gap.GapPoint(DAYS[0], D(5), "left")]
    text = chart_gap.gap(
        chart, gaps, charts.GAP_WIDE, chart_paints.PAGE, words=lambda size, unit: str(size), even="Even"
    )
    assert "ch-even" not in text


def test_goal_stands_at_its_level_with_its_words():
    chart = a_chart(goals={"left": Line(D(10), "Goal 10 cm by July")})
    y = charts.Scale(*charts.reach(chart), charts.WIDE.height - charts.WIDE.foot, charts.WIDE.top)
    root = drawn(chart, "left")
    assert float(re.match(r"M16 ([\d.]+)H454", path_of(root, "goal")).group(1)) == pytest.approx(
        y(D(10)), abs=0.06
    )
    assert "Goal 10 cm by July" in [t.text for t in root.iter(f"{SVG}text")]
    assert "ch-goal" not in charts.panel(chart, "right", charts.WIDE, chart_paints.PAGE)


def test_flare_up_is_hatched_over_its_days_with_its_word():
    chart = a_chart(bands={"left": [Band(dt.date(2026, 2, 20), dt.date(2026, 3, 12), "Flare-up")]})
    x = charts.days(chart, charts.WIDE)
    root = drawn(chart, "left")
    places = [a for a, _b in corners(path_of(root, "hatch"))]
    assert min(places) == pytest.approx(x(dt.date(2026, 2, 20)), abs=0.06)
    assert max(places) == pytest.approx(x(dt.date(2026, 3, 12)), abs=0.06)
    assert "Flare-up" in [t.text for t in root.iter(f"{SVG}text")]
    assert "ch-hatch" not in charts.panel(chart, "right", charts.WIDE, chart_paints.PAGE)


def test_a_second_word_that_would_touch_the_first_is_left_out():
    close = [Band(dt.date(2026, 2, d), dt.date(2026, 2, d + 1), "Flare-up") for d in (10, 14)]
    root = drawn(a_chart(bands={"left": close}), "left")
    assert [t.text for t in root.iter(f"{SVG}text")].count("Flare-up") == 1
    assert path_of(root, "hatch")


def test_flare_ups_that_overlap_are_hatched_once():
    days = [dt.date(2026, 2, d) for d in (1, 10, 5, 20, 25, 27)]
    bands = [
        Band(days[0], days[1], "Flare-up"),
        Band(days[2], days[3], "Flare-up"),
        Band(days[4], days[5], "Flare-up"),
    ]
    assert charts.merged(bands) == [Band(days[0], days[3], "Flare-up"), Band(days[4], days[5], "Flare-up")]


def test_hatching_stays_in_its_box():
    for x, y in corners(charts.hatching(100, 160, 20, 240)):
        assert 100 <= x <= 160
        assert 20 <= y <= 240


def test_each_session_has_its_tick_and_none_outside():
    days = [dt.date(2025, 12, 1), *DAYS, dt.date(2026, 5, 1)]
    x = charts.days(a_chart(), charts.WIDE)
    places = [float(a) for a in re.findall(r"M([\d.]+) ", charts.session_ticks(days, x, 10))]
    assert places == pytest.approx([x(day) for day in DAYS], abs=0.06)


@pytest.mark.parametrize("side", charts.SIDES)
def test_tall_panels_carry_the_numbers_of_the_axis_for_narrow_screens(side):
    def numbers(frame):
        return [
            t.text
            for t in drawn(a_chart(), side, frame).iter(f"{SVG}text")
            if t.get("class") == "ch-text is-tick"
        ]

    assert numbers(charts.TALL) == ["4 cm", "6 cm", "8 cm", "10 cm", "12 cm"]
    assert numbers(charts.WIDE) == []


def test_one_test_alone_is_a_point_without_a_line():
    only = {"left": [Point(DAYS[0], D("5.5"))], "right": []}
    chart = a_chart(points=only, first=DAYS[0], last=DAYS[0])
    text = charts.panel(chart, "left", charts.WIDE, chart_paints.PAGE)
    assert "ch-half" in text
    assert "ch-ribbon" in text
    assert "ch-line" not in text


# The gap


def gap_of(gaps, limit=LIMIT) -> ET.Element:
    chart = a_chart(limit=limit)
    text = chart_gap.gap(
        chart, gaps, charts.GAP_WIDE, chart_paints.PAGE, words=lambda size, unit: str(size), even="Even", name="n",
        title="Gap", desc="Words",
    )  # fmt: skip
    return ET.fromstring(text)


def test_a_stem_for_each_test_as_high_as_its_gap():
    gaps = [
        chart_gap.GapPoint(day, size, "left") for day, size in zip(DAYS, (D(5), D("2.5"), D(4)), strict=True)
    ]
    y = chart_gap.scale(gaps, LIMIT, charts.GAP_WIDE)
    stems = re.findall(r"M[\d.]+ ([\d.]+)V([\d.]+)", path_of(gap_of(gaps), "stem.left"))
    assert [float(foot) for foot, _top in stems] == pytest.approx([y(D(0))] * 3, abs=0.06)
    assert [float(top) for _foot, top in stems] == pytest.approx([y(D(5)), y(D("2.5")), y(D(4))], abs=0.06)
    band = float(re.match(r"M0 ([\d.]+)H", path_of(gap_of(gaps), "even.line")).group(1))
    assert band == pytest.approx(y(LIMIT), abs=0.06)


def test_the_side_behind_carries_its_own_disc():
    gaps = [
        chart_gap.GapPoint(DAYS[0], D(5), "left"),
        chart_gap.GapPoint(DAYS[1], D(3), "right"),
        chart_gap.GapPoint(DAYS[2], D(0), ""),
    ]
    root = gap_of(gaps)
    assert path_of(root, "half.left").count("M") == 1
    assert path_of(root, "half.right").count("M") == 1
    assert path_of(root, "half.even").count("M") == 2


@pytest.mark.parametrize("limit", [D("1.9"), D(4), D("30.4")], ids=str)
@pytest.mark.parametrize("size", [D("0.5"), D("1.8"), D(3), D(8)], ids=str)
def test_newest_gap_and_the_words_of_the_band_keep_apart(limit, size):
    gaps = [chart_gap.GapPoint(DAYS[-1], size, "left")]
    y = chart_gap.scale(gaps, limit, charts.GAP_WIDE)
    words, newest = chart_gap.places(gaps, limit, y, y(D(0)))
    # Large figures are 22 units high, small ones 13.
    assert newest - 22 >= words or words - 13 >= newest


# Quality: steps, never a line


def times(count: int) -> list[chart_steps.Time]:
    return [
        chart_steps.Time(DAYS[0] + dt.timedelta(weeks=n), 1 + n % 5, None if n == 1 else 5)
        for n in range(count)
    ]


def test_quality_is_filled_cells_and_no_line_joins_them():
    root = ET.fromstring(
        chart_steps.steps(times(4), chart_paints.PAGE, day_words=str, title="Q", desc="W", name="n")
    )
    painted = {shape.get("class") for shape in root.iter(f"{SVG}path")}
    assert painted == {"ch-spine", "ch-step is-left", "ch-step is-right", "ch-step is-off", "ch-step is-none"}
    # 1 + 2 + 3 + 4 steps on the left; three times five on the right and one time not noted.
    assert path_of(root, "step.left").count("M") == 10
    assert path_of(root, "step.right").count("M") == 15
    assert path_of(root, "step.off").count("M") == 10
    assert path_of(root, "step.none").count("M") == 1
    # A cell is closed; nothing runs from one time to the next.
    assert all("L" not in shape.get("d") for shape in root.iter(f"{SVG}path"))
    assert not list(root.iter(f"{SVG}polyline"))


def test_left_steps_stand_left_of_the_midline():
    middle = chart_steps.ROW.width / 2
    for place in range(4):
        assert chart_steps.stair_left("left", place, 4) + chart_steps.STAIR < middle
        assert chart_steps.stair_left("right", place, 4) > middle


# Strips


def test_bars_grow_outward_on_one_scale():
    strip = chart_strips.Strip(
        now={"left": D("8.5"), "right": D(11)}, was={"left": D("5.5")}, goals={"left": D(10)}
    )
    assert strip.base == 0
    assert strip.share(D(11)) == pytest.approx(0.9)
    assert strip.share(D("5.5")) == pytest.approx(0.45)
    middle = chart_strips.FRAME.width / 2
    assert chart_strips.at("left", 60) == pytest.approx(2 * middle - chart_strips.at("right", 60))
    assert chart_strips.at("left", 60) < middle


def test_minus_values_begin_under_the_lowest():
    strip = chart_strips.Strip(now={"left": D(-4), "right": D(6)})
    assert strip.base == D(-5)
    assert 0 < strip.share(D(-4)) < strip.share(D(6)) <= 0.9


# Every drawing


def every_drawing(paint) -> list[str]:
    chart = a_chart(
        goals={"left": Line(D(10), "Goal <10> & more")},
        bands={"left": [Band(DAYS[0], DAYS[1], "Flare-up")]},
        sessions=DAYS,
    )
    gaps = [chart_gap.GapPoint(day, D(3), "right") for day in DAYS]
    strip = chart_strips.Strip(now={"left": D(8), "right": D(9)}, was={"left": D(5)}, goals={"right": D(10)})
    named = {"name": "n", "title": "Title", "desc": "Words"}
    return [
        *(
            charts.panel(chart, side, frame, paint, **named)
            for side in charts.SIDES
            for frame in (charts.WIDE, charts.TALL)
        ),
        charts.axis(chart, charts.WIDE, paint),
        chart_gap.gap(
            chart, gaps, charts.GAP_WIDE, paint, words=lambda size, unit: str(size), even="Even", **named
        ),
        chart_steps.steps(times(5), paint, day_words=str, **named),
        chart_strips.strip(strip, paint, **named),
    ]


@pytest.mark.parametrize("paint", [chart_paints.PAGE, chart_paints.GREY], ids=["page", "grey"])
def test_drawings_are_sound_and_carry_title_and_words_but_no_style(paint):
    for text in every_drawing(paint):
        root = ET.fromstring(text)
        assert "style" not in text
        if root.get("aria-hidden") == "true":
            continue
        assert root.get("role") == "img"
        ids = {root.find(f"{SVG}title").get("id"), root.find(f"{SVG}desc").get("id")}
        assert {root.get("aria-labelledby"), root.get("aria-describedby")} == ids
        assert root.find(f"{SVG}title").text
        assert root.find(f"{SVG}desc").text


def test_grey_paint_is_written_out_and_grey():
    """On paper no class and no variable is left, and every colour has three equal parts."""
    assert set(chart_paints.GREY) == set(chart_paints.PAGE) == set(chart_paints.ROLES)
    for role, attributes in chart_paints.GREY.items():
        assert "class" not in attributes
        assert "var(" not in attributes
        for colour in re.findall(r"#([0-9a-f]+)", attributes):
            size = len(colour) // 3
            assert len({colour[at : at + size] for at in range(0, len(colour), size)}) == 1, role
