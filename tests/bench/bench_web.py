"""What the pages weigh and how soon a touch shows, in a real browser against the served house.

    .venv/bin/python -m tests.bench.bench_web

Lays the demo in a temporary folder, collects the static files, serves all of it with the studio's own server and
settings, and reads the bytes that crossed the wire, headers included, from the browser's own network log. The
touch is timed in the page: from the click to the first frame drawn after the part has changed. Prints each figure
beside its target and ends with code 1 when one is missed. Targets: the house's plan for its second step.
"""

import os
import statistics
import sys
import tempfile
import threading

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "studio.settings")
os.environ["EVENSIDE_PROFILE"] = "demo"
os.environ["EVENSIDE_DATA_DIR"] = tempfile.mkdtemp(prefix="evenside-bench-web-")
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"

FIRST_KB, LATER_KB, TOUCH_MS = 200, 40, 100
TOUCHES = 7
LATER = (
    "diary",
    "clients",
    "client",
    "story",
    "flags",
    "plan",
    "floor",
    "library",
    "home-practice",
    "progress",
)
# From the touch to two frames after what is watched has changed and is seen, nothing of it faded: the first of the
# two has drawn it. What the server's answer changes is there only after the server has written it to the disk.
TIMED = """([touched, watched]) => new Promise((done, fail) => {
  const part = () => document.querySelector(watched);
  const seen = (p) => {
    if (!p) return false;
    for (; p; p = p.parentElement) {
      const { opacity, visibility } = getComputedStyle(p);
      if (opacity < 1 || visibility === "hidden") return false;
    }
    return true;
  };
  const state = () => { const p = part(); return p && [p.textContent, p.value, p.checked, p.open, seen(p)].join(); };
  const before = state(), begun = performance.now();
  const look = () => {
    if (performance.now() - begun > 5000) fail(new Error("nothing changed after " + touched));
    if (state() === before || !seen(part())) { requestAnimationFrame(look); return; }
    requestAnimationFrame(() => {
      const drawn = performance.now() - begun;
      const asked = performance.getEntriesByType("resource").find(
        (one) => one.startTime >= begun && one.initiatorType === "xmlhttprequest");
      done([drawn, asked ? asked.responseEnd - asked.requestStart : 0]);
    });
  };
  document.querySelector(touched).click();
  requestAnimationFrame(look);
})"""
NAME = "main h1"
# A round of touches on the recording screen that ends on the row it began with: (what, touched, what changes).
ROUND = (
    ("as planned, seen to be saving", ".fl-foot .asplan", ".saving"),
    ("", ".fl-foot .undo", NAME),
    ("as planned, then the next", ".fl-foot .asplan", NAME),
    ("undo, back to the row", ".fl-foot .undo", NAME),
    ("one repetition more", ".rec .stepper button:last-of-type", ".rec .stepper input"),
    ("how it went", ".rec .steps input[value='4']", ".rec .step:has(input[value='4']:checked)"),
    ("save what differed, then the next", ".save-next", NAME),
    ("", ".fl-foot .undo", NAME),
    ("skip, then the next", ".fl-foot .pass-by", NAME),
    ("", ".fl-foot .undo", NAME),
    ("range, note and settings open", ".more-rec:not(.changes) > summary", ".more-rec:not(.changes)"),
    ("stop opens its sheet", ".fl-foot .btn-stop", "#stop-sheet"),
)


def main() -> int:
    import django

    django.setup()
    from cheroot.wsgi import Server
    from django.core.management import call_command
    from django.core.wsgi import get_wsgi_application

    for command in (["migrate"], ["load_library"], ["load_demo"], ["collectstatic", "--no-input"]):
        call_command(*command, verbosity=0)
    # Only now: the application looks for the collected files when it is made.
    server = Server(("127.0.0.1", 0), get_wsgi_application(), numthreads=8)
    server.prepare()
    threading.Thread(target=server.serve, daemon=True).start()
    try:
        met = measure(f"http://127.0.0.1:{server.bind_addr[1]}")
    finally:
        server.stop()
    return 0 if met else 1


class Wire:
    """The bytes a page took from the network; what the browser kept from before does not count."""

    def __init__(self, page):
        self.bytes, self.requests, self.sizes, self._urls = 0, 0, {}, {}
        session = page.context.new_cdp_session(page)
        session.send("Network.enable")
        session.on("Network.responseReceived", self._answer)
        session.on("Network.loadingFinished", self._finished)

    def _answer(self, event):
        self._urls[event["requestId"]] = event["response"]["url"]

    def _finished(self, event):
        size = event["encodedDataLength"]
        if size:
            self.bytes, self.requests = self.bytes + size, self.requests + 1
            self.sizes[self._urls.get(event["requestId"], "?")] = size

    def start(self):
        self.bytes, self.requests, self.sizes = 0, 0, {}


def of_touches(what: str, times) -> bool:
    """Print the median of (from touch to change, of it waiting for the server), in milliseconds."""
    waited = statistics.median(wait for _drawn, wait in times)
    median = statistics.median(drawn for drawn, _wait in times)
    return line(what, median, TOUCH_MS, "ms", f"   {len(times)} times, of it {waited:.0f} ms the server")


def line(what: str, value: float, target: float, unit: str, more: str = "") -> bool:
    good = value <= target
    print(f"{what:<34} {value:7.1f} {unit}   target {target} {unit}   {'met' if good else 'MISSED'}{more}")
    return good


def measure(address: str) -> bool:
    from playwright.sync_api import sync_playwright

    from tests.browser.conftest import _path
    from tests.screens import screens

    rows = {name: (role, path) for name, role, path in screens()}
    with sync_playwright() as driver:
        browser = driver.chromium.launch(
            executable_path=_path(), args=["--no-sandbox", "--disable-dev-shm-usage", "--disable-gpu"]
        )
        met = weights(browser, address, rows)
        met = touches(browser, address, rows) and met
        browser.close()
    return met


def signed_in(browser, address, role, **options):
    """Return a page of a browser that has seen nothing of the house but the session's cookie."""
    from tests.screens import credentials

    first = browser.new_context(viewport={"width": 1180, "height": 820})
    page = first.new_page()
    name, passphrase = credentials(role)
    page.goto(address + "/sign-in/")
    page.get_by_label("Sign-in name").fill(name)
    page.get_by_label("Passphrase").fill(passphrase)
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url(lambda url: "/sign-in/" not in url)
    state = first.storage_state()
    first.close()
    context = browser.new_context(viewport={"width": 1180, "height": 820}, storage_state=state, **options)
    return context.new_page()


def weights(browser, address, rows) -> bool:
    """Print what the first load of the day's sheet and the later pages weigh."""
    page = signed_in(browser, address, "instructor")
    wire = Wire(page)
    page.goto(address + "/?whose=all", wait_until="networkidle")
    met = line("first load of today", wire.bytes / 1000, FIRST_KB, "kB", f"   {wire.requests} requests")
    if "-v" in sys.argv:
        for url, size in sorted(wire.sizes.items(), key=lambda pair: -pair[1]):
            print(f"      {size / 1000:7.1f} kB  {url.removeprefix(address)}")
    for name in LATER:
        if name not in rows:
            continue
        wire.start()
        page.goto(address + rows[name][1], wait_until="networkidle")
        more = f"   {wire.requests} requests"
        met = line(f"then {name}", wire.bytes / 1000, LATER_KB, "kB", more) and met
        if "-v" in sys.argv:
            for url, size in sorted(wire.sizes.items(), key=lambda pair: -pair[1])[:6]:
                print(f"      {size / 1000:7.1f} kB  {url.removeprefix(address)}")
    page.context.close()
    return met


def touches(browser, address, rows) -> bool:
    """Print how long a touch takes to show: every touch of the recording screen, a row of a plan."""
    role, path = rows["floor"]
    page = signed_in(browser, address, role)
    times = {what: [] for what, _touched, _watched in ROUND if what}
    for _round in range(TOUCHES):
        page.goto(address + path, wait_until="networkidle")
        for what, touched, watched in ROUND:
            taken = page.evaluate(TIMED, [touched, watched])
            times.get(what, []).append(taken)
            page.wait_for_timeout(1000)
    printed = [of_touches(what, taken) for what, taken in times.items()]
    met = all(printed)
    page.goto(address + rows["plan-open"][1] if "plan-open" in rows else address + rows["plan"][1])
    page.wait_for_load_state("networkidle")
    times = []
    for place in range(min(TOUCHES, page.locator("a.exrow").count() - 1)):
        selector = f".list > li:nth-child({place + 2}) a.exrow"
        times.append(page.evaluate(TIMED, [selector, "#plan-side h2"]))
        page.wait_for_timeout(1000)
    met = of_touches("a row of the plan", times) and met
    page.context.close()
    return met


if __name__ == "__main__":
    sys.exit(main())
