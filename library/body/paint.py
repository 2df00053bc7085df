"""Two paints for one drawing: classes for the page, literal greys for paper.

The page's stylesheet colours the classes (static/css/figures.css). A sheet renderer may ignore page
styles in inline drawings, so on paper every role carries its own attributes.
"""

_JOIN = ' stroke-linejoin="round" stroke-linecap="round"'
_EDGE = ' stroke="#fff" stroke-width="1.8" stroke-linejoin="round"'


def _fill(colour: str) -> str:
    return f'fill="{colour}"{_EDGE}'


def _line(colour: str, width: float, extra: str = "") -> str:
    return f'fill="none" stroke="{colour}" stroke-width="{width}"{_JOIN}{extra}'


def _face(colour: str) -> str:
    return f'fill="{colour}" stroke="#555" stroke-width=".9" stroke-linejoin="round"'


PAPER = {
    "near": _fill("#222"),
    "mid": _fill("#555"),
    "far": _fill("#999"),
    "hair": 'fill="#111"',
    "bun": 'fill="#111" stroke="#fff" stroke-width="1.2"',
    "halo": _line("#fff", 5.4),
    "work-left": 'fill="#fff" stroke="#111" stroke-width="2" stroke-linejoin="round"',
    "work-right": 'fill="#fff" stroke="#111" stroke-width="2" stroke-linejoin="round"',
    "bed": _face("#fff"),
    "top": _face("#e9e9e9"),
    "appfill": _face("#fff"),
    "side": _face("#fff"),
    "post": _line("#555", 4.2),
    "post-core": _line("#e9e9e9", 2.2),
    "post-far": _line("#999", 3.2),
    "post-far-core": _line("#fff", 1.6),
    "app": _line("#555", 1.2),
    "spring": _line("#111", 1.1),
    "rope": _line("#111", 1.4),
    "arrow": _line("#111", 2.2, ' stroke-dasharray=".1 4.4"'),
    "arrow-head": _line("#111", 2.2),
    "letter-left": 'fill="#fff" stroke="#111" stroke-width="1.8" stroke-linejoin="round"',
    "letter-right": 'fill="#fff" stroke="#111" stroke-width="1.8" stroke-linejoin="round"',
    "letter": 'fill="#111" font-family="Radio Canada" font-weight="600" text-anchor="middle"',
}
ROLES = tuple(PAPER)
SCREEN = {role: f'class="fg-{role}"' for role in ROLES}
SCREEN["letter"] += ' text-anchor="middle"'
PAINTS = {"screen": SCREEN, "paper": PAPER}
CLASSES = frozenset({"fg"} | {f"fg-{role}" for role in ROLES})
