"""The first run for real, in a tiny copy with a fresh HOME and no network. The tests go on from each other."""

import json
import socket
import stat
import time

import pytest

from tests.setup.conftest import ctrl_c

pytestmark = pytest.mark.setup


@pytest.fixture(scope="module")
def silent_index():
    """An address that takes connections and never answers, as a bad network does."""
    with socket.create_server(("127.0.0.1", 0)) as server:
        yield f"http://127.0.0.1:{server.getsockname()[1]}/simple"


def free_port() -> str:
    with socket.create_server(("127.0.0.1", 0)) as server:
        return str(server.getsockname()[1])


def tale(done) -> dict:
    """What the package named Django saw."""
    assert done.returncode == 0, done.stderr
    (line,) = (line for line in done.stdout.splitlines() if line.startswith("TALE "))
    return json.loads(line.removeprefix("TALE "))


def test_ctrl_c_while_packages_are_fetched(project, silent_index):
    begun = project.begin("start", "--demo", "--port", free_port(), PIP_INDEX_URL=silent_index)
    log = project.root / ".venv" / "install.log"
    end = time.monotonic() + 60
    while not log.exists() and time.monotonic() < end:
        time.sleep(0.1)
    ctrl_c(begun)
    out, errors = begun.communicate(timeout=30)
    assert begun.returncode == 130
    assert errors == "Stopped. The same command goes on from here.\n"
    assert out.splitlines() == [
        "Making .venv, the folder for the packages",
        "Installing 1 package, about a minute the first time",
    ]
    assert not list((project.root / ".venv").glob("installed.*"))
    assert (project.root / ".venv" / "unfinished").exists()


def test_the_same_command_goes_on_from_a_folder_wheels(project):
    project.bring_wheels()
    (project.root / ".venv" / "left-over").touch()
    port = free_port()
    done = project.manage("start", "--demo", "--port", port)
    seen = tale(done)
    assert done.stdout.splitlines()[:2] == [
        "Making .venv, the folder for the packages",
        "Installing 1 package, about a minute the first time",
    ]
    assert not (project.root / ".venv" / "left-over").exists()
    assert seen["argv"] == ["start", "--demo", "--port", port]
    assert seen["prefix"] == str(project.root / ".venv")
    assert seen["PYTHONUTF8"] == "1"
    assert seen["EVENSIDE_PROFILE"] == "demo"
    data = project.home / ".local" / "share" / "evenside" / "demo"
    assert seen["EVENSIDE_DATA_DIR"] == str(data)
    assert stat.S_IMODE(data.stat().st_mode) == 0o700


def test_the_second_run_installs_nothing_and_any_command_enters(project):
    done = project.manage("showmigrations", "--plan")
    assert tale(done)["argv"] == ["showmigrations", "--plan"]
    assert done.stdout.count("\n") == 1


def test_a_changed_list_is_installed_in_place(project):
    (project.root / ".venv" / "left-over").touch()
    project.require("Django==1.0", "second==1.0")
    done = project.manage("check")
    assert tale(done)["argv"] == ["check"]
    assert done.stdout.splitlines()[0] == "Installing 2 packages"
    assert (project.root / ".venv" / "left-over").exists()
    assert list((project.root / ".venv").rglob("second.py"))


def test_no_network_and_no_wheels_is_one_sentence_and_breaks_nothing(project):
    project.require("Django==1.0", "second==1.0", "third==1.0")
    wheels = project.root / "wheels"
    wheels.rename(project.root / "put-away")
    refused = project.manage("start", "--port", free_port())
    assert refused.returncode == 1
    assert refused.stderr.count("\n") == 1
    assert refused.stderr.startswith(
        "The packages could not be fetched, as the package index does not answer:"
    )
    project.require("Django==1.0", "second==1.0")
    (project.root / "put-away").rename(wheels)
    assert tale(project.manage("check"))["argv"] == ["check"]


def test_wheels_that_lack_a_package_are_named(project):
    project.require("Django==1.0", "second==1.0", "third==1.0")
    refused = project.manage("check")
    assert refused.returncode == 1
    assert refused.stderr.startswith("The folder wheels/ holds no third==1.0 for this system")
    assert "-m pip download --only-binary :all: -d wheels -r requirements.txt'" in refused.stderr
