"""`start` and `serve` for real, on a data folder of their own: first page, one lock, a clean end, no child left."""

import contextlib
import http.client
import os
import re
import signal
import socket
import subprocess
import sys
import threading
import time

import pytest

from studio.setup.locks import LOCK_FILE
from tests.setup.conftest import ROOT, ctrl_c

pytestmark = pytest.mark.setup
LONGEST_SECONDS = 180

# What manage.py does inside .venv; called like this, no test can touch the developer's own .venv.
ENTER = """
import os, sys
from studio.setup.say import guarded
from django.core.management import execute_from_command_line
os.environ["DJANGO_SETTINGS_MODULE"] = "studio.settings"
sys.exit(guarded(lambda: execute_from_command_line(["manage.py", *sys.argv[1:]])))
"""


@pytest.fixture(scope="module")
def data(tmp_path_factory):
    """One data folder for the whole module: only the first start has anything to do."""
    return tmp_path_factory.mktemp("studio") / "data"


@pytest.fixture
def port():
    with socket.create_server(("127.0.0.1", 0)) as server:
        return server.getsockname()[1]


def begin(data, *arguments):
    """Start a command in a process group of its own, as a terminal does."""
    variables = {
        name: value for name, value in os.environ.items() if not name.startswith(("EVENSIDE_", "DJANGO_"))
    }
    variables |= {"EVENSIDE_DATA_DIR": str(data), "EVENSIDE_PROFILE": "studio"}
    process = subprocess.Popen(
        [sys.executable, "-c", ENTER, *map(str, arguments)],
        cwd=ROOT,
        env=variables,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )
    # A server that hangs fails its test instead of the whole run.
    watch = threading.Timer(LONGEST_SECONDS, process.kill)
    watch.daemon = True
    watch.start()
    begun.append(process)
    return process


begun = []


@pytest.fixture(autouse=True)
def leave_nothing():
    """End what a failing test has left running."""
    yield
    while begun:
        with contextlib.suppress(ProcessLookupError):
            os.killpg(begun.pop().pid, signal.SIGKILL)


def lines_until_served(process) -> list[str]:
    """What it says up to the line with the address."""
    said = []
    for line in process.stdout:
        said.append(line.rstrip("\n"))
        if line.startswith("Evenside is at "):
            return said
    pytest.fail(f"ended before it served: {said} {process.stderr.read()}")


def first_page(port) -> http.client.HTTPResponse:
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
    connection.request("GET", "/")
    return connection.getresponse()


def group_is_empty(process) -> bool:
    """Whether no process of its group is left, waiting a moment for helpers that end by themselves."""
    end = time.monotonic() + 5
    while time.monotonic() < end:
        try:
            os.killpg(process.pid, 0)
        except ProcessLookupError:
            return True
        time.sleep(0.05)
    return False


def terminate(process):
    process.send_signal(signal.SIGTERM)


@pytest.mark.parametrize(
    ("end", "after", "said_first"),
    [
        pytest.param(
            ctrl_c,
            4.0,
            [
                "Bringing the database up to date",
                "Bringing the exercise library up to date",
                "Collecting styles and pictures",
            ],
            id="first-start-ctrl-c",
        ),
        # The PDF worker is begun after one and a half seconds and then needs another one to warm up.
        pytest.param(ctrl_c, 1.51, ["Bringing the exercise library up to date"], id="worker-just-begun"),
        pytest.param(ctrl_c, 2.0, ["Bringing the exercise library up to date"], id="worker-half-warm"),
        pytest.param(terminate, 0.0, ["Bringing the exercise library up to date"], id="second-start-sigterm"),
    ],
)
def test_start_serves_and_ends_cleanly(data, port, end, after, said_first):
    process = begin(data, "start", "--port", port)
    said = lines_until_served(process)
    assert said == [*said_first, f"Evenside is at http://127.0.0.1:{port} (Ctrl-C stops it)"]
    assert process.stdout.readline() == "Open that address to name the owner and the studio.\n"
    code = re.fullmatch(r"One-time code, asked for anywhere but here: (\S+)\n", process.stdout.readline())[1]
    assert len(code.replace("-", "")) >= 23, "at least 112 bits from 31 letters (OWASP ASVS 5.0, 6.5)"
    answer = first_page(port)
    assert answer.status in (200, 302)
    assert answer.headers["Server"] == "Evenside"
    time.sleep(after)
    end(process)
    rest, errors = process.communicate(timeout=20)
    assert process.returncode == 0
    assert rest == "Stopped.\n"
    assert errors == ""
    assert group_is_empty(process)
    assert (data / LOCK_FILE).read_text() == ""


def test_what_is_refused_while_a_server_runs(data, port, tmp_path):
    process = begin(data, "start", "--port", port)
    try:
        lines_until_served(process)
        second = begin(data, "start", "--port", port + 1)
        _, errors = second.communicate(timeout=30)
        assert second.returncode == 1
        assert errors == (
            f"A running Evenside already uses the data in {data.resolve()} at http://127.0.0.1:{port}: "
            "open that address, or stop it with Ctrl-C first.\n"
        )
        other = begin(tmp_path, "start", "--port", port)
        _, errors = other.communicate(timeout=30)
        assert other.returncode == 1
        assert errors.startswith(f"Port {port} is taken by another program: start on another one with ")
        assert errors.count("\n") == 1
    finally:
        ctrl_c(process)
        process.communicate(timeout=20)
    assert process.returncode == 0


def test_serve_alone_wants_a_database_that_is_set_up(port, tmp_path):
    process = begin(tmp_path, "serve", "--port", port)
    _, errors = process.communicate(timeout=30)
    assert process.returncode == 1
    assert errors.startswith(f"The data in {tmp_path} are not set up yet: ")
    assert errors.endswith(" manage.py start does that and serves too.\n")


def test_a_broken_database_is_one_sentence(port, tmp_path):
    (tmp_path / "evenside.sqlite3").write_bytes(b"this is no database" * 100)
    process = begin(tmp_path, "start", "--port", port)
    _, errors = process.communicate(timeout=30)
    assert process.returncode == 1
    assert errors.startswith(
        f"The database {tmp_path / 'evenside.sqlite3'} cannot be used (file is not a database):"
    )
    assert errors.count("\n") == 1


def test_files_of_the_studio_are_its_owners_alone(data):
    """Health data: no file that the running studio wrote is open to others, whatever the umask was."""
    for name in ("evenside.sqlite3", "secret.key", "setup-code"):
        assert (data / name).stat().st_mode & 0o077 == 0, name
    assert data.stat().st_mode & 0o077 == 0
