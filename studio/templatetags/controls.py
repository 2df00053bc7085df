"""Tags that are templates of their own: controls that hold real inputs, and the larger parts of a page.

Loaded through `{% load evenside %}`. Each hands its arguments, made ready, to a file in
templates/components/.
"""

from collections.abc import Callable

from django import forms, template
from django.utils.translation import gettext as _

from studio import wording
from studio.templatetags.keeping import drawn, kept_tag

register = template.Library()


def part(thing, name: str, default=None):
    """Return a value of a dict or an object by name, or the default."""
    if isinstance(thing, dict):
        return thing.get(name, default)
    return getattr(thing, name, default)


def said(label, side: str | None) -> str:
    """'Reps, left': a label and its side for those who hear the page."""
    after = wording.SIDES_AFTER_COMMA.get(side or "")
    return f"{label}, {after}" if after else str(label)


def letter_of(side: str | None) -> str:
    """The class of a control's side: l, r, or one for work without sides."""
    return {"left": "l", "right": "r"}.get(side or "", "one")


def stepper_context(name, value=None, label="", side=None, **options) -> dict:
    """What components/stepper.html needs; used by the tag and by the widget alike."""
    attrs = options.get("attrs", {})
    step = options.get("step", 1)
    # As plain text: a number input takes a point in every language.
    numbers = {"value": value, "min": options.get("min", 0), "max": options.get("max"), "step": step}
    numbers["start"] = options.get("start")
    return {
        "name": name,
        "id": options.get("id") or f"id_{name}",
        "said": said(label, side) if label else "",
        "letter": {"left": "l", "right": "r"}.get(side or "", ""),
        **{key: "" if given is None else str(given) for key, given in numbers.items()},
        "whole": str(step).isdigit(),
        "unit": options.get("unit", ""),
        "small": options.get("small", False),
        "invalid": attrs.get("aria-invalid") == "true",
        "attrs": attrs,
    }


def steps_context(name, value=None, legend="", side=None, words=True, **options) -> dict:
    """What components/steps.html needs. In the left half 5 comes first, so that arrow keys follow the eye."""
    chosen = "" if value in (None, "") else str(value)
    order = range(5, 0, -1) if side == "left" else range(1, 6)
    labels = options.get("labels") or wording.QUALITY
    return {
        "name": name,
        "id": options.get("id") or f"id_{name}",
        "legend": said(legend, side) if legend else "",
        "letter": letter_of(side),
        "steps": [
            {"number": step, "word": labels.get(step, ""), "checked": chosen == str(step)} for step in order
        ],
        "words": [(step, labels.get(step, "")) for step in range(1, 6)] if words else [],
        "attrs": options.get("attrs", {}),
    }


def effort_context(name, value=None, legend="", **options) -> dict:
    """What components/effort.html needs: 0 resting to 10 could not do more."""
    chosen = "" if value in (None, "") else str(value)
    low, high = wording.EFFORT_ENDS
    return {
        "name": name,
        "id": options.get("id") or f"id_{name}",
        "legend": str(legend),
        "steps": [{"number": step, "checked": chosen == str(step)} for step in range(11)],
        "low": low,
        "high": high,
        "attrs": options.get("attrs", {}),
    }


def choice_context(name, choices, value=None, legend="", **options) -> dict:
    """What options, phrases and segmented radios need; `value` is one value or a list of them."""
    chosen = value if isinstance(value, (list, tuple, set, frozenset)) else [value]
    chosen = {str(one) for one in chosen if one is not None}
    return {
        "name": name,
        "id": options.get("id") or f"id_{name}",
        "legend": str(legend),
        "labelled_by": options.get("labelled_by", ""),
        "choices": [
            {"value": str(one), "label": label, "checked": str(one) in chosen}
            for one, label in choices
            if str(one) != ""
        ],
        "attrs": options.get("attrs", {}),
    }


def split_context(name, label, left=False, right=False, stop=False, sided=True, both=False) -> dict:
    """What components/split_tick.html needs. Names end in _left and _right, or _both without sides."""
    halves = [("left", left), ("right", right)] if sided else [("both", both)]
    return {
        "label": label,
        "stop": stop,
        "sign": str(name).rpartition("felt_")[2] or name,
        "halves": [
            {
                "name": f"{name}_{side}",
                "side": side,
                "letter": letter_of(side if sided else None),
                "short": wording.SIDES_SHORT.get(side, ""),
                "said": said(label, side if sided else None),
                "checked": bool(checked),
            }
            for side, checked in halves
        ],
    }


def peg_context(name, pegs, chosen=(), legend="", **options) -> dict:
    """What components/pegs.html needs; pegs are (value, grade, label)."""
    hooked = {str(one) for one in chosen or ()}
    return {
        "name": name,
        "id": options.get("id") or f"id_{name}",
        "legend": str(legend),
        "pegs": [
            {"value": value, "grade": grade, "label": label, "checked": str(value) in hooked}
            for value, grade, label in pegs
        ],
        "attrs": options.get("attrs", {}),
    }


kept_tag(register, "components/stepper.html", name="stepper")(stepper_context)
kept_tag(register, "components/steps.html", name="steps")(steps_context)
kept_tag(register, "components/effort.html", name="effort")(effort_context)
kept_tag(register, "components/split_tick.html", name="split_tick")(split_context)
kept_tag(register, "components/pegs.html", name="pegs")(peg_context)
kept_tag(register, "components/options.html", name="options")(choice_context)
kept_tag(register, "components/phrases.html", name="phrases")(choice_context)
kept_tag(register, "components/choose.html", name="choose")(choice_context)


@kept_tag(register, "components/segment.html")
def segment(items, label=""):
    """A small row of links, one of them current."""
    return {"items": items, "label": label}


def _marked(name: str, options: dict) -> dict:
    """Return the options of one control, its input marked where the row carries an error for it."""
    side = name.rpartition("_")[2]
    if not (options.get("error") or options.get(f"error_{side}")):
        return options
    return {**options, "attrs": {"aria-invalid": "true", "aria-describedby": f"id_{name}_error"}}


@kept_tag(register, "components/pair.html")
def pair_steppers(name, label, left=None, right=None, note="", last_left="", last_right="", **options):
    """A row of the recording screen: last time, left control, the name on the spine, right, last time."""
    return {
        "kind": "stepper",
        "label": label,
        "note": note,
        "left": stepper_context(f"{name}_left", left, label, "left", **_marked(f"{name}_left", options)),
        "right": stepper_context(f"{name}_right", right, label, "right", **_marked(f"{name}_right", options)),
        "last_left": last_left,
        "last_right": last_right,
        "error_left": options.get("error_left", ""),
        "error_right": options.get("error_right", ""),
    }


@kept_tag(register, "components/pair.html")
def pair_steps(name, label, left=None, right=None, note="", last_left="", last_right="", **options):
    """The same row with the five steps; the word of the choice stands at the outer end."""
    return {
        "kind": "steps",
        "label": label,
        "note": note,
        "left": steps_context(f"{name}_left", left, label, "left", words=False),
        "right": steps_context(f"{name}_right", right, label, "right", words=False),
        "words": list(wording.QUALITY.items()),
        "last_left": last_left,
        "last_right": last_right,
        "error_left": options.get("error_left", ""),
        "error_right": options.get("error_right", ""),
    }


@kept_tag(register, "components/one.html")
def one_stepper(name, label, value=None, note="", last="", **options):
    """A row for work without sides: one control in the middle."""
    control = stepper_context(name, value, label, None, **_marked(name, options))
    error = options.get("error", "")
    return {"kind": "stepper", "label": label, "note": note, "control": control, "last": last, "error": error}


@kept_tag(register, "components/one.html")
def one_steps(name, label, value=None, note="", last="", **options):
    """A row for work without sides with the five steps."""
    control = steps_context(name, value, label, None, words=False)
    words, error = list(wording.QUALITY.items()), options.get("error", "")
    return {
        "kind": "steps",
        "label": label,
        "note": note,
        "control": control,
        "last": last,
        "words": words,
        "error": error,
    }


@kept_tag(register, "components/felt_row.html")
def felt_row(prefix="felt", ticked=(), sided=True):
    """What it felt like: three plain words, a rule, and the three that open the stop sheet."""
    ticked = set(ticked or ())
    groups = ([], [])
    for code, word in wording.FELT.items():
        stop = code in wording.STOP_SIGNS
        left, right, both = (f"{code}_{side}" in ticked for side in ("left", "right", "both"))
        groups[stop].append(split_context(f"{prefix}_{code}", word, left, right, stop, sided, both))
        groups[stop][-1]["sign"] = code
    return {"plain": groups[0], "stops": groups[1]}


def _rank(verdict: str) -> int:
    return wording.STRICTEST_FIRST.index(verdict)


def by_demand(rows) -> list[dict]:
    """Merge the reasons of a sheet by what they are about, strictest first; the usual changes stand once.

    Each is a dict of verdict, demand, struck (a clinician's word stands in place of all of it), changes, rows.
    """
    groups: dict[str, list] = {}
    for row in rows:
        groups.setdefault(part(row, "demand", "") or "", []).append(row)
    found = [_group(demand, members) for demand, members in groups.items()]
    return sorted(found, key=lambda one: (one["struck"], _rank(one["verdict"])))


def _group(demand: str, rows: list) -> dict:
    counting = [row for row in rows if not part(row, "outranked")]
    strictest = min((part(row, "verdict") for row in counting or rows), key=_rank)
    changes = dict.fromkeys(part(row, "adaptation") for row in counting if part(row, "adaptation"))
    return {
        "verdict": strictest,
        "demand": demand,
        "struck": not counting,
        "changes": list(changes),
        "rows": rows,
    }


# The app that knows the rules says here what stands below every sheet of reasons: (request or None) -> a sentence.
STANDING: list[Callable] = []


@register.simple_tag(takes_context=True)
def verdict_sheet(context, sheet, open=False, small=False, block=False):  # noqa: A002 - the word of the markup
    """A chip that opens every reason: what speaks, why, what helps, until when, on whose word."""
    request = getattr(context, "request", None)
    values = {
        "verdict": part(sheet, "verdict"),
        "text": part(sheet, "text", ""),
        "groups": by_demand(part(sheet, "rows", ()) or ()),
        "standing": [asked(request) for asked in STANDING],
        "open": open,
        "small": small,
        "block": block,
    }
    return drawn("components/verdict_sheet.html", values)


@kept_tag(register, "components/empty.html")
def empty(title, text="", icon="leaf", url="", action=""):
    """Nothing here: what is true, when the next thing is, one button."""
    return {"title": title, "text": text, "icon": icon, "url": url, "action": action}


@kept_tag(register, "components/carry.html")
def carry(text, by=""):
    """The note carried over from last time, after a turned arrow; an empty box without one."""
    return {"text": text, "by": by}


@kept_tag(register, "components/now_line.html")
def now_line(time, tag="div"):
    """The line of now in a day."""
    return {"time": time, "tag": tag if tag in ("div", "li") else "div"}


@kept_tag(register, "components/ask_first.html")
def ask_first(short=False):
    """The front desk's neutral line; the same whatever the reason is."""
    return {"short": short}


@kept_tag(register, "components/required_note.html")
def required_note():
    """What the star means, once a page."""
    return {}


@kept_tag(register, "components/minutes_bar.html")
def minutes_bar(rows, planned, booked, before=0, after=0):
    """The minutes in true proportion: each row, the spare dashed, going over in words."""
    rows = list(rows or ())
    segments = [
        {
            "number": part(row, "number") or place,
            "minutes": part(row, "minutes") or 0,
            "width": min(max(round(part(row, "minutes") or 0), 1), 180),
            "avoid": part(row, "verdict") == "avoid",
        }
        for place, row in enumerate(rows, start=1)
    ]
    return {
        "segments": segments,
        "planned": planned,
        "booked": booked,
        "before": before,
        "after": after,
        "spare": max(round(booked - planned), 0),
        "over": max(round(planned - booked), 0),
        "dense": len(segments) > 11,
    }


@kept_tag(register, "components/trail.html")
def trail(rows, now=0):
    """The session's exercises as a line: done, now, skipped, still to come, wide as their minutes."""
    marks = []
    for place, row in enumerate(rows or (), start=1):
        state = "now" if place == now else "skipped" if part(row, "skipped") else ""
        state = state or ("done" if part(row, "done") else "")
        words = {"now": _("now"), "done": _("done"), "skipped": _("skipped")}.get(state, _("to come"))
        minutes = part(row, "minutes") or 0
        marks.append(
            {"minutes": minutes, "width": min(max(round(minutes), 1), 180), "state": state, "words": words}
        )
    return {"marks": marks, "now": now, "total": len(marks)}


@kept_tag(register, "components/parts.html")
def parts(at, total):
    """How far a long form has come, as bars and in words."""
    at, total = int(at), int(total)
    states = ["done" if step < at else "now" if step == at else "" for step in range(1, total + 1)]
    return {"at": at, "total": total, "states": states}


@register.filter
def field_kind(field) -> str:
    """How our field template draws a bound field."""
    widget = field.field.widget
    if getattr(widget, "house", False):
        return "house"
    kinds = (
        (forms.CheckboxSelectMultiple, "many"),
        (forms.RadioSelect, "radio"),
        (forms.CheckboxInput, "tick"),
        (forms.Select, "select"),
        (forms.FileInput, "file"),
    )
    return next((kind for widget_class, kind in kinds if isinstance(widget, widget_class)), "text")


@register.filter
def shows_group(field) -> bool:
    """Whether a bound field is a group of inputs, which needs a fieldset and a legend."""
    return bool(field.use_fieldset)
