"""How much of a client's progress goes on one printed page, before any engine sets it. Plain computation.

Head, drawings and foot always stand; what changed, what happened and the numbers share the two columns under
them. Words are measured with the letter widths of the print typeface. Lengths are in millimetres and match
static/print/progress.css; what does not fit is counted, so that the page can say so.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from sessions.charts import GAP_WIDE, WIDE
from sessions.print_text import Text, line_count, text_width

# Height and width of what the margins leave, A4 and Letter.
PAPERS = {"a4": (271.0, 180.0), "letter": (253.4, 185.9)}
# Sizes of type in points with the height of a line.
BODY, SMALL, NAME, TITLE, BIG = 10, 9.5, 12, 25, 19
LINE, SMALL_LINE, NAME_LINE, TITLE_LINE, BIG_LINE = 4.52, 4.3, 5.42, 9.71, 8.58
SENDER, GUTTER = 62.0, 8.0
HEAD_END, FACE_END, HEADING, KEY_TOP, FOOT_TOP = 6.7, 1.0, 9.9, 1.5, 3.0
PILL = 6.0
BAR, AFTER_ITEM = 3.3, 0.8
ROW_AIR = 1.3
# Widths of the table's columns: number, day, left and right; the gap takes the rest.
CELLS, CELL_AIR = (9.0, 23.0, 15.5, 15.5), 2.0
PANEL_SHARE = 0.4617
SPARE = 2.0
MOST_ROWS, FEWEST_EVENTS = 6, 3


@dataclass(frozen=True)
class Words:
    """What is to be placed, as plain text.

    heads: for each side the words of its change, its newest value and the unit; key and foot: whole paragraphs;
    gap: whether there is a drawing of it; events: the weightiest first; rows: oldest first; row_head: over them.
    """

    title: str
    name: str
    sender: tuple[str, ...]
    heads: tuple[tuple[str, str, str], ...]
    key: str
    gap: bool
    foot: str
    changed: Sequence[Text]
    events: Sequence[Text]
    rows: Sequence[tuple[str, ...]]
    row_head: tuple[str, ...]


@dataclass(frozen=True)
class Plan:
    """How many of each stand on the page: changes and events from the first on, of the rows the newest; and
    whether the rows stand under the changes or under what happened."""

    changed: int
    events: int
    rows: int
    rows_left: bool


def plan(words: Words, paper: str) -> Plan:
    """Return what fits. paper: a key of PAPERS."""
    height, width = PAPERS[paper]
    room = height - _fixed(words, width) - SPARE
    column = (width - GUTTER) / 2
    changes = [_item(text, column) for text in words.changed]
    events = [_item(text, column) for text in words.events]
    table = _Table(words, column)
    changed = _first(changes, room - HEADING)
    left = room - HEADING - sum(changes[:changed])
    most = min(len(words.rows), MOST_ROWS)
    if table.height(most) <= left:
        return Plan(changed, _first(events, room - HEADING), most, True)
    wanted = min(len(events), FEWEST_EVENTS)
    for rows in range(most, 0, -1):
        fits = _first(events, room - HEADING - table.height(rows))
        if fits >= wanted:
            return Plan(changed, fits, rows, False)
    return Plan(changed, _first(events, room - HEADING), 0, False)


def _fixed(words: Words, width: float) -> float:
    """Return the height of head, drawings, their words and the foot."""
    left = width - SENDER
    title = line_count(((True, words.title),), TITLE, left) * TITLE_LINE
    name = line_count(words.name, NAME, left) * NAME_LINE
    sender = sum(line_count(text, BODY, SENDER - 4) for text in words.sender) * LINE
    panel = PANEL_SHARE * width
    head = max(_face_lines(*of_side, panel - 2) for of_side in words.heads)
    return (
        max(title + name, sender)
        + HEAD_END
        + head * BIG_LINE
        + FACE_END
        + panel * WIDE.height / WIDE.width
        + KEY_TOP
        + line_count(words.key, SMALL, width) * SMALL_LINE
        + HEADING
        + (width * GAP_WIDE.height / GAP_WIDE.width if words.gap else LINE)
        + FOOT_TOP
        + line_count(words.foot, SMALL, width) * SMALL_LINE
    )


def _face_lines(change: str, value: str, unit: str, width: float) -> int:
    """Return the lines over a panel: the change, a pill with the side's name, and the value in large figures."""
    pill = text_width(((True, "Right"),), BODY) + PILL
    figures = text_width(((True, f"{value} "),), BIG) + text_width(((True, unit),), NAME)
    return 1 + int((text_width(change, BODY) + pill + figures + 2) // width)


def _item(text: Text, column: float) -> float:
    return line_count(text, BODY, column - BAR) * LINE + AFTER_ITEM


def _first(heights: Sequence[float], room: float) -> int:
    """Return how many fit from the first on; a line that says how many do not is kept free for them."""
    if sum(heights) <= room:
        return len(heights)
    return _count(heights, room - SMALL_LINE)


def _count(heights: Sequence[float], room: float) -> int:
    used = 0.0
    for place, height in enumerate(heights):
        used += height
        if used > room:
            return place
    return len(heights)


class _Table:
    """The numbers of the tests: how high so many of the newest are, with their heading."""

    def __init__(self, words: Words, column: float):
        widths = [wide - CELL_AIR for wide in (*CELLS, column - sum(CELLS))]
        self.head = _row(words.row_head, widths, bold=True)
        self.rows = [_row(row, widths) for row in words.rows]

    def height(self, count: int) -> float:
        more = SMALL_LINE if count < len(self.rows) else 0
        return HEADING + self.head + sum(self.rows[len(self.rows) - count :]) + more


def _row(cells: Sequence[str], widths: Sequence[float], *, bold: bool = False) -> float:
    lines = (line_count(((bold, text),), SMALL, wide) for text, wide in zip(cells, widths, strict=True))
    return max(lines) * SMALL_LINE + ROW_AIR
