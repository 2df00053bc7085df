"""The page that shows every component of the house in its states, for whoever changes the look. Owner only."""

from pathlib import Path

from django.shortcuts import render

from studio import wording
from studio.access import opens
from studio.forms.kit import KitForm
from studio.roles import OWNER
from studio.templatetags.evenside import ICONS

SCHEMES = ("light", "dark")
TYPED = {
    "telephone": "", "born": "1959-03-04", "at": "09:15", "quality": "3", "effort": "6", "paper": "a4",
    "name": "Ottoline Brackwater", "seen": ["neck"], "springs": ["1"], "pain_left": "1",
    "words": "Up the stairs without the rail.",
}  # fmt: skip
TOKENS = (
    ("Ground and ink", ("fleece", "sheet", "hollow", "line", "edge", "ink2", "ink")),
    ("Left, woad", ("woad-tint", "woad-mid", "woad")),
    ("Right, weld", ("weld-tint", "weld-mid", "weld")),
    ("Even", ("even-tint", "even-mid", "even")),
    ("Care, madder", ("madder-tint", "madder-mid", "madder")),
)
REASON = {
    "verdict": "modify",
    "demand": "Loaded, arm over 120°",
    "flag": "Left shoulder, stiff since spring",
    "rule": "R131",
    "text": "The joint is irritable at the end of its range.",
    "adaptation": "Stop at shoulder height.",
    "until": "until 2 July 2026",
    "sources": ["Letter of 2 April"],
    "sure": "agreed practice",
    "by": "her physiotherapist",
}
OVERRULED = {**REASON, "verdict": "avoid", "outranked": "A clinician’s word stands in its place.", "by": ""}
HELD = {**REASON, "verdict": "modify", "held": "Rests on the change “hand on the box”. Without it: Avoid."}
SHEETS = (
    {"verdict": "avoid", "text": "hanging by the arms", "rows": [{**REASON, "verdict": "avoid"}]},
    {"verdict": "modify", "text": "arm over 120°", "rows": [REASON, OVERRULED]},
    {"verdict": "modify", "text": "arm over 120°", "rows": [HELD, {**REASON, "flag": "Right hip"}]},
    {"verdict": "watch", "text": "rise in stages", "rows": [{**REASON, "verdict": "watch", "by": ""}]},
    {"verdict": "none", "text": "", "rows": []},
)
PLAN_ROWS = (
    {"number": 1, "minutes": 6, "verdict": "none", "done": True},
    {"number": 2, "minutes": 8, "verdict": "modify", "done": True},
    {"number": 3, "minutes": 5, "verdict": "avoid", "skipped": True},
    {"number": 4, "minutes": 9, "verdict": "watch"},
    {"number": 5, "minutes": 12, "verdict": "none"},
)
SPOTS = (("shoulder", "left"), ("hip", "right"), ("low_back", None), ("knee", "both"))


@opens(OWNER)
def kit(request):
    """Show the components twice, in light and in dark, whatever scheme the browser has."""
    grades = list(wording.SPRING_GRADES.items())
    context = {
        "at": "studio",
        "schemes": [(scheme, _typed(scheme)) for scheme in SCHEMES],
        "tokens": TOKENS,
        "icons": sorted(path.stem for path in Path(ICONS).glob("*.svg")),
        "verdicts": [(verdict, "left arm over 120°") for verdict in wording.STRICTEST_FIRST],
        "flags": [{"verdict": v, "text": "left arm"} for v in (*wording.STRICTEST_FIRST, "watch", "watch")],
        "sheets": SHEETS,
        "sides": ("left", "right", "both", "unknown"),
        "grades": [grade for grade, _word in grades],
        "grade_words": grades,
        "pegs": [(grade, grade, word.capitalize()) for grade, word in grades],
        "hooked": ("heavy", "medium"),
        "settings": (
            [("heavy", 2), ("medium", 1)],
            [("light", 1), ("very_light", 1)],
            [("very_heavy", 1)],
            [],
        ),
        "states": list(wording.BOOKING_STATES),
        "spots": SPOTS,
        "rows": PLAN_ROWS,
        "over": [{**row, "minutes": row["minutes"] * 2} for row in PLAN_ROWS],
        "ticked": {"stretch_left", "muscle_work_left", "muscle_work_right", "stretch_both"},
        "choices": [("yes", "Yes"), ("no", "No"), ("unsure", "Not sure")],
        "items": [{"name": "Mine", "url": "#kit"}, {"name": "Everyone", "url": "#kit", "current": True}],
        "pairs": [{"label": "Note", "theirs": "Half the way.", "yours": "The whole way."}],
        "signs": [
            {"id": "chest", "text": "Pressure in the chest", "urgent": True},
            {"id": "dizzy", "text": "Dizzy on rising", "urgent": False},
        ],
    }
    return render(request, "studio/kit.html", context)


def _typed(scheme: str) -> KitForm:
    """Return the form as somebody sent it, with three fields wrong; names begin with the scheme."""
    return KitForm({f"{scheme}-{name}": value for name, value in TYPED.items()}, prefix=scheme)
