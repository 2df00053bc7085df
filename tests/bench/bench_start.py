"""How long a newcomer waits: `python -m tests.bench.bench_start`. Exit code 1 when a figure misses its target.

Clones the committed state into a temporary folder with a HOME of its own and runs the README's first command
as it stands: once from nothing (with whatever the package index and its cache give), once again.
"""

import os
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PORT = 8043
FIRST, SECOND = 180.0, 3.0


def first_page(folder: Path, home: Path) -> float:
    """Start the demo and return the seconds to the first page; ends the server again."""
    environment = {"PATH": os.environ["PATH"], "HOME": str(home), "LANG": "C.UTF-8"}
    began = time.monotonic()
    command = [_system_python(), "manage.py", "start", "--demo", "--port", str(PORT)]
    server = subprocess.Popen(command, cwd=folder, env=environment)
    try:
        while True:
            try:
                with urllib.request.urlopen(f"http://127.0.0.1:{PORT}/", timeout=5) as answer:
                    answer.read()
                return time.monotonic() - began
            except (urllib.error.URLError, ConnectionError):
                if server.poll() is not None:
                    sys.exit(f"the start ended with code {server.returncode}")
                time.sleep(0.05)
    finally:
        server.terminate()
        server.wait(20)


def _system_python() -> str:
    """Return the Python that made this environment: a newcomer has no .venv."""
    return getattr(sys, "_base_executable", None) or "python3"


def main() -> None:
    with tempfile.TemporaryDirectory(prefix="evenside-bench-") as scratch:
        folder, home = Path(scratch, "clone"), Path(scratch, "home")
        home.mkdir()
        subprocess.run(["git", "clone", "-q", str(ROOT), str(folder)], check=True)
        missed = False
        for name, target in (("bare machine to first page", FIRST), ("second start to first page", SECOND)):
            seconds = first_page(folder, home)
            missed |= seconds > target
            print(f"{name}: {seconds:.1f} s (target {target:.0f} s){'  MISSED' if seconds > target else ''}")
    sys.exit(1 if missed else 0)


if __name__ == "__main__":
    main()
