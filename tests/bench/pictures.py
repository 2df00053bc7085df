"""Picture every screen of the demo: `python -m tests.bench.pictures FOLDER [NAME …]`, or `… --readme`.

Makes a demo studio in a temporary folder, serves it, walks every screen as instructor, front desk and owner
at the three sizes the house is built for, light and dark, and lays one contact sheet a screen. Also the
handout's pages. It checks nothing: it is for looking. With `--readme` it makes the pictures of README.md anew,
in `.pictures/`, each no heavier than 250 kB.
"""

import os
import sys
import tempfile
import threading
from pathlib import Path

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "studio.settings")
os.environ["EVENSIDE_PROFILE"] = "demo"
os.environ["EVENSIDE_DATA_DIR"] = tempfile.mkdtemp(prefix="evenside-pictures-")
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"

import django  # noqa: E402

django.setup()

import pypdfium2  # noqa: E402
from cheroot.wsgi import Server  # noqa: E402
from django.core.management import call_command  # noqa: E402
from django.core.wsgi import get_wsgi_application  # noqa: E402
from django.urls import reverse  # noqa: E402
from PIL import Image, ImageDraw  # noqa: E402
from playwright.sync_api import sync_playwright  # noqa: E402

from sessions.models import Handout  # noqa: E402
from tests.screens import SIZES, credentials, screens  # noqa: E402

# Where README.md has its pictures, and what each shows: a screen and its size.
READMES = Path(__file__).resolve().parents[2] / ".pictures"
SHOWN = {
    "today": "landscape",
    "plan-open": "landscape",
    "floor": "landscape",
    "client": "landscape",
    "library": "landscape",
    "progress": "landscape",
    "desk-today": "laptop",
}
HEAVIEST_KB = 250


def contact_sheet(name: str, files: dict[tuple[str, str], Path], folder: Path) -> None:
    """Lay the six pictures of a screen on one sheet: sizes across, light above dark."""
    gap, label = 16, 26
    width = sum(w for w, _h in SIZES.values()) // 2 + gap * 4
    tallest = max(h for _w, h in SIZES.values()) // 2
    sheet = Image.new("RGB", (width, (tallest + gap + label) * 2 + gap), "#8a8f8b")
    draw = ImageDraw.Draw(sheet)
    y = gap
    for scheme in ("light", "dark"):
        x = gap
        for size, (w, h) in SIZES.items():
            draw.text((x, y), f"{name} · {size} · {scheme}", fill="#ffffff")
            shot = Image.open(files[size, scheme]).convert("RGB").resize((w // 2, h // 2))
            sheet.paste(shot, (x, y + label))
            x += w // 2 + gap
        y += tallest + label + gap
    sheet.save(folder / f"sheet-{name}.png")


def take(address: str, folder: Path, only: set[str]) -> None:
    """Take every picture."""
    from tests.browser.conftest import _path

    with sync_playwright() as driver:
        browser = driver.chromium.launch(
            executable_path=_path(), args=["--no-sandbox", "--disable-dev-shm-usage", "--disable-gpu"]
        )
        states: dict[str, dict] = {}
        for name, role, path in screens():
            if only and name not in only:
                continue
            files = {}
            for size, (width, height) in SIZES.items():
                for scheme in ("light", "dark"):
                    context = browser.new_context(
                        viewport={"width": width, "height": height},
                        has_touch=size != "laptop",
                        color_scheme=scheme,
                        locale="en-GB",
                        storage_state=states.get(role),
                    )
                    page = context.new_page()
                    if role and role not in states:
                        page.goto(address + reverse("studio:sign_in"))
                        person, phrase = credentials(role)
                        page.get_by_label("Sign-in name").fill(person)
                        page.get_by_label("Passphrase").fill(phrase)
                        page.get_by_role("button", name="Sign in").click()
                        page.wait_for_url(lambda url: "/sign-in/" not in url)
                        states[role] = context.storage_state()
                    answer = page.goto(address + path)
                    if name == "plan-open":  # with the reasons of a row beside the rows
                        page.locator("a.exrow:has(.flag-avoid, .flag-modify)").first.click(timeout=3000)
                    page.wait_for_timeout(150 if name != "plan-open" else 700)
                    files[size, scheme] = folder / f"{name}-{size}-{scheme}.png"
                    page.screenshot(path=files[size, scheme])
                    if size == "landscape" and scheme == "light":
                        page.screenshot(path=folder / f"{name}-full.png", full_page=True)
                        print(f"{name}: {answer.status} {path}")
                    context.close()
            contact_sheet(name, files, folder)
        browser.close()


def handout_pages(folder: Path) -> None:
    """Picture the pages of every handout that the demo issued."""
    for handout in Handout.objects.exclude(pdf=None):
        document = pypdfium2.PdfDocument(bytes(handout.pdf))
        for number, page in enumerate(document, start=1):
            page.render(scale=1.4).to_pil().save(folder / f"handout-{handout.number}-page-{number}.png")


def light(picture: Image.Image, path: Path) -> None:
    """Keep a picture with few enough colours to stay under the limit; flat screens lose nothing by it."""
    for colours in (256, 128, 64):
        picture.convert("RGB").quantize(colours, dither=Image.Dither.NONE).save(path, optimize=True)
        if path.stat().st_size <= HEAVIEST_KB * 1000:
            return
    raise SystemExit(f"{path.name} weighs more than {HEAVIEST_KB} kB.")


def readme(folder: Path) -> None:
    """Choose from the pictures that were taken, and keep them for README.md."""
    READMES.mkdir(exist_ok=True)
    for name, size in SHOWN.items():
        taken = folder / f"{name}-{size}-light.png"
        if taken.exists():
            light(Image.open(taken), READMES / f"{name.removesuffix('-open')}.png")
    pages = [Image.open(path) for path in sorted(folder.glob("handout-*-page-*.png"))[:2]]
    sheet = Image.new("RGB", (sum(page.width for page in pages) + 20, pages[0].height), "#8a8f8b")
    for number, page in enumerate(pages):
        sheet.paste(page, (number * (page.width + 20), 0))
    light(sheet.resize((1180, sheet.height * 1180 // sheet.width)), READMES / "handout.png")
    for path in sorted(READMES.glob("*.png")):
        print(f"{path.name}: {path.stat().st_size / 1000:.0f} kB")


def main() -> None:
    for_readme = sys.argv[1] == "--readme"
    folder = Path(tempfile.mkdtemp(prefix="evenside-readme-") if for_readme else sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    only = set(SHOWN) if for_readme else set(sys.argv[2:])
    for command in (["migrate"], ["load_library"], ["load_demo"], ["collectstatic", "--no-input"]):
        call_command(*command, verbosity=0)
    # Only now: the application looks for the collected files when it is made.
    server = Server(("127.0.0.1", 0), get_wsgi_application(), numthreads=4)
    server.prepare()
    threading.Thread(target=server.serve, daemon=True).start()
    try:
        take(f"http://127.0.0.1:{server.bind_addr[1]}", folder, only)
        handout_pages(folder)
        if for_readme:
            readme(folder)
    finally:
        server.stop()


if __name__ == "__main__":
    main()
