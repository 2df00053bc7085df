"""Where a running studio listens: NET-5. Common practice, no source; the tables read are those of proc(5)."""

import contextlib
import os
import re
import socket
import sqlite3
import ssl
import subprocess
import sys
from pathlib import Path

import pytest

from studio.setup import ports
from tests.setup.conftest import ctrl_c
from tests.setup.test_serving import begin, first_page, group_is_empty, lines_until_served
from tests.studio.listening_posts import free_port

pytestmark = pytest.mark.setup

# As the action writes it, by hand: no browser is needed to see how the server starts and ends.
SWITCH_ON = """
import django; django.setup()
from sessions.demo.factories import StudioFactory
from studio.actions import audit, network
StudioFactory()
network.switch_on(actor=audit.Actor.program("test"), expected=None, values={values})
"""


@pytest.fixture(scope="module")
def data(tmp_path_factory):
    return tmp_path_factory.mktemp("studio") / "data"


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


def end_cleanly(process):
    ctrl_c(process)
    rest, errors = process.communicate(timeout=30)
    assert (process.returncode, errors) == (0, "")
    assert rest.endswith("Stopped.\n")
    assert group_is_empty(process)


def test_net_5_a_fresh_install_listens_on_this_machines_own_address_alone(data):
    port = free_port()
    process = begin(data, "start", "--port", port)
    lines_until_served(process)
    assert first_page(port).status in (200, 302)
    if sys.platform == "linux":
        assert listening_addresses(process) == {("0100007F", port)}
    for address in ports.own_addresses():
        with socket.socket() as probe:
            assert probe.connect_ex((address, port)) != 0
    end_cleanly(process)


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
    end_cleanly(process)
    with sqlite3.connect(data / "evenside.sqlite3") as rows:
        acts = [row[0] for row in rows.execute("SELECT action FROM studio_auditentry")]
    assert acts.count("network.certificates_made") == 1, "the second look changes nothing"
