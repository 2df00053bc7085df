"""A tiny copy of the project: manage.py, the set-up, and a hand-made package named Django that tells its tale."""

import base64
import hashlib
import os
import shutil
import signal
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
# The Python that made this environment, as a person would start it.
SYSTEM_PYTHON = getattr(sys, "_base_executable", sys.executable)
CLOSED = "http://127.0.0.1:9/simple"
TALE = """
import json, os, sys

def execute_from_command_line(argv):
    names = ("EVENSIDE_DATA_DIR", "EVENSIDE_PROFILE", "PYTHONUTF8")
    variables = {name: os.environ.get(name) for name in names}
    print("TALE " + json.dumps({"argv": argv[1:], "prefix": sys.prefix, **variables}))
"""


def make_wheel(folder: Path, name: str, files: dict[str, str], version: str = "1.0") -> None:
    """Write a pure wheel (binary distribution format, PEP 427) with these files into `folder`."""
    folder.mkdir(exist_ok=True)
    info = f"{name}-{version}.dist-info"
    files = {
        **files,
        f"{info}/METADATA": f"Metadata-Version: 2.1\nName: {name}\nVersion: {version}\n",
        f"{info}/WHEEL": "Wheel-Version: 1.0\nGenerator: hand\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
    }
    rows = [f"{path},sha256={_digest(text)},{len(text.encode())}" for path, text in files.items()]
    files[f"{info}/RECORD"] = "\n".join([*rows, f"{info}/RECORD,,"]) + "\n"
    with zipfile.ZipFile(folder / f"{name}-{version}-py3-none-any.whl", "w") as wheel:
        for path, text in files.items():
            wheel.writestr(path, text)


def _digest(text: str) -> str:
    return base64.urlsafe_b64encode(hashlib.sha256(text.encode()).digest()).rstrip(b"=").decode()


class Project:
    """A copy of the set-up in a folder of its own, with a fresh HOME and no network."""

    def __init__(self, folder: Path) -> None:
        self.root = folder / "evenside"
        self.home = folder / "home"
        self.home.mkdir()
        shutil.copytree(ROOT / "studio" / "setup", self.root / "studio" / "setup")
        shutil.copy(ROOT / "studio" / "__init__.py", self.root / "studio")
        shutil.copy(ROOT / "manage.py", self.root)
        (self.root / "tests").mkdir()
        (self.root / "tests" / "requirements.txt").write_text("")
        self.require("Django==1.0  # tells its tale")

    def require(self, *lines: str) -> None:
        """Write requirements.txt."""
        (self.root / "requirements.txt").write_text("\n".join(lines) + "\n")

    def bring_wheels(self) -> None:
        """Make the folder wheels/ with two packages."""
        files = {"django/__init__.py": "", "django/core/__init__.py": "", "django/core/management.py": TALE}
        make_wheel(self.root / "wheels", "Django", files)
        make_wheel(self.root / "wheels", "second", {"second.py": "here = True\n"})

    def variables(self, **more: str) -> dict[str, str]:
        """The environment: nothing of pip's settings or of this test run, and an index that is closed."""
        kept = {
            name: value
            for name, value in os.environ.items()
            if not name.startswith(("PIP_", "EVENSIDE_", "XDG_", "PYTHON", "VIRTUAL_ENV", "DJANGO_"))
        }
        own = {"HOME": str(self.home), "PIP_CONFIG_FILE": os.devnull, "PIP_INDEX_URL": CLOSED}
        return {**kept, **own, "EVENSIDE_NO_PDF": "not asked in this test", **more}

    def manage(self, *arguments: str, **more: str) -> subprocess.CompletedProcess[str]:
        """Run manage.py with the system's Python."""
        return subprocess.run(
            [SYSTEM_PYTHON, "manage.py", *arguments],
            cwd=self.root,
            env=self.variables(**more),
            capture_output=True,
            text=True,
            timeout=120,
            stdin=subprocess.DEVNULL,
        )

    def begin(self, *arguments: str, **more: str) -> subprocess.Popen[str]:
        """Start manage.py in a process group of its own, as a terminal does."""
        return subprocess.Popen(
            [SYSTEM_PYTHON, "manage.py", *arguments],
            cwd=self.root,
            env=self.variables(**more),
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            start_new_session=True,
            # Whoever started the tests in the background has Ctrl-C ignored, and children take that over.
            preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
        )


def ctrl_c(process: subprocess.Popen) -> None:
    """What a terminal does on Ctrl-C: the signal goes to the whole group."""
    os.killpg(process.pid, signal.SIGINT)


@pytest.fixture(scope="module")
def project(tmp_path_factory) -> Project:
    """A copy that the tests of one module share, in their order."""
    return Project(tmp_path_factory.mktemp("project"))


@pytest.fixture
def unset(monkeypatch):
    """No variable that steers the set-up."""
    for name in list(os.environ):
        if name.startswith(("EVENSIDE_", "XDG_", "PIP_")):
            monkeypatch.delenv(name)
    return monkeypatch
