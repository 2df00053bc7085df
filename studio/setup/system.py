"""Which system this is, what it lacks, and the exact command that brings it."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

from studio.setup.say import say

OS_RELEASE = Path("/etc/os-release")

# What the PDF engine loads at run time (WeasyPrint 70, "First steps"). Without the subset library it works
# with a warning.
PDF_LIBRARIES = {
    "debian": ("libpango-1.0-0", "libpangoft2-1.0-0", "libharfbuzz-subset0"),
    "ubuntu": ("libpango-1.0-0", "libpangoft2-1.0-0", "libharfbuzz-subset0", "libharfbuzz0b"),
}
VENV_PACKAGE = "python{version}-venv"
COMMANDS = {
    "pdf": {
        "debian": "sudo apt-get install " + " ".join(PDF_LIBRARIES["debian"]),
        "ubuntu": "sudo apt-get install " + " ".join(PDF_LIBRARIES["ubuntu"]),
        "fedora": "sudo dnf install pango",
        "arch": "sudo pacman -S pango",
        "macos": "brew install pango",
        "windows": "pacman -S mingw-w64-ucrt-x86_64-pango (in the UCRT64 window of MSYS2)",
        "other": "install Pango 1.44 or newer with your system's package manager",
    },
    "venv": {
        "debian": "sudo apt-get install " + VENV_PACKAGE,
        "ubuntu": "sudo apt-get install " + VENV_PACKAGE,
        "fedora": "sudo dnf install python3-libs python3-pip",
        "arch": "sudo pacman -S python",
        "macos": "brew install python@{version}",
        "windows": "winget install Python.Python.{version}",
        "other": "install the venv and ensurepip modules of Python {version} with your package manager",
    },
    "driver": {
        "debian": "sudo apt-get install libatomic1",
        "ubuntu": "sudo apt-get install libatomic1",
        "fedora": "sudo dnf install libatomic",
        "arch": "sudo pacman -S gcc-libs",
        "macos": "run .venv/bin/python -m playwright --version to see why",
        "windows": "run .venv\\Scripts\\python -m playwright --version to see why",
        "other": "run .venv/bin/python -m playwright --version to see why",
    },
    "browser": {
        "debian": "sudo apt-get install chromium",
        "ubuntu": "sudo snap install chromium",
        "fedora": "sudo dnf install chromium",
        "arch": "sudo pacman -S chromium",
        "macos": "brew install --cask google-chrome",
        "windows": "winget install Google.Chrome",
        "other": "install Chromium with your system's package manager",
    },
}


def family(platform: str = sys.platform, release: str | None = None) -> str:
    """Name this system's family: debian, ubuntu, fedora, arch, macos, windows or other.

    `release` is the text of os-release (read from the machine when None). ID decides, then the names in
    ID_LIKE from left to right (os-release(5): "ordered by importance, closest relative first").
    """
    if platform in ("win32", "cygwin", "msys"):
        return "windows"
    if platform == "darwin":
        return "macos"
    if release is None:
        release = OS_RELEASE.read_text(encoding="utf-8", errors="replace") if OS_RELEASE.exists() else ""
    fields = dict(line.split("=", 1) for line in release.splitlines() if "=" in line)
    names = [fields.get("ID", ""), *fields.get("ID_LIKE", "").strip("\"'").split()]
    for name in (name.strip("\"'").lower() for name in names):
        if name == "rhel":
            return "fedora"
        if name in ("debian", "ubuntu", "fedora", "arch"):
            return name
    return "other"


def command(need: str, of: str | None = None) -> str:
    """The exact command that brings `need` (a key of COMMANDS) on the system family `of`."""
    version = f"{sys.version_info.major}.{sys.version_info.minor}"
    return COMMANDS[need][of or family()].format(version=version)


def python_word() -> str:
    """How people start Python on this system."""
    return "py" if sys.platform == "win32" else "python3"


def apt_prefix() -> list[str] | None:
    """What goes before apt-get so that it may install: nothing for root, sudo where no password is asked.

    None where apt-get is missing or would ask.
    """
    if family() not in ("debian", "ubuntu") or not shutil.which("apt-get"):
        return None
    if os.geteuid() == 0:
        return []
    if shutil.which("sudo"):
        asked = subprocess.run(["sudo", "-n", "true"], capture_output=True, stdin=subprocess.DEVNULL)
        if asked.returncode == 0:
            return ["sudo", "-n"]
    return None


def apt_install(packages: tuple[str, ...], what: str) -> bool:
    """Install Debian or Ubuntu packages without a question. True when apt-get says that they are in.

    The package lists are fetched first; a list that fails does not stop the rest.
    """
    prefix = apt_prefix()
    if prefix is None:
        return False
    say(f"Installing {what} with apt-get: {' '.join(packages)}")
    apt = [*prefix, "env", "DEBIAN_FRONTEND=noninteractive", "apt-get", "-q"]
    patience = ["-o", "DPkg::Lock::Timeout=120", "-o", "Acquire::Retries=1"]
    _quiet([*apt, "update", *patience])
    done = _quiet([*apt, "install", "-y", "--no-install-recommends", *patience, *packages])
    if done.returncode != 0:
        told = [line for line in done.stdout.splitlines() if line.startswith("E:")]
        say(f"apt-get could not install them{': ' + told[-1][2:].strip() if told else ''}")
    return done.returncode == 0


def _quiet(args: list[str]) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        args,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        errors="replace",
    )
