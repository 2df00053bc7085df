"""How the parts of a chart are painted: on a page by classes, on paper by literal greys. Plain data.

A role is what a shape is ('line.left'), a paint is the attributes it gets. Classes follow light and dark
(static/css/progress.css); greys are written out, since a printing engine reads no page styles inside a drawing.
"""

ROLES = (
    "grid", "spine", "mask", "tick", "hatch", "ghost", "goal", "was", "even.band", "even.line", "base",
    *(f"{part}.{side}" for part in ("ribbon", "line", "half", "stem", "step") for side in ("left", "right")),
    "half.even", "step.off", "step.none",
    *(f"text{kind}" for kind in ("", ".quiet", ".bold", ".big", ".care", ".even", ".tick")),
)  # fmt: skip


def _class(role: str) -> str:
    first, _dot, rest = role.partition(".")
    return f'class="ch-{first}{" is-" + rest.replace(".", "-") if rest else ""}"'


PAGE = {role: _class(role) for role in ROLES}

_FONT = 'font-family="Radio Canada" font-size="{}" font-weight="{}" fill="{}"'
_THIN = 'fill="none" stroke="{}" stroke-width="{}"'
GREY = {
    "grid": _THIN.format("#e9e9e9", "1.2"),
    "spine": _THIN.format("#999", "3") + ' stroke-dasharray="0.1 9" stroke-linecap="round"',
    "mask": 'fill="#fff"',
    "tick": _THIN.format("#555", "1.2"),
    "hatch": _THIN.format("#999", "1.2"),
    "ghost": _THIN.format("#555", "2") + ' stroke-dasharray="1 6" stroke-linecap="round"',
    "goal": _THIN.format("#111", "2.5"),
    "was": _THIN.format("#111", "3") + ' stroke-dasharray="3 3"',
    "base": _THIN.format("#555", "1.5"),
    "even.band": 'fill="#e9e9e9"',
    "even.line": _THIN.format("#111", "2"),
    "ribbon.left": 'fill="#e9e9e9"',
    "ribbon.right": 'fill="#e9e9e9"',
    "line.left": _THIN.format("#111", "3") + ' stroke-linejoin="round"',
    "line.right": _THIN.format("#111", "3") + ' stroke-linejoin="round" stroke-dasharray="9 4"',
    "half.left": 'fill="#fff" stroke="#111" stroke-width="2" stroke-linejoin="round"',
    "half.right": 'fill="#fff" stroke="#111" stroke-width="2" stroke-linejoin="round"',
    "half.even": 'fill="#fff" stroke="#111" stroke-width="2" stroke-linejoin="round"',
    "stem.left": _THIN.format("#111", "2.5"),
    "stem.right": _THIN.format("#111", "2.5"),
    "step.left": 'fill="#555"',
    "step.right": 'fill="#555"',
    "step.off": 'fill="#e9e9e9"',
    "step.none": _THIN.format("#999", "2") + ' stroke-dasharray="3 3"',
    "text": _FONT.format("17", "400", "#111"),
    "text.quiet": _FONT.format("17", "400", "#333"),
    "text.bold": _FONT.format("17", "600", "#111"),
    "text.big": _FONT.format("30", "600", "#111"),
    "text.tick": _FONT.format("17", "400", "#333"),
    "text.care": _FONT.format("17", "600", "#111"),
    "text.even": _FONT.format("17", "600", "#111"),
}
