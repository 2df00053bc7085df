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
    return become(environment.python, ["-m", "pytest", *arguments])
