"""The port on this machine's own address."""

import errno
import os
import socket

from studio.setup.say import SetupError, reason

HOST = "127.0.0.1"
DEFAULT = 8000
TAKEN = {errno.EADDRINUSE, 10048}
FORBIDDEN = {errno.EACCES, errno.EPERM, 10013}


def address(port: int) -> str:
    """What to type into the browser."""
    return f"http://{HOST}:{port}"


def problem(port: int) -> OSError | None:
    """Why nothing can be served on `port` now, or None."""
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as probe:
        probe.settimeout(1)
        # Some systems let two programs bind the same port, so ask first whether somebody answers.
        if probe.connect_ex((HOST, port)) == 0:
            return OSError(errno.EADDRINUSE, os.strerror(errno.EADDRINUSE))
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as probe:
        if os.name == "posix":
            # A port that was just given up counts as free, as it does for the server itself.
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((HOST, port))
        except OSError as error:
            return error
    return None


def sentence(port: int, error: OSError, again: str) -> str:
    """Say why `port` cannot be used; `again` is the command to which --port is added."""
    candidates = (
        [*range(port + 1, min(port + 100, 65536)), DEFAULT] if port >= 1024 else [DEFAULT, DEFAULT + 1]
    )
    other = next((each for each in candidates if not problem(each)), DEFAULT + 80)
    if error.errno in TAKEN:
        why = f"Port {port} is taken by another program"
    elif error.errno in FORBIDDEN:
        why = f"Port {port} is not open to you on this machine"
    else:
        why = f"Port {port} cannot be used ({reason(error)})"
    return f"{why}: start on another one with {again} --port {other}"


def refuse_if_taken(port: int, again: str) -> None:
    """Raise SetupError where nothing can be served on `port`."""
    error = problem(port)
    if error:
        raise SetupError(sentence(port, error, again))
