"""What set-up says on the console: one line a step, and one plain sentence when it cannot go on."""

import sys
from collections.abc import Callable


class SetupError(Exception):
    """A sentence for the person at the console: what is wrong and how to go on. Ends with exit code 1."""


def say(line: str) -> None:
    """Print one line at once, also when the output is piped into a file."""
    print(line, flush=True)


def guarded(work: Callable[[], int | None]) -> int:
    """Run `work` and return its exit code; a SetupError becomes its sentence and 1, Ctrl-C a line and 130.

    A file that may not be used, as after a run as another person, is a sentence too.
    """
    for stream in (sys.stdout, sys.stderr):
        # A console that cannot show a letter shows '?' for it.
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    try:
        return work() or 0
    except SetupError as error:
        print(error, file=sys.stderr, flush=True)
        return 1
    except PermissionError as error:
        print(no_right(error), file=sys.stderr, flush=True)
        return 1
    except KeyboardInterrupt:
        print("Stopped. The same command goes on from here.", file=sys.stderr, flush=True)
        return 130


def no_right(error: PermissionError) -> str:
    """The sentence for a file or folder that this person may not use."""
    return f"{error.filename} cannot be used ({reason(error)}): give yourself the right to it, then repeat."


def reason(error: OSError) -> str:
    """The operating system's own words for an error, as they fit inside a sentence."""
    return (error.strerror or str(error)).lower()
