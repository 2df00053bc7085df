"""Which part of a handout goes on which page, before any engine sets it.

The page is set by two engines that break pages differently (the PDF engine and the browser), so the breaks
are decided here: words are measured with the letter widths of the print typeface, and every page is a block
of its own. Lengths are in millimetres and match static/print/handout.css.
"""

from dataclasses import dataclass, replace
from math import ceil

from sessions.print_text import POINT, Text, line_count, text_width

# Panels are whole millimetres, classes p22 to p72 in the styles: the pages are filled with panels no taller than
# the tallest of their measures, and those grow where a page has room left. Somebody standing needs it.
LOWEST_PANEL, TALLEST_PANEL = 22, 72
TABLE_GAP = 2
# What stays empty above the foot, so that a page that was measured a little short still holds.
SPARE = 1.0


@dataclass(frozen=True)
class Measures:
    """Sizes of one page and one layout. Widths and heights in mm, type sizes in points."""

    page: float
    width: float
    text: float
    body_pt: float
    line: float
    panels: tuple[int, ...]
    figure: float
    frame: float
    on_page: int
    head_first: float
    head: float
    title: float
    sender: float
    head_pt: float
    head_line: float
    head_halves: tuple[float, float]
    title_pt: float
    title_line: float
    exercise: float
    figure_gap: float
    dose: float
    pill: float
    pill_line: float
    paragraph: float
    stop: float
    stop_text: float
    stop_line: float
    foot_pt: float
    foot_line: float
    calendar_head: float
    table_head: float
    row: float
    row_pt: float
    name: float
    weeks_in_table: int


_NORMAL = {
    "frame": 3.2,
    "text": 172,
    "body_pt": 14,
    "line": 6.425,
    "on_page": 2,
    "head_first": 2.95,
    "head": 2.35,
    "title": 10.5,
    "sender": 80,
    "head_pt": 14,
    "head_line": 6.425,
    "head_halves": (88, 88),
    "title_pt": 19,
    "title_line": 7.55,
    "exercise": 7.25,
    "figure_gap": 2.7,
    "dose": 11.3,
    "pill": 10.5,
    "pill_line": 8.4,
    "paragraph": 0,
    "stop": 4.7,
    "stop_line": 6.38,
    "foot_pt": 12,
    "foot_line": 4.25,
    "calendar_head": 18.5,
    "table_head": 13.4,
    "row": 13.05,
    "row_pt": 14,
    "name": 51,
    "weeks_in_table": 2,
}
_LARGE = {
    "frame": 4.4,
    "text": 155,
    "body_pt": 20,
    "line": 10.59,
    "on_page": 1,
    "head_first": 4.15,
    "head": 2.35,
    "title": 14.1,
    "sender": 80,
    "head_pt": 18,
    "head_line": 8.6,
    "head_halves": (106, 70),
    "title_pt": 27,
    "title_line": 10.7,
    "exercise": 8.6,
    "figure_gap": 4.5,
    "dose": 16.7,
    "pill": 14,
    "pill_line": 11.9,
    "paragraph": 2,
    "stop": 4.7,
    "stop_line": 9.88,
    "foot_pt": 18,
    "foot_line": 7.95,
    "calendar_head": 23.4,
    "table_head": 10.8,
    "row": 13.65,
    "row_pt": 18,
    "name": 69,
    "weeks_in_table": 1,
}
MEASURES = {
    ("a4", False): Measures(
        page=266.6, width=180, figure=79, panels=(37, 34, 31, 29, 27, 25), stop_text=170, **_NORMAL
    ),
    ("letter", False): Measures(
        page=248.6, width=185, figure=81.5, panels=(35, 32, 29, 27, 24), stop_text=175, **_NORMAL
    ),
    ("a4", True): Measures(
        page=266.6, width=180, figure=79, panels=(48, 42, 36, 31), stop_text=155, **_LARGE
    ),
    ("letter", True): Measures(
        page=248.6, width=185, figure=81.5, panels=(48, 42, 36, 31), stop_text=155, **_LARGE
    ),
}


@dataclass(frozen=True)
class Words:
    """The words to be placed, as plain text.

    exercises: (title, pills and how often, paragraphs, the drawing's height over its width) each;
    sides: how many rows of figures each exercise has, one unless both sides are drawn;
    rows: names in the calendar; weeks: how many of them;
    opening: the lines under the title; sender: the lines right of it (none in large print);
    head: left and right of the running head; stop: the paragraphs of the stop box, urgent signs first;
    foot: the pieces of the foot line.
    """

    exercises: tuple[tuple[str, tuple[str, ...], tuple[Text, ...], float], ...]
    rows: tuple[str, ...]
    weeks: int
    opening: tuple[str, ...]
    sender: tuple[str, ...]
    head: tuple[str, str]
    stop: tuple[Text, ...]
    foot: tuple[str, ...]
    sides: tuple[int, ...] = ()

    def figure_rows(self, index: int) -> int:
        return self.sides[index] if self.sides else 1


@dataclass(frozen=True)
class Block:
    """A piece that is never split: "exercise", "rest" (of an exercise's text) or "calendar".

    index: which exercise; paragraphs: the slice of its paragraphs; panel: height of its figure panels in
    whole mm; sides: how many rows of them; weeks: which weeks of the calendar.
    """

    kind: str
    height: float
    index: int = 0
    paragraphs: tuple[int, int] = (0, 0)
    panel: int = 0
    sides: int = 1
    weeks: tuple[int, ...] = ()


@dataclass(frozen=True)
class Plan:
    """Pages of blocks, the room each page has between head and foot, and whether the foot line takes two."""

    pages: tuple[tuple[Block, ...], ...]
    rooms: tuple[float, ...]
    foot_stacked: bool


def plan(words: Words, sizes: Measures) -> Plan:
    """Return the pages: as few as can be, with as few exercises cut in two, and then the tallest figures."""
    stacked = sum(text_width(piece, sizes.foot_pt) for piece in words.foot) > sizes.width - 8
    tries = [_Press(words, sizes, tallest, stacked).pages() for tallest in sizes.panels]
    best = min(tries, key=lambda pages: (len(pages), _cuts(pages)))
    pages, rooms = _Press(words, sizes, sizes.panels[0], stacked).grown(best)
    return Plan(pages, rooms, stacked)


def _cuts(pages: tuple[tuple[Block, ...], ...]) -> int:
    return sum(block.kind == "rest" for page in pages for block in page)


def _taller(page: tuple[Block, ...], wishes: list[int], spare: float):
    """Yield the blocks, each panel a millimetre taller in turn while it wishes and there is room."""
    added = [0] * len(page)
    grows = True
    while grows:
        grows = False
        for place, (block, wish) in enumerate(zip(page, wishes, strict=True)):
            if wish > added[place] and spare >= block.sides:
                added[place], spare, grows = added[place] + 1, spare - block.sides, True
    for block, extra in zip(page, added, strict=True):
        yield replace(block, panel=block.panel + extra, height=block.height + extra * block.sides)


class _Press:
    """Fills pages in order. One object per try."""

    def __init__(self, words: Words, sizes: Measures, tallest: int, stacked: bool):
        self.words, self.sizes, self.tallest, self.stacked = words, sizes, tallest, stacked
        self.filled: list[list[Block]] = [[]]
        # In large print only the urgent signs stand on every page; the whole box is on the last.
        self.stop = self._stop(words.stop if sizes.on_page > 1 else words.stop[:1])
        self.last_stop = self._stop(words.stop)

    def pages(self) -> tuple[tuple[Block, ...], ...]:
        for index in range(len(self.words.exercises)):
            self._place_exercise(index)
        for block in self._tables():
            self._place(block)
        if self._used() > self._room(last=True):
            self.filled.append([self.filled[-1].pop()] if len(self.filled[-1]) > 1 else [])
        return tuple(tuple(page) for page in self.filled)

    def grown(self, pages: tuple[tuple[Block, ...], ...]):
        """Return the pages with taller panels where a page has room left, and the rooms."""
        grown, rooms = [], []
        for number, page in enumerate(pages, 1):
            self.filled = [[] for _page in range(number)]
            rooms.append(self._room(last=number == len(pages)))
            wishes = [block.kind == "exercise" and self._panel(block.index) - block.panel for block in page]
            grown.append(tuple(_taller(page, wishes, rooms[-1] - sum(block.height for block in page))))
        return tuple(grown), tuple(rooms)

    def _used(self) -> float:
        return sum(block.height for block in self.filled[-1])

    def _room(self, last: bool = False) -> float:
        sizes, first = self.sizes, len(self.filled) == 1
        foot = (
            (self.last_stop if last else self.stop) + sizes.foot_line * self._foot_lines(last) + 2.6 + SPARE
        )
        if first:
            sender = sum(line_count(text, sizes.body_pt, sizes.sender) for text in self.words.sender)
            opening = sum(line_count(text, sizes.head_pt, sizes.width) for text in self.words.opening)
            top = max(sizes.title, sender * sizes.line)
            return sizes.page - sizes.head_first - top - opening * sizes.head_line - foot
        halves = zip(self.words.head, sizes.head_halves, strict=True)
        lines = max(line_count(text, sizes.head_pt, width) for text, width in halves)
        return sizes.page - sizes.head - lines * sizes.head_line - foot

    def _place(self, block: Block) -> None:
        if self.filled[-1] and self._used() + block.height > self._room():
            self.filled.append([])
        self.filled[-1].append(block)

    def _place_exercise(self, index: int) -> None:
        whole = self._exercise(index, 0, len(self.words.exercises[index][2]))
        here = sum(block.kind == "exercise" for block in self.filled[-1])
        crowded = self.filled[-1] and self._used() + whole.height > self._room()
        if crowded or here >= self.sizes.on_page or (self.filled[-1] and self.sizes.on_page == 1):
            self.filled.append([])
        elif self._exercise(index, 0, 0).height > self._room():
            # The head of the first page alone fills it: a name of three hundred letters.
            self.filled.append([])
        if self._used() + whole.height <= self._room():
            self.filled[-1].append(whole)
        else:
            self._place_in_parts(index)

    def _place_in_parts(self, index: int) -> None:
        """Set what fits under the figures, be it nothing, and go on under the name on the next page."""
        start, count = 0, len(self.words.exercises[index][2])
        least = 0
        while start < count:
            stop = count
            while stop > least and self._exercise(index, start, stop, least > 0).height > self._room():
                stop -= 1
            self.filled[-1].append(self._exercise(index, start, stop, least > 0))
            start, least = stop, stop + 1
            if start < count:
                self.filled.append([])

    def _exercise(self, index: int, start: int, stop: int, rest: bool = False) -> Block:
        title, dose, paragraphs, _shape = self.words.exercises[index]
        sizes = self.sizes
        height = sizes.exercise + sum(
            line_count(paragraph, sizes.body_pt, sizes.text) * sizes.line + sizes.paragraph
            for paragraph in paragraphs[start:stop]
        )
        height += line_count(((True, title),), sizes.title_pt, sizes.width) * sizes.title_line
        if rest:
            return Block("rest", height, index, (start, stop))
        panel = min(self.tallest, self._panel(index))
        sides = self.words.figure_rows(index)
        height += panel * sides + sizes.figure_gap * (sides - 1)
        height += sizes.dose + (self._dose_lines(dose) - 1) * sizes.pill_line
        return Block("exercise", height, index, (start, stop), panel, sides)

    def _dose_lines(self, pieces: tuple[str, ...]) -> int:
        """Count the lines of pills, which never break, and of the words after them, which do."""
        sizes, lines, filled = self.sizes, 1, 0.0
        *pills, often = pieces
        words = [text_width(((True, pill),), sizes.body_pt) + sizes.pill for pill in pills]
        words += [text_width(f"{word} ", sizes.body_pt) for word in often.split()]
        for wide in words:
            if filled and filled + wide > sizes.width - 2:
                lines, filled = lines + 1, 0.0
            filled += wide
        return lines

    def _panel(self, index: int) -> int:
        """Return the panel height that shows the drawing at full width: one of somebody lying needs little."""
        wanted = ceil(self.sizes.figure * self.words.exercises[index][3] + self.sizes.frame)
        return max(LOWEST_PANEL, min(TALLEST_PANEL, wanted))

    def _tables(self):
        sizes = self.sizes
        rows = sum(
            max(
                sizes.row,
                1.5 + 1.15 * sizes.row_pt * POINT * line_count(((True, name),), sizes.row_pt, sizes.name),
            )
            for name in self.words.rows
        )
        for first in range(0, self.words.weeks, sizes.weeks_in_table):
            weeks = tuple(range(first, min(first + sizes.weeks_in_table, self.words.weeks)))
            head = sizes.table_head + (sizes.calendar_head if first == 0 else 0)
            yield Block("calendar", head + rows + (TABLE_GAP if first else 0), weeks=weeks)

    def _foot_lines(self, last: bool) -> int:
        """In large print the day of looking again stands on the last page only."""
        return 2 if self.stacked and (last or self.sizes.on_page > 1) else 1

    def _stop(self, paragraphs: tuple[Text, ...]) -> float:
        sizes = self.sizes
        return sizes.stop + sum(
            line_count(paragraph, sizes.body_pt, sizes.stop_text) * sizes.stop_line + 1
            for paragraph in paragraphs
        )
