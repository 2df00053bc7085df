"""Picture every screen of the demo: `python -m tests.bench.pictures FOLDER [NAME …]`.

Makes a demo studio in a temporary folder, serves it, walks every screen as instructor, front desk and owner
at the three sizes the house is built for, light and dark, and lays one contact sheet a screen. Also the
handout's pages. It checks nothing: it is for looking.
"""

import os
import sys
import tempfile
import threading
import uuid
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

from clients.models import Client, Flag, Submission  # noqa: E402
from library.models import Exercise  # noqa: E402
from sessions.actions import records as record_actions  # noqa: E402
from sessions.demo.people import SIGN_INS  # noqa: E402
from sessions.models import Attendance, Handout, Incident, Plan, Record  # noqa: E402
from studio.actions.audit import Actor  # noqa: E402

SIZES = {"landscape": (1180, 820), "portrait": (820, 1180), "laptop": (1366, 768)}
NAMES = ("chromium", "chromium-browser", "google-chrome", "microsoft-edge")


def sign_in_of(word: str) -> tuple[str, str]:
    """Return name and passphrase of the first demo person whose role holds a word."""
    return next((name, phrase) for role, name, phrase in SIGN_INS if word in role.casefold())


def screens() -> list[tuple[str, str, str]]:
    """Return (picture name, role, address) for every screen, on the fullest rows of the demo."""
    flagged = Flag.objects.active().order_by("client_id").first().client
    handout = Handout.objects.current().order_by("pk").first()
    client = handout.client if handout else flagged
    recorded = Record.objects.filter(finished_at__isnull=False).order_by("-pk").first()
    planned = Plan.objects.filter(attendance__state__in=("booked", "arrived")).order_by("pk").first()
    running = _begun(planned) if planned else None
    coming = Attendance.objects.filter(state="booked").order_by("booking__starts_at").first()
    bare = Client.objects.exclude(pk__in=Submission.objects.values("client")).first() or client
    rows = [
        ("today", "instructor", reverse("sessions:today") + "?whose=all"),
        ("diary", "instructor", reverse("sessions:bookings")),
        ("booking", "instructor", reverse("sessions:booking", args=[coming.booking.public_id])),
        ("booking-change", "front desk", reverse("sessions:booking_change", args=[coming.booking.public_id])),
        ("client", "instructor", reverse("sessions:client", args=[client.public_id])),
        ("story", "instructor", reverse("sessions:timeline", args=[client.public_id])),
        ("flags", "instructor", reverse("clients:flags", args=[flagged.public_id])),
        ("flag-add", "instructor", reverse("clients:flag_add", args=[flagged.public_id])),
        ("instruction-add", "instructor", reverse("clients:instruction_add", args=[flagged.public_id])),
        ("answers", "instructor", reverse("clients:answers", args=[flagged.public_id])),
        ("goals", "instructor", reverse("clients:goals", args=[client.public_id])),
        ("care", "instructor", reverse("clients:care", args=[client.public_id])),
        ("home-practice", "instructor", reverse("sessions:home_practice", args=[client.public_id])),
        ("clients", "instructor", reverse("clients:list")),
        ("library", "instructor", reverse("library:list")),
        ("exercise", "instructor", reverse("library:exercise", args=[_exercise().public_id])),
        ("desk-today", "front desk", reverse("sessions:today")),
        ("desk-client", "front desk", reverse("sessions:client", args=[client.public_id])),
        ("client-new", "front desk", reverse("clients:new")),
        ("intake", "front desk", reverse("clients:intake", args=[bare.public_id])),
        ("book", "front desk", reverse("sessions:booking_new")),
        ("studio", "owner", reverse("studio:studio")),
        ("apparatus", "owner", reverse("library:apparatus")),
        ("settings", "owner", reverse("studio:settings")),
        ("help", "instructor", reverse("studio:help")),
        ("sign-in", "", reverse("studio:sign_in")),
    ]
    if planned:
        rows.append(("plan", "author", reverse("sessions:plan", args=[planned.attendance.public_id])))
    rows.append(("start", "instructor", reverse("sessions:record", args=[coming.public_id])))
    if running:
        rows.append(("floor", f"of {running.author.sign_in_name}", _record(running)))
        rows.append(("stop", f"of {running.author.sign_in_name}", _record(running) + "stop/"))
        rows.append(("close", f"of {running.author.sign_in_name}", _record(running) + "close/"))
    if recorded:
        rows.append(("record", f"of {recorded.author.sign_in_name}", _record(recorded)))
    if handout:
        rows.append(("handout", "instructor", reverse("sessions:handout", args=[handout.public_id])))
    incident = Incident.objects.first()
    if incident:
        rows.append(("incident", "instructor", reverse("sessions:incident", args=[incident.public_id])))
    return rows


def _begun(plan) -> Record:
    """Begin the session of a plan and record its first exercise, so that the recording screen is mid-way."""
    actor = Actor(person=plan.attendance.booking.instructor)
    record = record_actions.start(actor=actor, attendance=plan.attendance, flags_seen=True)
    first = plan.items.select_related("exercise__current").first()
    done = record_actions.as_planned(first, uuid.uuid4())
    record_actions.save_entry(actor=actor, record=record, item=first, done=done)
    return record


def _exercise() -> Exercise:
    return Exercise.objects.with_content().get(key="ch_standing_pump")


def _record(record) -> str:
    return reverse("sessions:record", args=[record.attendance.public_id])


def _credentials(role: str) -> tuple[str, str]:
    if role.startswith("of "):
        name = role.removeprefix("of ")
        return next((n, phrase) for _role, n, phrase in SIGN_INS if n == name)
    return sign_in_of("instructor" if role == "author" else role)


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
                        person, phrase = _credentials(role)
                        page.get_by_label("Sign-in name").fill(person)
                        page.get_by_label("Passphrase").fill(phrase)
                        page.get_by_role("button", name="Sign in").click()
                        page.wait_for_url(lambda url: "/sign-in/" not in url)
                        states[role] = context.storage_state()
                    answer = page.goto(address + path)
                    page.wait_for_timeout(150)
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


def main() -> None:
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    for command in (["migrate"], ["load_library"], ["load_demo"], ["collectstatic", "--no-input"]):
        call_command(*command, verbosity=0)
    # Only now: the application looks for the collected files when it is made.
    server = Server(("127.0.0.1", 0), get_wsgi_application(), numthreads=4)
    server.prepare()
    threading.Thread(target=server.serve, daemon=True).start()
    try:
        take(f"http://127.0.0.1:{server.bind_addr[1]}", folder, set(sys.argv[2:]))
        handout_pages(folder)
    finally:
        server.stop()


if __name__ == "__main__":
    main()
