"""The virtual environment .venv: made once, stamped when complete, brought up to date when the lists change.

Two groups of packages: 'run' (requirements.txt) and 'test' (that and tests/requirements.txt). A stamp per
group is written only after pip has succeeded; a marker lies in .venv while something is being changed, so
that an interrupted set-up is seen and done anew.
"""

import contextlib
import hashlib
import importlib.util
import os
import platform
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

from studio.setup import locks, pip_report, system
from studio.setup.say import SetupError, reason, say

ROOT = Path(__file__).resolve().parents[2]
LISTS = {"run": ("requirements.txt",), "test": ("requirements.txt", "tests/requirements.txt")}
SIGN_OF_LIFE_SECONDS = 5


class Environment:
    """The .venv of the project folder `root`."""

    def __init__(self, root: Path = ROOT) -> None:
        self.root = root
        self.folder = root / ".venv"
        self.unfinished = self.folder / "unfinished"
        self.log = self.folder / "install.log"

    @property
    def python(self) -> Path:
        """The interpreter inside."""
        return self.folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")

    def inside(self) -> bool:
        """Whether this process already runs inside. The prefix tells; the executable may be a link."""
        return Path(sys.prefix).resolve() == self.folder.resolve()

    def fingerprint(self, group: str) -> str:
        """SHA-256 over the group's lists, the Python version and the kind of machine."""
        digest = hashlib.sha256()
        for name in LISTS[group]:
            digest.update((self.root / name).read_bytes().replace(b"\r\n", b"\n"))
        digest.update(f"{sys.version}{platform.machine()}".encode())
        return digest.hexdigest()

    def stamp(self, group: str) -> Path:
        """The file that says which lists are installed."""
        return self.folder / f"installed.{group}"

    def ready(self, group: str) -> bool:
        """Whether everything of `group` is installed as its lists say now."""
        if self.unfinished.exists() or not self.python.exists():
            return False
        return read(self.stamp(group)) == self.fingerprint(group)

    def usable(self) -> bool:
        """Whether what is there may be brought up to date, or has to be made anew."""
        if self.unfinished.exists() or not self.python.exists():
            return False
        asked = subprocess.run(
            [self.python, "-I", "-c", "import sys, pip; print(sys.version)"], capture_output=True, text=True
        )
        return asked.returncode == 0 and asked.stdout.strip() == sys.version

    def ensure(self, group: str) -> None:
        """Make .venv where it is missing or half made, and install what `group` needs."""
        if self.ready(group):
            return
        try:
            with self._alone():
                if self.ready(group):
                    return
                if not self.usable():
                    self._make()
                self._install(group)
        except OSError as error:
            raise SetupError(
                f"The folder {self.root} cannot be written ({reason(error)}): "
                "give yourself the right to write there, or copy Evenside into a folder of your own."
            ) from error

    @contextlib.contextmanager
    def _alone(self) -> Iterator[None]:
        """Let one set-up of this folder run at a time; the others wait for it."""
        with open(self.root / "requirements.txt", "rb") as handle:
            if not locks.try_lock(handle):
                say("Another set-up of this folder is under way; waiting for its end")
                while not locks.try_lock(handle):
                    time.sleep(0.3)
            yield

    def _make(self) -> None:
        if self.inside():
            raise SetupError(
                f"The set-up in {self.folder} is not complete: "
                f"leave it and run {system.python_word()} manage.py with the system's Python."
            )
        bring_venv_module()
        say("Making .venv, the folder for the packages")
        if self.folder.is_symlink():
            self.folder.unlink()
        elif self.folder.exists():
            shutil.rmtree(self.folder)
        self.folder.mkdir()
        self.unfinished.touch()
        made = subprocess.run(
            [sys.executable, "-m", "venv", self.folder],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            errors="replace",
        )
        if made.returncode != 0:
            self.log.write_text(made.stdout, encoding="utf-8")
            raise SetupError(
                f"Python could not make .venv (its words are in {self.log}): {system.command('venv')}, "
                "then repeat the same command."
            )

    def _install(self, group: str) -> None:
        files = [self.root / name for name in LISTS[group]]
        count = sum(len(requirements(file)) for file in files)
        first = not any(self.stamp(each).exists() for each in LISTS)
        time_words = ", about a minute the first time" if first else ""
        say(f"Installing {count} package{'' if count == 1 else 's'}{time_words}")
        for each in LISTS:
            self.stamp(each).unlink(missing_ok=True)
        self.unfinished.touch()
        output, code, changed = self._pip(files)
        if code != 0:
            if not changed:
                self.unfinished.unlink(missing_ok=True)
            raise SetupError(self._explain(output, group))
        for each in LISTS:
            if set(LISTS[each]) <= set(LISTS[group]):
                write_whole(self.stamp(each), self.fingerprint(each))
        self.unfinished.unlink(missing_ok=True)

    def _pip(self, files: list[Path]) -> tuple[str, int, bool]:
        """Run pip. Returns its output, its exit code and whether it had begun to change anything."""
        args = [self.python, "-m", "pip", *pip_arguments(self.root)]
        for file in files:
            args += ["-r", file]
        lines, began, changed = [], time.monotonic(), False
        pip = subprocess.Popen(
            args,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            errors="replace",
        )
        try:
            with open(self.log, "w", encoding="utf-8") as log:
                for line in pip.stdout:
                    log.write(line)
                    lines.append(line)
                    if line.startswith("Installing collected packages"):
                        changed = True
                        if time.monotonic() - began > SIGN_OF_LIFE_SECONDS:
                            say("All packages are fetched; putting them in place")
            code = pip.wait()
        finally:
            if pip.poll() is None:
                pip.terminate()
                pip.wait()
        return "".join(lines), code, changed

    def _explain(self, output: str, group: str) -> str:
        lists = " ".join(f"-r {name}" for name in LISTS[group])
        again = f"{system.python_word()} -m pip download --only-binary :all: -d wheels {lists}"
        sentence = pip_report.explain(
            output, wheels=(self.root / "wheels").is_dir(), python=sys.version_info[:2], again=again
        )
        return sentence.replace("{log}", str(self.log))


def pip_arguments(root: Path) -> list[str]:
    """The arguments of every `pip install` here: no question, no build from source, short patience."""
    args = ["install", "--no-input", "--only-binary", ":all:", "--disable-pip-version-check"]
    args += ["--progress-bar", "off", "--retries", "1"]
    if not {"PIP_TIMEOUT", "PIP_DEFAULT_TIMEOUT"} & set(os.environ):
        # Whoever has told pip how long to wait, for a slow line, is obeyed.
        args += ["--timeout", "20"]
    if (root / "wheels").is_dir():
        args += ["--no-index", "--find-links", str(root / "wheels")]
    return args


def requirements(file: Path) -> list[str]:
    """The lines of a requirements file that name a package."""
    lines = (line.partition("#")[0].strip() for line in file.read_text(encoding="utf-8").splitlines())
    return [line for line in lines if line]


def bring_venv_module() -> None:
    """Make sure that Python can make an environment with pip in it; Debian packs that part apart."""
    if importlib.util.find_spec("ensurepip") and importlib.util.find_spec("venv"):
        return
    package = system.VENV_PACKAGE.format(version=f"{sys.version_info.major}.{sys.version_info.minor}")
    if not system.apt_install((package,), "Python's venv module"):
        raise SetupError(
            f"Python's venv module is missing here: {system.command('venv')}, then repeat the same command."
        )
    importlib.invalidate_caches()


def read(path: Path) -> str:
    """The text of a small file, empty when it is not there."""
    try:
        return path.read_text(encoding="utf-8").strip()
    except OSError:
        return ""


def write_whole(path: Path, text: str) -> None:
    """Write a small file so that it is never seen half written."""
    part = path.with_name(path.name + ".part")
    part.write_text(text + "\n", encoding="utf-8")
    os.replace(part, path)
