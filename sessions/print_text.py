"""How wide a text is in print, and how many lines it takes: measured with the letters of the print typeface.

Lengths are in millimetres, type sizes in points. A text is a string, or a tuple of (bold, string) runs.
"""

import unicodedata

POINT = 25.4 / 72
# Kerning and rounding move a line by less than this.
ROOM = 1.004
# Advance widths of U+0020 to U+007E in thousandths of an em, read from the hmtx tables of
# static/print/fonts/radio-canada-400.woff2 and -600.woff2.
_REGULAR = (
    "250 322 402 738 600 943 660 232 332 332 598 600 222 368 222 336 600 600 600 600 600 600 600 600 600 "
    "600 222 222 600 600 600 508 982 656 647 644 701 621 571 701 736 456 573 641 556 836 746 726 632 726 "
    "650 624 576 706 636 961 644 616 614 320 336 320 600 428 500 543 586 504 586 553 361 586 604 272 272 "
    "533 272 881 604 572 586 586 370 501 394 600 496 749 519 496 504 348 282 348 600"
)
_BOLD = (
    "250 346 463 785 600 976 660 259 310 310 612 600 260 387 260 375 600 600 600 600 600 600 600 600 600 "
    "600 260 260 600 600 600 515 998 656 652 650 717 630 587 702 748 465 570 664 579 848 755 738 647 738 "
    "656 633 583 718 650 958 630 643 636 320 375 320 600 447 500 552 602 499 602 560 381 602 624 291 291 "
    "561 291 918 624 586 602 602 396 490 420 619 519 797 529 519 502 358 301 358 600"
)
_WIDTHS = tuple(
    {chr(code): int(width) / 1000 for code, width in enumerate(table.split(), 32)}
    for table in (_REGULAR, _BOLD)
)
# Letters beyond ASCII: nine in ten of the typeface's own are no wider than 0.76; a whole em for wide scripts.
_OTHER, _FULL = 0.76, 1.0

Text = str | tuple[tuple[bool, str], ...]


def runs(text: Text) -> tuple[tuple[bool, str], ...]:
    """Return the text as (bold, string) runs."""
    return ((False, text),) if isinstance(text, str) else text


def text_width(text: Text, points: float) -> float:
    """Return how wide a line of text is, in mm, if anything a little too much."""
    ems = sum(_em(letter, bold) for bold, piece in runs(text) for letter in piece)
    return ems * points * POINT * ROOM


def line_count(text: Text, points: float, width: float) -> int:
    """Return how many lines the text takes; a word that is too long is broken anywhere."""
    space = text_width(" ", points)
    lines, filled = 1, 0.0
    for bold, piece in runs(text):
        for word in piece.split():
            wide = text_width(((bold, word),), points)
            if filled and filled + space + wide > width:
                lines, filled = lines + 1, 0.0
            over = int(wide // width)
            lines += over
            filled = wide - over * width if over else filled + (space if filled else 0) + wide
    return lines


def _em(letter: str, bold: bool) -> float:
    if letter in _WIDTHS[bold]:
        return _WIDTHS[bold][letter]
    if unicodedata.combining(letter):
        return 0.0
    return _FULL if unicodedata.east_asian_width(letter) in "WF" else _OTHER
