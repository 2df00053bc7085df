"""What `start` looks at before anything is installed: arguments, data folder, lock, port."""

import argparse
import os
import socket
import subprocess
import sys

import pytest

from studio.setup import locks, ports, start
from studio.setup.say import SetupError, guarded
from tests.setup.conftest import ROOT


@pytest.fixture
def listening():
    """A port that another program has."""
    with socket.create_server(("127.0.0.1", 0)) as server:
        yield server.getsockname()[1]


@pytest.fixture
def free():
    with socket.create_server(("127.0.0.1", 0)) as server:
        return server.getsockname()[1]


@pytest.fixture
def data(unset, tmp_path):
    unset.setenv("EVENSIDE_DATA_DIR", str(tmp_path / "data"))
    unset.delenv("EVENSIDE_PROFILE", raising=False)
    return tmp_path / "data"


@pytest.mark.parametrize(("arguments", "profile"), [([], "studio"), (["--demo"], "demo")])
def test_prepare_chooses_the_profile(data, free, arguments, profile):
    start.prepare([*arguments, "--port", str(free)])
    assert os.environ["EVENSIDE_PROFILE"] == profile
    assert os.environ["EVENSIDE_DATA_DIR"] == str(data)
    assert data.is_dir()


def test_a_relative_data_folder_is_made_absolute(unset, tmp_path, free):
    unset.chdir(tmp_path)
    unset.setenv("EVENSIDE_DATA_DIR", "here")
    start.prepare(["--port", str(free)])
    assert os.environ["EVENSIDE_DATA_DIR"] == str(tmp_path / "here")


@pytest.mark.parametrize(
    ("text", "port"),
    [
        ("1", 1),
        ("8000", 8000),
        ("65535", 65535),
        ("0", None),
        ("65536", None),
        ("-1", None),
        ("x", None),
        ("٣", None),
    ],
)
def test_port_number(text, port):
    if port:
        assert start.port_number(text) == port
    else:
        with pytest.raises(argparse.ArgumentTypeError, match="from 1 to 65535"):
            start.port_number(text)


def test_a_taken_port_names_another_one(data, listening):
    with pytest.raises(SetupError) as caught:
        start.prepare(["--demo", "--port", str(listening)])
    words = str(caught.value)
    assert words.startswith(f"Port {listening} is taken by another program: start on another one with ")
    command, _, other = words.partition(" --port ")
    assert command.endswith("manage.py start --demo")
    assert ports.problem(int(other)) is None


def test_a_bound_port_that_does_not_listen_is_taken_too():
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        assert ports.problem(other.getsockname()[1]).errno in ports.TAKEN


def test_a_forbidden_port_says_so():
    assert ports.sentence(80, PermissionError(13, "x"), "START").startswith("Port 80 is not open to you")


def test_data_in_use_name_the_running_server(data, free):
    start.prepare(["--port", str(free)])
    holder = subprocess.Popen(
        [sys.executable, "-c", HOLD, str(data)],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stdin=subprocess.PIPE,
        text=True,
    )
    try:
        assert holder.stdout.readline() == "held\n"
        with pytest.raises(SetupError) as caught:
            start.prepare(["--port", str(free)])
    finally:
        holder.communicate("\n", timeout=10)
    assert str(caught.value) == (
        f"A running Evenside already uses the data in {data} at http://127.0.0.1:8000: "
        "open that address, or stop it with Ctrl-C first."
    )
    start.prepare(["--port", str(free)])


HOLD = """
import sys
from pathlib import Path
from studio.setup import locks
with locks.running(Path(sys.argv[1]), "http://127.0.0.1:8000"):
    print("held", flush=True)
    sys.stdin.readline()
"""


def test_the_lock_may_be_held_again_by_the_same_process(tmp_path):
    with locks.running(tmp_path, "one"):
        with locks.running(tmp_path, "two"):
            assert (tmp_path / locks.LOCK_FILE).read_text() == "one\n"
        locks.refuse_if_running(tmp_path)
        assert (tmp_path / locks.LOCK_FILE).read_text() == "one\n"
    assert (tmp_path / locks.LOCK_FILE).read_text() == ""


def raising(error):
    def work():
        raise error

    return work


@pytest.mark.parametrize(
    ("work", "code", "words"),
    [
        pytest.param(lambda: None, 0, "", id="done"),
        pytest.param(lambda: 5, 5, "", id="exit-code"),
        pytest.param(raising(SetupError("Do this.")), 1, "Do this.\n", id="sentence"),
        pytest.param(
            raising(PermissionError(13, "Permission denied", "/data/secret.key")),
            1,
            "/data/secret.key cannot be used (permission denied): give yourself the right to it, then repeat.\n",
            id="not-mine",
        ),
        pytest.param(
            raising(KeyboardInterrupt()), 130, "Stopped. The same command goes on from here.\n", id="ctrl-c"
        ),
    ],
)
def test_guarded(capsys, work, code, words):
    assert guarded(work) == code
    assert capsys.readouterr().err == words
