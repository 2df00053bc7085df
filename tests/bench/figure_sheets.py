"""Contact sheets of every drawn exercise, and a quiz that asks which exercise a picture shows.

    .venv/bin/python -m tests.bench.figure_sheets FOLDER            sheets an apparatus: light, dark, grey
    .venv/bin/python -m tests.bench.figure_sheets FOLDER --quiz     six pictures a page, five names each

Needs Chromium. The quiz writes questions.json (picture, five names of the same apparatus) and, apart from it,
answers.json; who answers must not have seen the second.
"""

import json
import random
import sys
from html import escape
from pathlib import Path

from playwright.sync_api import sync_playwright

from library import tables
from library.body import all_poses, figure, view_box

ROOT = Path(__file__).resolve().parents[2]
SCALE, SEED = 0.8, 8
NAMES_ASKED, ON_A_SHEET, ON_A_PAGE = 5, 16, 6
SCHEMES = {"light": ("light", "screen"), "dark": ("dark", "screen"), "grey": ("light", "paper")}
LOOK = """
body { margin: 12px; font: 13px sans-serif; background: var(--sheet); color: var(--ink); }
body.paper { background: #fff; color: #111; }
main { display: flex; flex-wrap: wrap; gap: 12px 26px; align-items: end; }
figure { margin: 0; } .fg { display: inline-block; max-width: none; }
"""


def main(arguments: list[str]) -> int:
    named = [one for one in arguments if not one.startswith("--")]
    if len(named) != 1:
        print(__doc__)
        return 2
    folder = Path(named[0])
    folder.mkdir(parents=True, exist_ok=True)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=["--no-sandbox"])
        page = browser.new_page(viewport={"width": 1280, "height": 600})
        (quiz if "--quiz" in arguments else sheets)(page, folder)
        browser.close()
    return 0


def by_apparatus() -> dict[str, list[dict]]:
    """Poses of each apparatus, in library order."""
    poses, shelves = all_poses(), {}
    for key, facts in tables.exercises().items():
        if key in poses:
            shelves.setdefault(facts["apparatus"], []).append(poses[key])
    return shelves


def sheets(page, folder: Path) -> None:
    for apparatus, poses in by_apparatus().items():
        for first in range(0, len(poses), ON_A_SHEET):
            for name, (theme, paint) in SCHEMES.items():
                body = "".join(_labelled(pose, paint) for pose in poses[first : first + ON_A_SHEET])
                path = folder / f"{apparatus}-{name}-{first // ON_A_SHEET + 1}.png"
                shoot(page, _html(f"<main>{body}</main>", theme, paint), path)


def quiz(page, folder: Path) -> None:
    """A question an exercise: the names beside the right one come from the same apparatus, by a fixed seed."""
    dice, questions, answers = random.Random(SEED), [], {}
    names = {key: facts["name"] for key, facts in tables.exercises().items()}
    shelves = by_apparatus()
    asked = [(apparatus, pose) for apparatus, poses in shelves.items() for pose in poses]
    dice.shuffle(asked)
    for first in range(0, len(asked), ON_A_PAGE):
        picture, drawn = f"page-{first // ON_A_PAGE + 1:02}.png", []
        for number, (apparatus, pose) in enumerate(asked[first : first + ON_A_PAGE], first + 1):
            others = [one["key"] for one in shelves[apparatus] if one["key"] != pose["key"]]
            choices = [names[key] for key in (pose["key"], *dice.sample(others, NAMES_ASKED - 1))]
            dice.shuffle(choices)
            drawn.append(
                f"<figure><figcaption><b>{number}</b></figcaption>{_panels(pose, 'screen', 1)}</figure>"
            )
            questions.append({"number": number, "picture": picture, "apparatus": apparatus, "names": choices})
            answers[number] = {"key": pose["key"], "name": names[pose["key"]]}
        shoot(page, _html(f"<main>{''.join(drawn)}</main>", "light", "screen"), folder / picture)
    (folder / "questions.json").write_text(json.dumps(questions, indent=1, ensure_ascii=False))
    (folder / "answers.json").write_text(json.dumps(answers, indent=1, ensure_ascii=False))


def _labelled(pose: dict, paint: str) -> str:
    name = tables.exercises()[pose["key"]]["name"]
    caption = f"<figcaption><b>{escape(name)}</b> {pose['key']} {pose.get('side', '')}</figcaption>"
    return f"<figure>{caption}{_panels(pose, paint, SCALE)}</figure>"


def _panels(pose: dict, paint: str, scale: float) -> str:
    side = "right" if "side" in pose else None
    _x, _y, width, height = view_box(pose, side)
    size = f'<svg width="{width * scale:.0f}" height="{height * scale:.0f}" '
    panels = [
        figure(pose, phase=phase, side=side, paint=paint, title=phase).replace("<svg ", size, 1)
        for phase in ("start", "end")
    ]
    return " ".join(panels)


def _html(body: str, theme: str, paint: str) -> str:
    css = "".join((ROOT / "static/css" / name).read_text() for name in ("tokens.css", "figures.css"))
    return (
        f'<html data-bs-theme="{theme}"><meta charset="utf-8"><style>{css}{LOOK}</style>'
        f'<body class="{paint}">{body}'
    )


def shoot(page, html: str, path: Path) -> None:
    page.set_content(html)
    page.screenshot(path=path, full_page=True)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
