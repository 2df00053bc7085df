#!/usr/bin/env python3
"""Evenside's one command: `start`, `test`, and everything that Django offers.

Run it with any Python from 3.11 on; it makes .venv beside itself and goes on in there. The set-up
lies in studio/setup/. Until .venv exists only the standard library is used, and this file keeps to words
that an older Python understands as well, so that it can say which one is needed.
"""

import os
import sys

OLDEST = (3, 11)
TOO_OLD = (
    "Evenside needs Python 3.11 or newer and this is Python {0}.{1}: install a newer one from python.org "
    "or with your system's package manager, then start with it, for example: {2} manage.py {3}"
)


def django():
    """Hand the command line to Django; only inside .venv."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "studio.settings")
    from django.core.management import execute_from_command_line

    execute_from_command_line(sys.argv)


def main():
    """Refuse an old Python, then go the way of studio/setup/entry.py. Returns the exit code."""
    if sys.version_info < OLDEST:
        found = sys.version_info
        python = "py -3.12" if sys.platform == "win32" else "python3.12"
        words = " ".join(sys.argv[1:]) or "start"
        sys.stderr.write(TOO_OLD.format(found[0], found[1], python, words) + "\n")
        return 1
    from studio.setup.entry import enter

    return enter(sys.argv, django)


if __name__ == "__main__":
    sys.exit(main())
