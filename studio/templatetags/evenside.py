"""Everything a page shows: `{% load evenside %}`. Marks are made here, larger parts are templates.

Values may be dicts or objects. No tag writes an inline style; numbers go into SVG attributes or into the
classes of static/css/scale.css.
"""

from functools import cache, lru_cache
from html import escape
from pathlib import Path

from django import template
from django.utils.html import format_html, format_html_join
from django.utils.safestring import mark_safe
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from studio import drawing, wording
from studio.templatetags import controls

register = template.Library()
register.tags.update(controls.register.tags)
register.filters.update(controls.register.filters)

ICONS = Path(__file__).resolve().parents[2] / "static" / "vendor" / "lucide-1.62.0"

_GLYPHS = {
    "avoid": '<path d="M7 1.5h8L20.5 7v8L15 20.5H7L1.5 15V7z" fill="none" stroke="currentColor"'
    ' stroke-width="2" stroke-linejoin="round"/><path d="M6.5 11h9" stroke="currentColor" stroke-width="2.6"'
    ' stroke-linecap="round"/>',
    "modify": '<path d="M11 1.5 20.5 11 11 20.5 1.5 11z" fill="none" stroke="currentColor" stroke-width="2"'
    ' stroke-linejoin="round"/><path d="M11 1.5 20.5 11 11 20.5z" fill="currentColor"/>',
    "watch": '<circle cx="11" cy="11" r="9" fill="none" stroke="currentColor" stroke-width="2"/>'
    '<circle cx="11" cy="11" r="3.4" fill="currentColor"/>',
    "stop": '<path d="M7 1.5h8L20.5 7v8L15 20.5H7L1.5 15V7z" fill="none" stroke="currentColor"'
    ' stroke-width="2" stroke-linejoin="round"/><rect x="7.5" y="7.5" width="7" height="7" rx="1.2"'
    ' fill="currentColor"/>',
}


def part(thing, name: str, default=None):
    """Return a value of a dict or an object by name, or the default."""
    if isinstance(thing, dict):
        return thing.get(name, default)
    return getattr(thing, name, default)


def rank(verdict: str) -> int:
    """Return 0 for avoid up to 3 for none; anything else raises, since a verdict is never guessed."""
    return wording.STRICTEST_FIRST.index(verdict)


@cache
def _icon_shape(name: str) -> str:
    path = ICONS / f"{name}.svg"
    if not name.replace("-", "").isalnum() or not path.is_file():
        raise ValueError(f"No icon named {name!r} in {ICONS.name}.")
    text = path.read_text(encoding="utf-8")
    start = text.index(">", text.index("<svg")) + 1
    return "".join(line.strip() for line in text[start : text.index("</svg>")].splitlines())


@register.simple_tag
def icon(name: str, label: str = "") -> str:
    """An outline icon, drawn inline so that no browser has to fetch a second document."""
    words = f'role="img" aria-label="{escape(label)}"' if label else 'aria-hidden="true"'
    return mark_safe(f'<svg class="ic" viewBox="0 0 24 24" {words}>{_icon_shape(name)}</svg>')


@register.simple_tag
def glyph(name: str) -> str:
    """One of our own signs: avoid, modify, watch, stop."""
    return mark_safe(f'<svg class="glyph" viewBox="0 0 22 22" aria-hidden="true">{_GLYPHS[name]}</svg>')


@register.simple_tag
def evenside_mark() -> str:
    """The product's mark: two half discs, left woad and right weld."""
    return mark_safe(
        '<svg class="evmark" viewBox="0 0 44 44" role="img" aria-label="Evenside">'
        '<path class="em-l" d="M20 3v38a19 19 0 0 1 0-38z"/><path class="em-r" d="M24 3v38a19 19 0 0 0 0-38z"/>'
        "</svg>"
    )


@register.simple_tag
def side(which: str | None, short: bool = False) -> str:
    """A side tag: round on its own side, flat towards the midline. Nothing for work without sides."""
    return _drawn_side(which, bool(short), get_language()) if which else ""


@lru_cache(maxsize=32)
def _drawn_side(which: str, short: bool, _language: str | None) -> str:
    if which == "both":
        left, right = wording.SIDES_SHORT["left"], wording.SIDES_SHORT["right"]
        said = wording.SIDES["both"]
        return format_html(
            '<span class="side side-b" role="img" aria-label="{}"><i>{}</i><i>{}</i></span>',
            said,
            left,
            right,
        )
    if which not in ("left", "right"):
        return format_html('<span class="side side-u">{}</span>', wording.SIDES["unknown"])
    word = wording.SIDES_SHORT[which] if short else wording.SIDES[which]
    extra = format_html('<span class="vh"> {}</span>', wording.SIDES[which]) if short else ""
    shown = format_html('<span aria-hidden="true">{}</span>', word) if short else word
    return format_html('<span class="side side-{}">{}{}</span>', which[0], shown, extra)


@register.simple_tag
def flag(verdict: str, text: str = "", small: bool = False) -> str:
    """A flag chip: word first, then a few plain words. Silence of the rules is quiet text, never a chip."""
    return _drawn_flag(verdict, text, bool(small), get_language())


# By type too: a text that is escaped already equals, as a key, one that is not.
@lru_cache(maxsize=1024, typed=True)
def _drawn_flag(verdict: str, text: str, small: bool, _language: str | None) -> str:
    size = " flag-sm" if small else ""
    word = wording.VERDICTS[verdict]
    if verdict == "none":
        return format_html('<span class="flag flag-none{}">{}</span>', size, word)
    words = format_html(" {}", text) if text else ""
    return format_html(
        '<span class="flag flag-{}{}">{}<span><b>{}</b>{}</span></span>',
        verdict,
        size,
        glyph(verdict),
        word,
        words,
    )


@register.simple_tag
def flag_list(flags, small: bool = True, limit: int = 3, url: str = "") -> str:
    """At most `limit` chips, strictest first, then 'n more' by verdict (a link when there is somewhere to go)."""
    ordered = sorted(flags or (), key=lambda one: rank(part(one, "verdict")))
    if not ordered:
        return ""
    chips = format_html_join(
        "",
        "<li>{}</li>",
        ((flag(part(one, "verdict"), part(one, "text", ""), small),) for one in ordered[:limit]),
    )
    left_out = len(ordered) - limit
    if left_out > 0:
        words = wording.more_words(part(one, "verdict") for one in ordered[limit:])
        inner = (
            format_html('<a class="more" href="{}">{}</a>', url, words)
            if url
            else format_html('<span class="more">{}</span>', words)
        )
        chips += format_html("<li>{}</li>", inner)
    return format_html('<ul class="flags">{}</ul>', chips)


@register.simple_tag
def coil(grade: str) -> str:
    """One spring, in ink."""
    path = drawing.coil_path(grade, 2, 42, 11, 6.5)
    wire = drawing.WIRE[grade]
    return mark_safe(
        '<svg class="coil" viewBox="0 0 44 22" aria-hidden="true"><path fill="none" stroke="currentColor"'
        f' stroke-linecap="round" stroke-linejoin="round" stroke-width="{wire}" d="{path}"/></svg>'
    )


def spring_pairs(setting) -> list[tuple[str, int]]:
    """Return (grade, count) from a setting in any of its shapes, heaviest first, equal grades added up."""
    counts: dict[str, int] = {}
    for one in setting or ():
        grade, count = one if isinstance(one, (tuple, list)) else (part(one, "grade"), part(one, "count"))
        counts[grade] = counts.get(grade, 0) + count
    return [(grade, counts[grade]) for grade in reversed(drawing.GRADES) if counts.get(grade)]


def spring_words(setting) -> str:
    """Return a setting in words, heaviest first: '2 heavy + 1 medium', or 'No springs'."""
    pairs = spring_pairs(setting)
    if not pairs:
        return _("No springs")
    return " + ".join(f"{count} {wording.SPRING_GRADES[grade]}" for grade, count in pairs)


@register.simple_tag
def springs(setting, small: bool = False) -> str:
    """Coils in ink and the same in words; thickness, turns and the word tell the weight, never a hue."""
    pairs = spring_pairs(setting)
    size = " springs-sm" if small else ""
    if not pairs:
        return format_html('<span class="springs quiet{}">{}</span>', size, spring_words(()))
    grades = [grade for grade, count in pairs for _each in range(count)]
    shapes = "".join(
        f'<path stroke-width="{drawing.WIRE[grade]}" d="{drawing.coil_path(grade, 2, 31, 11, 7)}"'
        f' transform="translate({34 * place} 0)"/>'
        for place, grade in enumerate(grades)
    )
    svg = (
        f'<svg class="coil" viewBox="0 0 {34 * len(grades)} 22" aria-hidden="true"><g fill="none"'
        f' stroke="currentColor" stroke-linecap="round" stroke-linejoin="round">{shapes}</g></svg>'
    )
    return format_html(
        '<span class="springs{}">{}<span>{}</span></span>', size, mark_safe(svg), spring_words(setting)
    )


@register.simple_tag
def evenness(behind: str = "", much: str = "lot", label: str = "") -> str:
    """Two half discs: the lower one is the side behind; level and green is within noise."""
    drop = {"little": 3.5, "lot": 7}[much]
    down_left, down_right = (drop if behind == which else 0 for which in ("left", "right"))
    left, right = ("em-l", "em-r") if behind else ("em-e", "em-e")
    words = format_html('role="img" aria-label="{}"', label) if label else mark_safe('aria-hidden="true"')
    return format_html(
        '<svg class="evenmark" viewBox="0 0 34 40" {}><path class="{}" d="M14.5 {}v24a12 12 0 0 1 0-24z"/>'
        '<path class="{}" d="M19.5 {}v24a12 12 0 0 0 0-24z"/></svg>',
        words, left, f"{6 + down_left:g}", right, f"{6 + down_right:g}",
    )  # fmt: skip


@register.simple_tag
def booking_state(state: str, at: str = "") -> str:
    """A booking's state: six words, each with its own outline, no hue."""
    word = wording.BOOKING_STATES[state]
    tick = icon("check") if state == "done" else ""
    when = format_html(" {}", at) if at else ""
    return format_html('<span class="bst bst-{}">{}{}{}</span>', state, tick, word, when)


@register.simple_tag
def body_mini(spots, size: str = "mini", label: str = "") -> str:
    """The body from behind with its marked parts; 'big' numbers them and carries L and R."""
    big = size == "big"
    marks = []
    for number, (region, which) in enumerate(spots or (), start=1):
        for x, y, radius in drawing.spots_of(region, which):
            marks.append(_big_spot(x, y, radius, number) if big else _small_spot(x, y, radius))
    words = format_html('role="img" aria-label="{}"', label) if label else mark_safe('aria-hidden="true"')
    letters = (
        format_html(
            '<text class="body-l" x="20" y="394">{}</text><text class="body-r" x="180" y="394">{}</text>',
            wording.SIDES_SHORT["left"],
            wording.SIDES_SHORT["right"],
        )
        if big
        else ""
    )
    return format_html(
        '<svg class="{}" viewBox="{}" {}><path class="body-shape" d="{}"/>'
        '<ellipse class="body-shape" cx="100" cy="36" rx="17" ry="21"/>'
        '<path class="body-spine" d="M100 70V204"/>{}{}</svg>',
        "body-big" if big else "mini",
        "8 8 184 392" if big else "22 8 156 388",
        words,
        drawing.back_view_path(),
        mark_safe("".join(marks)),
        letters,
    )


def _small_spot(x: int, y: int, radius: int) -> str:
    return f'<circle class="body-spot" cx="{x}" cy="{y}" r="{radius + 9}"/>'


def _big_spot(x: int, y: int, radius: int, number: int) -> str:
    outward = -1 if x < drawing.MIDLINE else 1
    at_x, at_y = x + outward * (radius + 4), y - radius
    return (
        f'<circle class="body-ring" cx="{x}" cy="{y}" r="{radius}"/>'
        f'<path class="body-hatch" d="{drawing.hatch_path(x, y, radius)}"/>'
        f'<circle class="body-dot" cx="{at_x}" cy="{at_y}" r="12"/>'
        f'<text class="body-num" x="{at_x}" y="{at_y + 5.5:g}">{number}</text>'
    )


@register.simple_tag
def step_strip(left: int | None = None, right: int | None = None, both: int | None = None) -> str:
    """Small quality steps either side of a spine; a side that was not noted is a dashed line, not a zero."""
    return _drawn_strip(left, right, both, get_language())


# A page of the story draws some eighty of them and few differ.
@lru_cache(maxsize=256)
def _drawn_strip(left: int | None, right: int | None, both: int | None, _language: str | None) -> str:
    box = "0 0 214 30"
    if both is not None:
        # Five blocks without a spine stand in the middle of the same width.
        label, shapes, box = _noted(_("Both sides"), both), _strip_half(both, "one", 1), "52 0 214 30"
    else:
        label = f"{_noted(_('Left'), left)}; {_noted(_('Right'), right)}"
        shapes = _strip_half(left, "l", -1) + _strip_half(right, "r", 1)
        shapes += '<path class="st-spine" d="M107 0V30"/>'
    return format_html(
        '<svg class="strip" viewBox="{}" role="img" aria-label="{}">{}</svg>',
        box,
        label,
        mark_safe(shapes),
    )


def _noted(which: str, value: int | None) -> str:
    if value is None:
        return _("%(side)s not noted") % {"side": which}
    return _("%(side)s %(value)d of 5, %(word)s") % {
        "side": which,
        "value": value,
        "word": wording.QUALITY[value],
    }


def _strip_half(value: int | None, colour: str, direction: int) -> str:
    """Five blocks rising outward from the spine at x 107."""
    shapes = []
    for step in range(1, 6):
        near = 107 + direction * (6 + (step - 1) * 19)
        x, height = min(near, near + direction * 16), 8 + step * 4
        if value is None:
            shapes.append(f'<path class="st-none" d="M{x} 27h16"/>')
            continue
        paint = f"st-{colour}" if step <= value else "st-off"
        shapes.append(
            f'<rect class="{paint}" x="{x}" y="{29 - height}" width="16" height="{height}" rx="3"/>'
        )
    return "".join(shapes)
