"""Strips of verdicts through time: read without colour, in true proportion."""

import re
import xml.etree.ElementTree as ET

import pytest

from library import bands

INSIDE = bands.WIDTH - 2 * bands.EDGE


def shapes(svg):
    return [(node.get("class"), node.get("d")) for node in ET.fromstring(svg) if node.tag.endswith("path")]


@pytest.mark.parametrize(
    ("verdict", "kinds"),
    [
        ("avoid", ["bd-avoid"]),
        ("modify", ["bd-modify", "bd-modify-in"]),
        ("watch", ["bd-watch", "bd-watch-in"]),
        ("none", ["bd-none"]),
    ],
)
def test_every_verdict_has_a_pattern_of_its_own(verdict, kinds):
    assert [kind for kind, _ in shapes(bands.strip([(0, 10, verdict)], 10))] == kinds
    assert [kind for kind, _ in shapes(bands.sample(verdict))] == kinds


def test_the_four_patterns_are_told_apart_without_colour():
    drawn = {
        verdict: shapes(bands.sample(verdict))[-1][1] for verdict in ("avoid", "modify", "watch", "none")
    }
    assert len(set(drawn.values())) == 4


def test_a_stretch_takes_its_share_of_the_width():
    (_, first), (_, second) = shapes(bands.strip([(0, 28, "avoid"), (28, 112, "none")], 112))
    left, right = (float(x) for x in re.match(r"M([\d.]+) 4H([\d.]+)V", first).groups())
    assert left == pytest.approx(bands.EDGE, abs=1.1)
    assert right - bands.EDGE == pytest.approx(INSIDE / 4, abs=1.1)
    assert second.endswith(f"H{bands.WIDTH - bands.EDGE:.1f}")


@pytest.mark.parametrize("days", [1, 3, 6, 14])
@pytest.mark.parametrize("verdict", ["modify", "watch"])
def test_a_short_stretch_keeps_its_pattern_inside_itself(verdict, days):
    box, *inside, _rest = shapes(bands.strip([(0, days, verdict), (days, 280, "none")], 280))
    right = float(re.search(r"H([\d.]+)V", box[1]).group(1))
    assert bool(inside) == (days > 3)
    for _, path in inside:
        assert all(float(x) <= right for x in re.findall(r"[MHL]([\d.]+)", path))


def test_words_are_escaped_and_read_aloud():
    svg = bands.strip([(0, 5, "avoid")], 5, words='from 1 Dec: <Avoid> & "more"')
    assert ET.fromstring(svg).get("aria-label") == 'from 1 Dec: <Avoid> & "more"'
    assert ET.fromstring(bands.sample("avoid")).get("aria-hidden") == "true"


def test_numbers_of_days_close_together_do_not_cover_each_other():
    svg = ET.fromstring(bands.axis(112, marks=[(50, "1"), (51, "2"), (90, "3")], labels=[], words=""))
    spots = [(float(c.get("cx")), float(c.get("cy"))) for c in svg if c.tag.endswith("circle")]
    assert spots[0][1] != spots[1][1]
    assert spots[0][1] == spots[2][1]
