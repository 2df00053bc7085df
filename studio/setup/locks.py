"""Locks on files, held by the operating system and gone with the process, whatever ends it."""

import contextlib
import os
from collections.abc import Iterator
from pathlib import Path
from typing import IO

from studio.setup.folders import no_permission
from studio.setup.say import SetupError

LOCK_FILE = "running.lock"
# Windows locks bytes and then nobody else can read them, so the lock sits far behind the text.
FAR = 1 << 30

_held: dict[Path, IO[str]] = {}


if os.name == "nt":
    import msvcrt

    def try_lock(handle: IO) -> bool:
        """Lock an open file for this process; False when another holds it."""
        handle.seek(FAR)
        try:
            msvcrt.locking(handle.fileno(), msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        finally:
            handle.seek(0)
        return True

else:
    import fcntl

    def try_lock(handle: IO) -> bool:
        """Lock an open file for this process; False when another holds it."""
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True


@contextlib.contextmanager
def running(folder: Path, address: str) -> Iterator[None]:
    """Hold the data folder for one server at `address`. Raises SetupError where another server has it.

    Holding it again in the same process is no matter.
    """
    folder = folder.resolve()
    if folder in _held:
        yield
        return
    with _open(folder) as handle:
        if not try_lock(handle):
            raise SetupError(_in_use(folder, handle))
        handle.truncate(0)
        handle.write(address + "\n")
        handle.flush()
        _held[folder] = handle
        try:
            yield
        finally:
            del _held[folder]
            with contextlib.suppress(OSError):
                handle.truncate(0)


def refuse_if_running(folder: Path) -> None:
    """Raise SetupError where a running server has the data folder."""
    if folder.resolve() not in _held:
        with running(folder, ""):
            pass


def _open(folder: Path) -> IO[str]:
    try:
        return open(folder / LOCK_FILE, "a+", encoding="ascii")
    except OSError as error:
        raise no_permission(folder, error) from error


def _in_use(folder: Path, handle: IO[str]) -> str:
    handle.seek(0)
    address = handle.readline().strip()
    where = f" at {address}: open that address" if address else ": wait a moment for it"
    return f"A running Evenside already uses the data in {folder}{where}, or stop it with Ctrl-C first."
