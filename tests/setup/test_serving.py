"""`start` and `serve` for real, on a data folder of their own: first page, one lock, a clean end, no child left.

Where a running studio listens is NET-5. Common practice, no source; the tables read are those of proc(5). The tests
go on from each other: a first start takes seconds, and a studio is named at the very end.
"""

import contextlib
import http.client
import os
import re
import signal
import socket
import sqlite3
import ssl
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from studio.setup import ports
from studio.setup.locks import LOCK_FILE
from tests.setup.conftest import ROOT, ctrl_c
from tests.studio.listening_posts import free_port

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


def listening_addresses(process) -> set[tuple[str, int]]:
    """Every address and port on which a process of Linux listens (proc(5): /proc/net/tcp, state 0A)."""
    links = []
    for file in Path(f"/proc/{process.pid}/fd").iterdir():
        # A file that the process closes meanwhile is none that it listens on.
        with contextlib.suppress(FileNotFoundError):
            links.append(str(file.readlink()))
    inodes = {found[1] for link in links if (found := re.match(r"socket:\[(\d+)\]", link))}
    found = set()
    for table in ("tcp", "tcp6"):
        for line in Path(f"/proc/{process.pid}/net/{table}").read_text().splitlines()[1:]:
            words = line.split()
            if words[3] == "0A" and words[9] in inodes:
                address, port = words[1].split(":")
                found.add((address, int(port, 16)))
    return found


def listens_on_this_machine_alone(process, port) -> bool:
    """Whether nothing of it is to be reached but at 127.0.0.1."""
    for address in ports.own_addresses():
        with socket.socket() as probe:
            if probe.connect_ex((address, port)) == 0:
                return False
    return sys.platform != "linux" or listening_addresses(process) == {("0100007F", port)}


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
def test_net_5_start_serves_this_machine_alone_and_ends_cleanly(data, port, end, after, said_first):
    """A fresh install, and one that has been started before, while nobody has switched the network on."""
    process = begin(data, "start", "--port", port)
    said = lines_until_served(process)
    assert said == [*said_first, f"Evenside is at http://127.0.0.1:{port} (Ctrl-C stops it)"]
    assert process.stdout.readline() == "Open that address to name the owner and the studio.\n"
    code = re.fullmatch(r"One-time code, asked for anywhere but here: (\S+)\n", process.stdout.readline())[1]
    assert len(code.replace("-", "")) >= 23, "at least 112 bits from 31 letters (OWASP ASVS 5.0, 6.5)"
    answer = first_page(port)
    assert answer.status in (200, 302)
    assert answer.headers["Server"] == "Evenside"
    assert listens_on_this_machine_alone(process, port)
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


# As the action writes it, by hand: no browser is needed to see how the server starts and ends.
SWITCH_ON = """
import django; django.setup()
from sessions.demo.factories import StudioFactory
from studio.actions import audit, network
StudioFactory()
network.switch_on(actor=audit.Actor.program("test"), expected=None, values={values})
"""


def test_switched_on_it_listens_on_the_network_too_and_ends_cleanly(data):
    port, secure, sign = free_port(), free_port(), free_port()
    values = {"names": ["heron.local"], "addresses": [], "port": secure, "plain_port": sign}
    variables = {**os.environ, "EVENSIDE_DATA_DIR": str(data), "EVENSIDE_PROFILE": "studio"}
    variables["DJANGO_SETTINGS_MODULE"] = "studio.settings"
    subprocess.run([sys.executable, "-c", SWITCH_ON.format(values=values)], env=variables, check=True)
    process = begin(data, "start", "--port", port)
    lines_until_served(process)
    assert process.stdout.readline() == f"On the studio's network: https://heron.local:{secure}\n"
    if sys.platform == "linux":
        assert listening_addresses(process) == {("0100007F", port), ("00000000", secure), ("00000000", sign)}
    with socket.create_connection(("127.0.0.1", secure), 10) as link:
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
        context.load_verify_locations(data / "network" / "authority.pem")
        with context.wrap_socket(link, server_hostname="heron.local") as safe:
            safe.sendall(b"GET /sign-in/ HTTP/1.1\r\nHost: heron.local\r\nConnection: close\r\n\r\n")
            assert safe.recv(4096).startswith(b"HTTP/1.1 200")
    ctrl_c(process)
    rest, errors = process.communicate(timeout=30)
    assert (process.returncode, errors) == (0, "")
    assert rest.endswith("Stopped.\n")
    assert group_is_empty(process)
    with sqlite3.connect(data / "evenside.sqlite3") as rows:
        acts = [row[0] for row in rows.execute("SELECT action FROM studio_auditentry")]
    assert acts.count("network.certificates_made") == 1, "the second look changes nothing"
