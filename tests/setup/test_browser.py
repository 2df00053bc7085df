"""Which browser the tests drive, and the sentence where there is none."""

import os

import pytest

from studio.setup import browser, testing
from studio.setup.environment import Environment


def script(folder, name, body):
    """An executable shell script that stands for a browser."""
    path = folder / name
    path.write_text(f"#!/bin/sh\n{body}\n")
    path.chmod(0o755)
    return str(path)


DRIVER = '[ "$3" = --version ]'


@pytest.fixture
def bare(unset, tmp_path):
    """No browser: PATH is one folder, apt-get may not be asked, the driver starts and fetches nothing."""
    folder = tmp_path / "bin"
    folder.mkdir()
    unset.setenv("PATH", str(folder))
    unset.setenv(browser.VARIABLE, "")
    unset.setenv(browser.MISSING, "")
    unset.setattr(browser.system, "family", lambda: "debian")
    unset.setattr(browser.system, "apt_prefix", lambda: None)
    unset.setattr(Environment, "python", property(lambda self: script(tmp_path, "python", DRIVER)))
    return folder


@pytest.mark.parametrize(
    "name", ["chromium", "chromium-browser", "google-chrome", "microsoft-edge", "msedge"]
)
def test_an_installed_browser_is_taken(bare, tmp_path, name):
    path = script(bare, name, "echo Browser 156.0")
    assert browser.ensure(Environment(tmp_path)) == path
    assert os.environ[browser.VARIABLE] == path
    assert browser.MISSING not in os.environ


def test_chromium_goes_before_the_others(bare):
    script(bare, "google-chrome", "echo 1")
    chromium = script(bare, "chromium", "echo 2")
    assert browser.installed() == chromium


@pytest.mark.parametrize(
    "body",
    [
        pytest.param("echo 'requires the chromium snap to be installed' >&2; exit 10", id="ubuntu-pointer"),
        pytest.param("echo no version here", id="no-number"),
    ],
)
def test_a_script_that_is_no_browser_is_passed_over(bare, body):
    script(bare, "chromium-browser", body)
    assert browser.installed() == ""


def test_a_named_browser_goes_first(bare, tmp_path, monkeypatch):
    script(bare, "chromium", "echo 1")
    named = script(tmp_path, "own", "echo 2")
    monkeypatch.setenv(browser.VARIABLE, named)
    assert browser.ensure(Environment(tmp_path)) == named


def test_apt_brings_one_on_debian(bare, tmp_path, monkeypatch):
    monkeypatch.setattr(
        browser.system, "apt_install", lambda packages, what: bool(script(bare, packages[0], "echo 156"))
    )
    assert browser.ensure(Environment(tmp_path)) == str(bare / "chromium")


def test_the_driver_fetches_one_where_apt_cannot(bare, tmp_path, monkeypatch):
    fetched = script(tmp_path, "fetched", "echo 156")
    driver = script(tmp_path, "driver", f'[ "$1" = -m ] && echo "$@" >> {tmp_path}/asked || echo {fetched}')
    monkeypatch.setattr(browser.system, "family", lambda: "ubuntu")
    monkeypatch.setattr(browser.system, "apt_prefix", list)
    monkeypatch.setattr(Environment, "python", property(lambda self: driver))
    assert browser.ensure(Environment(tmp_path)) == fetched
    assert (tmp_path / "asked").read_text().splitlines() == [
        "-m playwright --version",
        "-m playwright install --with-deps chromium",
    ]


@pytest.mark.parametrize("apt", [True, False])
def test_a_driver_that_lacks_its_library(bare, tmp_path, monkeypatch, apt):
    """Seen on a bare Debian 12: 'error while loading shared libraries: libatomic.so.1'."""
    chromium = script(bare, "chromium", "echo 156")
    driver = script(tmp_path, "driver", f"[ -e {tmp_path}/libatomic1 ]")

    def install(packages, what):
        if apt:
            (tmp_path / packages[0]).touch()
        return apt

    monkeypatch.setattr(browser.system, "apt_install", install)
    monkeypatch.setattr(Environment, "python", property(lambda self: driver))
    assert browser.ensure(Environment(tmp_path)) == (chromium if apt else "")
    if not apt:
        assert os.environ[browser.MISSING] == (
            "The driver of the browser tests does not start here: sudo apt-get install libatomic1."
        )
        assert browser.VARIABLE not in os.environ


def test_without_any_the_sentence_is_handed_on(bare, tmp_path, capsys):
    assert browser.ensure(Environment(tmp_path)) == ""
    assert browser.VARIABLE not in os.environ
    assert os.environ[browser.MISSING] == (
        "No browser could be found or fetched for the browser tests: sudo apt-get install chromium, "
        "or name a Chromium, Chrome or Edge in EVENSIDE_BROWSER."
    )
    assert os.environ[browser.MISSING] in capsys.readouterr().out


def test_arguments_pass_through_to_pytest(monkeypatch, tmp_path):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(testing.pdf_engine, "ensure", lambda environment: "")
    monkeypatch.setattr(testing.browser, "ensure", lambda environment: "")
    monkeypatch.setattr(testing, "become", lambda python, arguments: arguments)
    monkeypatch.setenv("PYTHONDONTWRITEBYTECODE", "1")
    environment = Environment(tmp_path)
    spread = ["-m", "pytest", "-n", "auto", "--dist", "loadfile", "--no-loadscope-reorder"]
    assert testing.run(environment, ["-q", "-k", "a b"]) == [*spread, "-q", "-k", "a b"]
    one = ["tests/setup/test_browser.py", "-q"]
    assert testing.run(environment, one) == ["-m", "pytest", *one]
    assert testing.run(environment, ["--pdb"]) == ["-m", "pytest", "--pdb"]
    assert "PYTHONDONTWRITEBYTECODE" not in os.environ
