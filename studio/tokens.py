"""Colours of the house as data, the style sheet made from them, and the contrast each pair must reach.

Three dye plants: woad blue is the left side, weld yellow the right, and cloth dyed with both is the
green of even. Madder red is kept for care. Run `python -m studio.tokens` after a change to rewrite
static/css/tokens.css and scale.css; tests/studio/test_tokens.py fails while the two differ or a pair is too weak.
"""

from pathlib import Path

LIGHT = {
    "fleece": "#ecefe8",
    "sheet": "#fcfdfb",
    "hollow": "#e0e6dc",
    "line": "#c6cfc3",
    "edge": "#6d7b71",
    "ink": "#16221c",
    "ink2": "#435148",
    "even": "#1c5a40",
    "even-mid": "#7fb697",
    "even-tint": "#d9e9dc",
    "on-even": "#ffffff",
    "woad": "#1d4d84",
    "woad-mid": "#86b0de",
    "woad-tint": "#dde8f3",
    "weld": "#6f4f00",
    "weld-mid": "#e3b740",
    "weld-tint": "#f5e9c9",
    "on-mid": "#16221c",
    "madder": "#97192f",
    "madder-mid": "#d98a95",
    "madder-tint": "#f7e2e2",
    "on-madder": "#ffffff",
    "fig-near": "#3d4f46",
    "fig-far": "#b4c1b7",
    "fig-app": "#77867c",
    "fig-appfill": "#e4eae1",
}
DARK = {
    "fleece": "#0e1411",
    "sheet": "#18201b",
    "hollow": "#242e28",
    "line": "#38453d",
    "edge": "#8b998f",
    "ink": "#eef3ed",
    "ink2": "#b7c4ba",
    "even": "#93d3ae",
    "even-mid": "#4d8968",
    "even-tint": "#1d3529",
    "on-even": "#0e1411",
    "woad": "#a3c7f0",
    "woad-mid": "#7fa9d9",
    "woad-tint": "#1b2f46",
    "weld": "#ebc865",
    "weld-mid": "#d9b044",
    "weld-tint": "#392e12",
    "on-mid": "#0e1411",
    "madder": "#ffa6ae",
    "madder-mid": "#a8505d",
    "madder-tint": "#45191f",
    "on-madder": "#22060b",
    "fig-near": "#cfdad1",
    "fig-far": "#6b7a70",
    "fig-app": "#8b998f",
    "fig-appfill": "#2a352e",
}
SCHEMES = {"light": LIGHT, "dark": DARK}

# WCAG 2.2: 1.4.3 text 4.5, 1.4.11 control outlines and needed graphics 3; 1.4.6 (enhanced) 7, which
# the house takes as its floor for body text and for what is read at arm's length.
TEXT, GRAPHIC, ARMS_LENGTH = 4.5, 3.0, 7.0

# foreground, background, ratio needed, what the pair is used for
PAIRS = [
    ("ink", "fleece", ARMS_LENGTH, "body text on the ground"),
    ("ink", "sheet", ARMS_LENGTH, "body text on a sheet"),
    ("ink", "hollow", ARMS_LENGTH, "text in a hollow, cancelled late"),
    ("ink2", "fleece", TEXT, "quiet text on the ground"),
    ("ink2", "sheet", ARMS_LENGTH, "quiet text on a sheet, No rule"),
    ("ink2", "hollow", TEXT, "quiet text in a hollow, a button that waits"),
    ("on-even", "even", TEXT, "main button label"),
    ("even", "sheet", TEXT, "green text, links"),
    ("even", "fleece", TEXT, "green text on the ground"),
    ("even", "even-tint", TEXT, "even chip"),
    ("ink", "even-tint", ARMS_LENGTH, "text on even tint, message line"),
    ("on-mid", "even-mid", TEXT, "chosen step without a side, effort"),
    ("on-mid", "woad-mid", TEXT, "Left tag, chosen left step"),
    ("woad", "sheet", TEXT, "left values"),
    ("woad", "woad-tint", TEXT, "left on its tint"),
    ("ink", "woad-tint", ARMS_LENGTH, "text on left tint"),
    ("on-mid", "weld-mid", TEXT, "Right tag, chosen right step"),
    ("weld", "sheet", TEXT, "right values"),
    ("weld", "weld-tint", TEXT, "right on its tint"),
    ("ink", "weld-tint", ARMS_LENGTH, "text on right tint"),
    ("on-madder", "madder", TEXT, "Avoid chip, main button of the stop sheet"),
    ("madder", "madder-tint", TEXT, "Modify chip"),
    ("madder", "sheet", TEXT, "Watch chip, error text, Stop"),
    ("madder", "fleece", TEXT, "flag text on the ground"),
    ("ink", "madder-tint", ARMS_LENGTH, "reason text"),
    ("edge", "sheet", GRAPHIC, "control outline on a sheet"),
    ("edge", "fleece", GRAPHIC, "control outline on the ground"),
    ("edge", "hollow", GRAPHIC, "control outline in a hollow"),
    ("woad", "hollow", GRAPHIC, "left outline on its track"),
    ("weld", "hollow", GRAPHIC, "right outline on its track"),
    ("even", "hollow", GRAPHIC, "outline of a filled step without a side"),
    ("fig-near", "sheet", GRAPHIC, "figure, near limbs"),
    ("fig-app", "sheet", GRAPHIC, "apparatus line"),
    ("ink", "fleece", GRAPHIC, "focus ring on the ground"),
    ("ink", "sheet", GRAPHIC, "focus ring on a sheet"),
    ("fleece", "ink", TEXT, "text on an inked control"),
]

CSS_FOLDER = Path(__file__).resolve().parent.parent / "static" / "css"
CSS_FILE = CSS_FOLDER / "tokens.css"
SCALE_FILE = CSS_FOLDER / "scale.css"
LONGEST_MINUTES = 180


def relative_luminance(colour: str) -> float:
    """Return the relative luminance (0 black to 1 white) of '#rrggbb'.

    Source: WCAG 2.2, definition of relative luminance: sRGB channels made linear with the break at
    0.04045, weighed 0.2126, 0.7152, 0.0722.
    """
    channels = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two '#rrggbb' colours, 1 to 21 (source: WCAG 2.2, contrast ratio)."""
    lighter, darker = sorted((relative_luminance(one), relative_luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def too_weak() -> list[tuple[str, str, str, float, float]]:
    """Return every pair that misses its need: (scheme, foreground, background, ratio, needed)."""
    return [
        (scheme, front, back, contrast(colours[front], colours[back]), needed)
        for scheme, colours in SCHEMES.items()
        for front, back, needed, _use in PAIRS
        if contrast(colours[front], colours[back]) < needed
    ]


def render_css() -> str:
    """Return the text of static/css/tokens.css: one block of custom properties for each scheme."""
    blocks = ["/* Written by studio/tokens.py; change the colours there. */"]
    for scheme, selector in (
        ("light", ':root,\n[data-bs-theme="light"]'),
        ("dark", '[data-bs-theme="dark"]'),
    ):
        lines = [f"  color-scheme: {scheme};"]
        lines += [f"  --{name}: {value};" for name, value in SCHEMES[scheme].items()]
        # A figure's halo is the paper it stands on, and springs are always ink, never a hue.
        lines += ["  --fig-paper: var(--sheet);", "  --fig-spring: var(--ink);"]
        blocks.append(selector + " {\n" + "\n".join(lines) + "\n}")
    return "\n".join(blocks) + "\n"


def render_scale_css() -> str:
    """Return the text of static/css/scale.css: numbers as classes, since pages may hold no inline style.

    `n0` to `n10` set --n (steps, effort); `f-1` to `f-180` share a flex line by minutes.
    """
    lines = ["/* Written by studio/tokens.py: numbers as classes, since pages may hold no inline style. */"]
    lines += [f".n{number} {{ --n: {number}; }}" for number in range(11)]
    lines += [f".f-{minutes} {{ flex: {minutes} 1 0; }}" for minutes in range(1, LONGEST_MINUTES + 1)]
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    if too_weak():
        raise SystemExit(f"Contrast is too weak: {too_weak()}")
    CSS_FILE.write_text(render_css(), encoding="utf-8")
    SCALE_FILE.write_text(render_scale_css(), encoding="utf-8")
