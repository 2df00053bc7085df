"""`manage.py test`: pytest with what it needs."""

import os

from studio.setup import browser, pdf_engine
from studio.setup.child import become
from studio.setup.environment import Environment


def run(environment: Environment, arguments: list[str]) -> int:
    """Go on as pytest with `arguments`, in the project folder; its exit code is this one's."""
    pdf_engine.ensure(environment)
    browser.ensure(environment)
    os.chdir(environment.root)
    # Read afresh, the tests alone take every process of a run several seconds; kept bytecode is what they need.
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    return become(environment.python, ["-m", "pytest", *_spread(arguments), *arguments])


def _spread(arguments: list[str]) -> list[str]:
    """Use every core for a run of many tests; one process where the arguments name a test file or a debugger."""
    alone = any(each.startswith(("-n", "--pdb", "--numprocesses")) or ".py" in each for each in arguments)
    # tests/conftest.py puts the long files first; the plugin would put those with many tests first.
    return [] if alone else ["-n", "auto", "--dist", "loadfile", "--no-loadscope-reorder"]
