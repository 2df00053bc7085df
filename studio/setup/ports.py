"""Ports on this machine, and what the machine is called on its network."""

import contextlib
import errno
import ipaddress
import os
import re
import socket

from studio.setup.say import SetupError, reason

HOST = "127.0.0.1"
LOOPBACK_NAMES = (HOST, "localhost", "[::1]")
EVERY_ADDRESS = "0.0.0.0"
DEFAULT = 8000
TAKEN = {errno.EADDRINUSE, 10048}
FORBIDDEN = {errno.EACCES, errno.EPERM, 10013}


def address(port: int) -> str:
    """What to type into the browser."""
    return f"http://{HOST}:{port}"


def problem(port: int, host: str = HOST) -> OSError | None:
    """Why nothing can be served on `port` of `host` now, or None."""
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
            probe.bind((host, port))
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


def host_names() -> list[str]:
    """Return the names other devices may know this machine by: its own under .local (RFC 6762), and bare."""
    label = socket.gethostname().partition(".")[0].lower()
    if label == "localhost" or not re.fullmatch(r"[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?", label):
        return []
    return [f"{label}.local", label]


def own_addresses() -> list[str]:
    """Return this machine's addresses on local networks, the likeliest first. Nothing is sent to find them."""
    found = [_towards(target) for target in ("192.168.0.1", "10.0.0.1", "172.16.0.1")]
    # Where the machine's name leads nowhere, the addresses from above remain.
    with contextlib.suppress(OSError):
        found += socket.gethostbyname_ex(socket.gethostname())[2]
    return [each for each in dict.fromkeys(found) if each and is_usable(each)]


def is_usable(address: str) -> bool:
    """Whether other devices can be given this IPv4 address."""
    try:
        found = ipaddress.IPv4Address(address)
    except ValueError:
        return False
    return not (found.is_loopback or found.is_unspecified or found.is_multicast or int(found) == 2**32 - 1)


def _towards(target: str) -> str:
    """The address from which this machine would speak to `target`; connecting a datagram socket sends nothing."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect((target, 9))
        except OSError:
            return ""
        return probe.getsockname()[0]
