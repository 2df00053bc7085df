"""Running another Python in this one's place."""

import contextlib
import os
import signal
import subprocess
import sys
from collections.abc import Sequence


def become(python: os.PathLike, arguments: Sequence[str]) -> int:
    """Go on as `python` with `arguments`. Does not return, except on Windows: there with the exit code.

    On Windows an exec would give the prompt back while the program still runs.
    """
    os.environ.setdefault("PYTHONUTF8", "1")
    args = [os.fspath(python), *arguments]
    if os.name == "nt":
        return run_to_the_end(subprocess.Popen(args))
    sys.stdout.flush()
    sys.stderr.flush()
    return os.execv(args[0], args)


def run_to_the_end(process: subprocess.Popen) -> int:
    """Wait for a child and return its exit code; a signal killed it: 128 and the number, as shells say it.

    Ctrl-C reaches the child by itself, so it decides how to end; SIGTERM is handed on.
    """
    before = signal.signal(signal.SIGTERM, lambda *_: process.terminate())
    try:
        while True:
            with contextlib.suppress(KeyboardInterrupt):
                code = process.wait()
                return code if code >= 0 else 128 - code
    finally:
        signal.signal(signal.SIGTERM, before)
