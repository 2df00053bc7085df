"""The browser that the tests drive: one that is installed, else apt's, else the driver's own download."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

from studio.setup import system
from studio.setup.environment import Environment
from studio.setup.say import say

VARIABLE = "EVENSIDE_BROWSER"
MISSING = "EVENSIDE_BROWSER_MISSING"
NAMES = (
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "chrome",
    "microsoft-edge",
    "microsoft-edge-stable",
    "msedge",
)
MAC = (
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
)
WINDOWS = (
    "Chromium/Application/chrome.exe",
    "Google/Chrome/Application/chrome.exe",
    "Microsoft/Edge/Application/msedge.exe",
)
DRIVER_LIBRARIES = ("libatomic1",)
DOWNLOAD_SECONDS = 300
FIND_DOWNLOADED = (
    "from playwright.sync_api import sync_playwright as s\nwith s() as p: print(p.chromium.executable_path)"
)


def ensure(environment: Environment) -> str:
    """Put the path of a browser into EVENSIDE_BROWSER, or a sentence into EVENSIDE_BROWSER_MISSING.

    Returns the path or ''. A browser that the environment already names is taken when it is there.
    """
    named = os.environ.pop(VARIABLE, "")
    os.environ.pop(MISSING, None)
    if not driver_ready(environment):
        return _do_without(driver_sentence())
    found = named if named and Path(named).is_file() else ""
    found = found or installed() or _from_apt() or _from_driver(environment)
    if not found:
        return _do_without(sentence())
    os.environ[VARIABLE] = found
    return found


def _do_without(why: str) -> str:
    os.environ[MISSING] = why
    say(why)
    return ""


def driver_ready(environment: Environment) -> bool:
    """Whether the driver starts; on a bare Debian it lacks one library, which apt-get brings."""
    if _driver_starts(environment):
        return True
    return system.apt_install(DRIVER_LIBRARIES, "the browser driver's library") and _driver_starts(
        environment
    )


def _driver_starts(environment: Environment) -> bool:
    args = [environment.python, "-m", "playwright", "--version"]
    try:
        return subprocess.run(args, capture_output=True, timeout=60, stdin=subprocess.DEVNULL).returncode == 0
    except (OSError, subprocess.TimeoutExpired):
        return False


def driver_sentence() -> str:
    """What the browser tests say where the driver does not start."""
    return f"The driver of the browser tests does not start here: {system.command('driver')}."


def sentence() -> str:
    """What the browser tests say where there is no browser."""
    return (
        "No browser could be found or fetched for the browser tests: "
        f"{system.command('browser')}, or name a Chromium, Chrome or Edge in {VARIABLE}."
    )


def installed() -> str:
    """The path of an installed browser that answers, or ''."""
    return next((path for path in candidates() if answers(path)), "")


def candidates() -> list[str]:
    """Where an installed browser may lie, best first."""
    found = [path for path in map(shutil.which, NAMES) if path]
    if sys.platform == "darwin":
        found += [path for path in MAC if Path(path).is_file()]
    if sys.platform == "win32":
        roots = [os.environ.get(name) for name in ("PROGRAMFILES", "PROGRAMFILES(X86)", "LOCALAPPDATA")]
        paths = [Path(root) / name for name in WINDOWS for root in roots if root]
        found += [str(path) for path in paths if path.is_file()]
    return found


def answers(path: str) -> bool:
    """Whether it is a browser: Ubuntu has a script of that name which only recommends another package."""
    if sys.platform == "win32":
        return True  # asked for its version there, it opens a window
    try:
        asked = subprocess.run([path, "--version"], capture_output=True, timeout=30, stdin=subprocess.DEVNULL)
    except (OSError, subprocess.TimeoutExpired):
        return False
    return asked.returncode == 0 and any(character in b"0123456789" for character in asked.stdout)


def _from_apt() -> str:
    # Ubuntu's package only points to a store that is missing on plain servers; its driver download works.
    if system.family() == "debian" and system.apt_install(("chromium",), "a browser for the tests"):
        return installed()
    return ""


def _from_driver(environment: Environment) -> str:
    """Let the driver fetch a browser of its own; as root on Ubuntu with the libraries that it needs."""
    say("Fetching a browser for the tests")
    args = [environment.python, "-m", "playwright", "install"]
    if system.family() == "ubuntu" and system.apt_prefix() == []:
        args.append("--with-deps")
    try:
        done = subprocess.run(
            [*args, "chromium"], capture_output=True, timeout=DOWNLOAD_SECONDS, stdin=subprocess.DEVNULL
        )
        if done.returncode != 0:
            return ""
        asked = subprocess.run(
            [environment.python, "-c", FIND_DOWNLOADED], capture_output=True, text=True, timeout=60
        )
    except (OSError, subprocess.TimeoutExpired):
        return ""
    path = asked.stdout.strip()
    return path if Path(path).is_file() and answers(path) else ""
