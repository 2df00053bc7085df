"""The way into every manage.py command: from any Python into .venv, and there on to Django."""

import signal
import sys
from collections.abc import Callable

from studio.setup import pdf_engine, start, testing
from studio.setup.child import become
from studio.setup.environment import Environment
from studio.setup.say import guarded


def enter(argv: list[str], django: Callable[[], None], environment: Environment | None = None) -> int:
    """Run the manage.py command line `argv`: set up .venv, go on inside it, call `django` there.

    Returns the exit code. `start` and `test` bring more than the others: see those modules.
    """
    return guarded(lambda: _enter(argv, django, environment or Environment()))


def _enter(argv: list[str], django: Callable[[], None], environment: Environment) -> int | None:
    name = argv[1] if len(argv) > 1 else ""
    # Ended from outside, a half-done step still tidies up behind itself.
    ended = signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))
    if name == "start":
        start.prepare(argv[2:])
    environment.ensure("test" if name == "test" else "run")
    if not environment.inside():
        return become(environment.python, [str(environment.root / "manage.py"), *argv[1:]])
    if name == "test":
        return testing.run(environment, argv[2:])
    if name == "start":
        pdf_engine.ensure(environment)
    signal.signal(signal.SIGTERM, ended)
    return django()
