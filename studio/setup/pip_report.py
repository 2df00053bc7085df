"""pip's output as one sentence for a person. Plain text in, sentence out."""

import re

NO_NETWORK = (
    "failed to establish a new connection",
    "temporary failure in name resolution",
    "name or service not known",
    "getaddrinfo failed",
    "nodename nor servname",
    "network is unreachable",
    "connection refused",
    "connection reset",
    "connection to",  # "Connection to pypi.org timed out", "… broken by …"
    "connecttimeouterror",
    "newconnectionerror",
    "readtimeouterror",
    "read timed out",
    "proxyerror",
)
NEWEST_TRIED = (3, 14)


def explain(output: str, *, wheels: bool, python: tuple[int, int], again: str) -> str:
    """Say what went wrong in a pip run and how to go on.

    `output`: pip's lines; `wheels`: whether the folder wheels/ was the only source; `python`: version in
    use; `again`: the command that makes the folder wheels/ anew.
    """
    low = output.lower()
    wanted = re.search(r"no matching distribution found for (\S+)", low)
    if "no space left on device" in low:
        return "The disk is full: make some room (about 500 MB), then repeat the same command."
    if wheels and wanted:
        return (
            f"The folder wheels/ holds no {wanted[1]} for this system and Python {_dotted(python)}: "
            f"make it anew with '{again}' on a machine of the same kind, "
            "or move it away to install from the network."
        )
    if any(sign in low for sign in NO_NETWORK):
        return (
            "The packages could not be fetched, as the package index does not answer: connect this machine "
            "to the internet and repeat the same command, or bring a folder wheels/ "
            "(README, 'Without a network')."
        )
    if wanted and python > NEWEST_TRIED:
        return (
            f"There is no {wanted[1]} for Python {_dotted(python)} yet: "
            f"start with Python 3.11 to {_dotted(NEWEST_TRIED)} instead."
        )
    if wanted:
        return (
            f"The package index has no {wanted[1]} for this system and Python {_dotted(python)}: "
            "start with another Python from 3.11 on, or on a 64-bit system."
        )
    errors = [line.partition(":")[2].strip() for line in output.splitlines() if line.startswith("ERROR:")]
    told = errors[-1] if errors else "it gave no reason"
    return f"The packages could not be installed ({told}): repeat the same command, or read {{log}}."


def _dotted(version: tuple[int, int]) -> str:
    return f"{version[0]}.{version[1]}"
