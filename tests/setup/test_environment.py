"""When .venv is taken as it is, brought up to date, or made anew. The real thing is in test_first_run.py."""

import os
import sys
import threading
import venv

import pytest

from studio.setup import environment as environments
from studio.setup import locks
from studio.setup.environment import Environment, pip_arguments, requirements
from studio.setup.say import SetupError


@pytest.fixture
def made(tmp_path):
    """A project whose .venv has a Python, without pip, and both stamps."""
    (tmp_path / "tests").mkdir()
    (tmp_path / "requirements.txt").write_text("Django==5.2.19  # why\n")
    (tmp_path / "tests" / "requirements.txt").write_text("pytest==9.2.0\n")
    environment = Environment(tmp_path)
    environment.python.parent.mkdir(parents=True)
    os.symlink(sys.executable, environment.python)
    for group in environments.LISTS:
        environments.write_whole(environment.stamp(group), environment.fingerprint(group))
    return environment


def test_a_complete_set_up_is_taken_as_it_is(made, monkeypatch):
    monkeypatch.setattr(made, "_install", lambda group: pytest.fail("installed again"))
    for group in ("run", "test"):
        assert made.ready(group)
        made.ensure(group)


@pytest.mark.parametrize(
    ("name", "run", "test"),
    [
        pytest.param("requirements.txt", False, False, id="what-runs"),
        pytest.param("tests/requirements.txt", True, False, id="what-tests"),
    ],
)
def test_a_changed_list_is_noticed(made, name, run, test):
    (made.root / name).write_text("Django==5.2.20\n")
    assert (made.ready("run"), made.ready("test")) == (run, test)


def test_other_line_ends_are_no_change(made):
    (made.root / "requirements.txt").write_bytes(b"Django==5.2.19  # why\r\n")
    assert made.ready("run")


@pytest.mark.parametrize("what", ["stamp", "marker", "python", "version"])
def test_what_is_not_complete_is_not_ready(made, monkeypatch, what):
    if what == "stamp":
        made.stamp("run").unlink()
    elif what == "marker":
        made.unfinished.touch()
    elif what == "python":
        made.python.unlink()
    else:
        monkeypatch.setattr(environments.sys, "version", "3.12.1 (other)")
    assert not made.ready("run")


@pytest.mark.parametrize(
    ("state", "usable"),
    [
        pytest.param("whole", True, id="whole"),
        pytest.param("marker", False, id="interrupted"),
        pytest.param("broken", False, id="python-gone"),
        pytest.param("no-pip", False, id="half-made-without-pip"),
        pytest.param("other", False, id="another-python"),
    ],
)
def test_only_a_whole_environment_is_brought_up_to_date(made, monkeypatch, state, usable):
    made.python.unlink()
    if state != "broken":
        venv.EnvBuilder(with_pip=False, symlinks=True).create(made.folder)
    if state not in ("broken", "no-pip"):
        packages = (
            made.folder / "lib" / f"python{sys.version_info[0]}.{sys.version_info[1]}" / "site-packages"
        )
        (packages / "pip.py").write_text("")
    if state == "marker":
        made.unfinished.touch()
    if state == "other":
        monkeypatch.setattr(environments.sys, "version", "3.12.1 (other)")
    assert made.usable() is usable


def test_a_project_folder_that_cannot_be_written_is_one_sentence(made, monkeypatch):
    made.stamp("run").unlink()

    def refuse(group):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(made, "usable", lambda: True)
    monkeypatch.setattr(made, "_install", refuse)
    with pytest.raises(
        SetupError, match="cannot be written .permission denied.: .* copy Evenside into a folder"
    ):
        made.ensure("run")


def test_two_set_ups_of_one_folder_take_turns(made, monkeypatch, capsys):
    made.stamp("run").unlink()
    done = []
    monkeypatch.setattr(made, "usable", lambda: True)
    monkeypatch.setattr(made, "_install", done.append)
    with open(made.root / "requirements.txt", "rb") as other:
        assert locks.try_lock(other)
        waiting = threading.Thread(target=made.ensure, args=("run",))
        waiting.start()
        waiting.join(0.8)
        assert waiting.is_alive() and done == []
        environments.write_whole(made.stamp("run"), made.fingerprint("run"))
    waiting.join(10)
    assert not waiting.is_alive()
    assert done == [], "the other one had already done it"
    assert "waiting for its end" in capsys.readouterr().out


def test_pip_is_asked_no_question_and_builds_nothing(unset, tmp_path):
    assert pip_arguments(tmp_path) == [
        *("install", "--no-input", "--only-binary", ":all:", "--disable-pip-version-check"),
        *("--progress-bar", "off", "--retries", "1", "--timeout", "20"),
    ]


def test_pip_keeps_the_patience_that_somebody_has_set(unset, tmp_path):
    unset.setenv("PIP_DEFAULT_TIMEOUT", "180")
    assert "--timeout" not in pip_arguments(tmp_path)


def test_pip_stays_with_the_folder_wheels(unset, tmp_path):
    (tmp_path / "wheels").mkdir()
    assert pip_arguments(tmp_path)[-3:] == ["--no-index", "--find-links", str(tmp_path / "wheels")]


def test_requirements_are_the_lines_that_name_a_package(tmp_path):
    file = tmp_path / "requirements.txt"
    file.write_text("# why\n\nDjango==5.2.19  # the framework\n  numpy==2.4.6\n")
    assert requirements(file) == ["Django==5.2.19", "numpy==2.4.6"]


@pytest.mark.parametrize(("apt", "refused"), [(True, False), (False, True)])
def test_a_missing_venv_module_is_brought_or_named(monkeypatch, apt, refused):
    asked = []
    monkeypatch.setattr(environments.importlib.util, "find_spec", lambda name: None)
    monkeypatch.setattr(
        environments.system, "apt_install", lambda packages, what: asked.append(packages) or apt
    )
    monkeypatch.setattr(environments.system, "family", lambda: "debian")
    package = f"python{sys.version_info[0]}.{sys.version_info[1]}-venv"
    if refused:
        with pytest.raises(SetupError, match=f"sudo apt-get install {package}, then repeat the same command"):
            environments.bring_venv_module()
    else:
        environments.bring_venv_module()
    assert asked == [(package,)]
