"""Whether PDF files can be made: what the child process answers, and what follows."""

import os
import sys
from types import SimpleNamespace

import pytest

from studio.setup import pdf_engine
from studio.setup.environment import Environment, write_whole

GOOD = {"made": True, "subset": True}
NO_SUBSET = {"made": True, "subset": False}
# As raised by cffi on a Debian without the library.
NO_PANGO = {
    "made": False,
    "library": True,
    "kind": "OSError",
    "text": "cannot load library 'libpango-1.0-0': libpango-1.0-0: cannot open shared object file",
}


@pytest.fixture
def environment(unset, tmp_path):
    """A project with an empty .venv on a Debian; EVENSIDE_NO_PDF is put back afterwards."""
    (tmp_path / "requirements.txt").write_text("weasyprint==70.0\n")
    made = Environment(tmp_path)
    made.folder.mkdir()
    unset.setenv(pdf_engine.VARIABLE, "")
    unset.setattr(pdf_engine.system, "family", lambda: "debian")
    return made


@pytest.fixture
def machine(monkeypatch):
    """Answers one after the other, and what was asked of apt-get; `apt` is whether that may be asked."""
    asked = SimpleNamespace(answers=[], apt=[], probes=0)

    def ask(environment):
        asked.probes += 1
        return asked.answers.pop(0)

    monkeypatch.setattr(pdf_engine, "ask", ask)
    monkeypatch.setattr(
        pdf_engine.system, "apt_install", lambda packages, what: asked.apt.append(packages) or True
    )
    monkeypatch.setattr(pdf_engine.system, "apt_prefix", list)
    return asked


def test_a_good_answer_is_remembered_until_the_packages_change(environment, machine):
    machine.answers = [GOOD, GOOD]
    assert [pdf_engine.ensure(environment) for _ in range(3)] == ["", "", ""]
    assert machine.probes == 1
    (environment.root / "requirements.txt").write_text("weasyprint==71.0\n")
    assert pdf_engine.ensure(environment) == ""
    assert machine.probes == 2


@pytest.mark.parametrize("first", [NO_PANGO, NO_SUBSET], ids=["no-pango", "no-subset"])
def test_libraries_are_brought_where_nobody_is_asked(environment, machine, first):
    machine.answers = [first, GOOD]
    assert pdf_engine.ensure(environment) == ""
    assert machine.apt == [("libpango-1.0-0", "libpangoft2-1.0-0", "libharfbuzz-subset0")]
    assert os.environ[pdf_engine.VARIABLE] == ""


def test_otherwise_the_browser_prints_and_the_page_knows_why(environment, machine, monkeypatch, capsys):
    monkeypatch.setattr(pdf_engine.system, "apt_prefix", lambda: None)
    machine.answers = [NO_PANGO]
    why = pdf_engine.ensure(environment)
    assert why == (
        "the library libpango-1.0-0 is missing; to have PDF files: "
        "sudo apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0, then start again"
    )
    assert os.environ[pdf_engine.VARIABLE] == why
    assert machine.apt == []
    assert f"Handouts will be printed by the browser: {why}" in capsys.readouterr().out


def test_apt_is_tried_once_and_the_engine_asked_each_time(environment, machine, monkeypatch):
    machine.answers = [NO_PANGO] * 4
    for _ in range(2):
        assert pdf_engine.ensure(environment)
        monkeypatch.setenv(pdf_engine.VARIABLE, "")
    assert len(machine.apt) == 1
    assert machine.probes == 3


def test_a_reason_that_is_already_known_is_not_asked_again(environment, machine, monkeypatch):
    monkeypatch.setenv(pdf_engine.VARIABLE, "known")
    assert pdf_engine.ensure(environment) == "known"
    assert machine.probes == 0


@pytest.mark.parametrize(
    ("fake", "expected"),
    [
        pytest.param(
            "raise OSError(\"cannot load library 'x'\")", "the library x is missing; to have", id="library"
        ),
        pytest.param(
            "import time; time.sleep(30)", "the PDF engine gave no answer within 1 seconds", id="hangs"
        ),
        pytest.param("import os; os._exit(3)", "the PDF engine ended with code 3", id="ends"),
        pytest.param(
            "import no_such_thing", "a package is missing (No module named 'no_such_thing')", id="package"
        ),
        pytest.param("raise ValueError('odd')", "the PDF engine failed (odd)", id="fails"),
    ],
)
def test_a_child_process_is_asked(environment, monkeypatch, fake, expected):
    """The real child process, in which WeasyPrint does as `fake` says."""
    script = pdf_engine.PROBE.replace("from weasyprint import HTML", fake)
    monkeypatch.setattr(pdf_engine, "PROBE", script)
    monkeypatch.setattr(Environment, "python", property(lambda self: sys.executable))
    answer = pdf_engine.ask(environment, seconds=1 if "sleep" in fake else 30)
    assert answer["made"] is False
    assert pdf_engine.words(answer).startswith(expected)


def test_the_real_engine_answers(environment, monkeypatch):
    """This machine makes PDF files: `manage.py test` has brought what that needs."""
    monkeypatch.setattr(Environment, "python", property(lambda self: sys.executable))
    assert pdf_engine.ask(environment)["made"] is True


def test_a_mac_looks_where_homebrew_keeps_its_libraries(unset):
    unset.setattr(pdf_engine.sys, "platform", "darwin")
    unset.setenv("DYLD_FALLBACK_LIBRARY_PATH", "")
    unset.delenv("DYLD_FALLBACK_LIBRARY_PATH")
    pdf_engine.let_homebrew_be_found()
    assert os.environ["DYLD_FALLBACK_LIBRARY_PATH"].startswith("/opt/homebrew/lib")


def test_stamps_are_written_whole(tmp_path):
    write_whole(tmp_path / "stamp", "one")
    write_whole(tmp_path / "stamp", "two")
    assert [path.name for path in tmp_path.iterdir()] == ["stamp"]
    assert (tmp_path / "stamp").read_text() == "two\n"
