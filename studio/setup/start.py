"""`manage.py start`: what is looked at before anything is installed, so that nobody waits for a refusal."""

import argparse
import os
from pathlib import Path

from studio.setup import locks, ports, system
from studio.setup.folders import claim, data_folder


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of `start`, the same before and inside .venv."""
    parser.add_argument("--demo", action="store_true", help="an invented studio, in a folder of its own")
    parser.add_argument("--port", type=port_number, default=ports.DEFAULT, help="default: %(default)s")


def port_number(text: str) -> int:
    """A port from 1 to 65535."""
    if not text.isascii() or not text.isdigit() or not 1 <= int(text) <= 65535:
        raise argparse.ArgumentTypeError(f"give a number from 1 to 65535, not {text!r}")
    return int(text)


def prepare(arguments: list[str]) -> None:
    """Choose and make the data folder and look at lock and port. Raises SetupError with the way on.

    Sets EVENSIDE_PROFILE and EVENSIDE_DATA_DIR (absolute), which the settings read.
    """
    parser = argparse.ArgumentParser(prog="manage.py start", description="Set up what is missing and serve.")
    add_arguments(parser)
    options = parser.parse_args(arguments)
    profile = "demo" if options.demo else "studio"
    folder = Path(os.environ.get("EVENSIDE_DATA_DIR") or data_folder(profile)).absolute()
    claim(folder, profile)
    locks.refuse_if_running(folder)
    ports.refuse_if_taken(options.port, command(profile))
    os.environ["EVENSIDE_PROFILE"] = profile
    os.environ["EVENSIDE_DATA_DIR"] = str(folder)


def command(profile: str) -> str:
    """How this system's people start that profile."""
    return f"{system.python_word()} manage.py start{' --demo' if profile == 'demo' else ''}"
