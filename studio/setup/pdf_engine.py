"""Whether this machine can make PDF files. A child process is asked, as a broken library may end it."""

import json
import os
import re
import subprocess
import sys

from studio.setup import system
from studio.setup.environment import Environment, read, write_whole
from studio.setup.say import say

VARIABLE = "EVENSIDE_NO_PDF"
SECONDS = 60
PROBE = """
import json, warnings
warnings.simplefilter("ignore")
try:
    from weasyprint import HTML
    from weasyprint.text.ffi import harfbuzz_subset
    made = HTML(string="<html lang=en><title>Probe</title><p>Probe").write_pdf()
    answer = {"made": made.startswith(b"%PDF-"), "subset": harfbuzz_subset is not None}
except Exception as error:
    answer = {"made": False, "library": isinstance(error, OSError)}
    answer |= {"kind": type(error).__name__, "text": str(error).partition("\\n")[0]}
print(json.dumps(answer))
"""
HOMEBREW = "/opt/homebrew/lib:/usr/local/lib"


def ensure(environment: Environment) -> str:
    """Find out whether handouts can be made as PDF, and bring the libraries where that needs no question.

    Returns the reason why not, or '' when they can; a reason also goes into EVENSIDE_NO_PDF, which the
    pages read. A good answer is remembered in .venv until its packages change.
    """
    if os.environ.get(VARIABLE):
        return os.environ[VARIABLE]
    let_homebrew_be_found()
    stamp = environment.folder / "pdf-engine"
    now = environment.fingerprint("run")
    if read(stamp) == now:
        return ""
    say("Checking that handouts can be made as PDF")
    answer = ask(environment)
    if lacks_a_library(answer) and _may_try(environment, now):
        libraries = system.PDF_LIBRARIES[system.family()]
        if system.apt_install(libraries, "the PDF engine's libraries"):
            answer = ask(environment)
    if answer.get("made"):
        write_whole(stamp, now)
        return ""
    why = words(answer)
    say(f"Handouts will be printed by the browser: {why}")
    os.environ[VARIABLE] = why
    return why


def ask(environment: Environment, seconds: float = SECONDS) -> dict:
    """Make a tiny PDF in a child process.

    The answer has `made` (bool); then `subset` (bool), or `kind` and `text`, and `library` (bool) where a
    system library would not load.
    """
    try:
        done = subprocess.run(
            [environment.python, "-I", "-c", PROBE],
            capture_output=True,
            text=True,
            errors="replace",
            timeout=seconds,
            stdin=subprocess.DEVNULL,
        )
    except subprocess.TimeoutExpired:
        return {"made": False, "kind": "timeout", "text": f"{seconds:.0f} seconds"}
    lines = done.stdout.strip().splitlines()
    try:
        return json.loads(lines[-1])
    except (IndexError, ValueError):
        return {"made": False, "kind": "crash", "text": str(done.returncode)}


def lacks_a_library(answer: dict) -> bool:
    """Whether a system library would help: one that does not load, or the one that keeps files small."""
    return bool(answer.get("library")) or (bool(answer.get("made")) and not answer.get("subset"))


def words(answer: dict) -> str:
    """The reason in words, with the way on, for the console and the page."""
    if answer.get("library"):
        named = re.search(r"library '([^']+)'", answer.get("text", ""))
        missing = f"the library {named[1]} is missing" if named else "a library is missing"
        return f"{missing}; to have PDF files: {system.command('pdf')}, then start again"
    if answer.get("kind") == "timeout":
        return f"the PDF engine gave no answer within {answer['text']}"
    if answer.get("kind") == "crash":
        return f"the PDF engine ended with code {answer['text']}"
    if answer.get("kind") == "ModuleNotFoundError":
        return f"a package is missing ({answer['text']})"
    return f"the PDF engine failed ({answer.get('text') or 'no reason given'})"


def let_homebrew_be_found() -> None:
    """On a Mac, let Python find the libraries that Homebrew keeps in a folder of its own."""
    if sys.platform == "darwin":
        os.environ.setdefault("DYLD_FALLBACK_LIBRARY_PATH", HOMEBREW)


def _may_try(environment: Environment, now: str) -> bool:
    """Let apt-get try once for each state of .venv, not at every start."""
    tried = environment.folder / "pdf-engine.tried"
    if system.apt_prefix() is None or read(tried) == now:
        return False
    write_whole(tried, now)
    return True
