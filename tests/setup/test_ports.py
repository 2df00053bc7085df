"""What the machine is called on its network. Sources: RFC 6762 (.local), RFC 1123, 2.1 (letters of a host name)."""

import socket

import pytest

from studio.setup import ports


@pytest.mark.parametrize(
    ("machine", "names"),
    [
        pytest.param("heron", ["heron.local", "heron"], id="bare"),
        pytest.param("Heron-2", ["heron-2.local", "heron-2"], id="capital"),
        pytest.param("heron.lan", ["heron.local", "heron"], id="with-domain"),
        pytest.param("heron.local", ["heron.local", "heron"], id="under-local"),
        pytest.param("localhost", [], id="nameless"),
        pytest.param("", [], id="empty"),
        pytest.param("heron_2", [], id="underscore"),
        pytest.param("-heron", [], id="hyphen-in-front"),
        pytest.param("h" * 64, [], id="too-long"),
        pytest.param("h" * 63, ["h" * 63 + ".local", "h" * 63], id="just-fits"),
    ],
)
def test_names_of_this_machine(monkeypatch, machine, names):
    monkeypatch.setattr(socket, "gethostname", lambda: machine)
    assert ports.host_names() == names


@pytest.mark.parametrize(
    ("address", "usable"),
    [
        ("192.168.0.12", True),
        ("10.0.0.1", True),
        ("169.254.3.4", True),
        ("127.0.0.1", False),
        ("127.0.1.1", False),
        ("0.0.0.0", False),
        ("224.0.0.251", False),
        ("255.255.255.255", False),
        ("192.168.0", False),
        ("192.168.0.012", False),
        ("fe80::1", False),
        ("heron.local", False),
        ("", False),
    ],
)
def test_addresses_that_other_devices_can_be_given(address, usable):
    assert ports.is_usable(address) is usable


def test_own_addresses_are_each_named_once(monkeypatch):
    monkeypatch.setattr(ports, "_towards", lambda target: "192.168.0.12" if target[0] == "1" else "")
    monkeypatch.setattr(
        socket, "gethostbyname_ex", lambda name: (name, [], ["127.0.1.1", "192.168.0.12", "10.0.0.5"])
    )
    assert ports.own_addresses() == ["192.168.0.12", "10.0.0.5"]


def test_a_name_that_leads_nowhere_is_no_matter(monkeypatch):
    def nowhere(name):
        raise socket.gaierror("no such name")

    monkeypatch.setattr(ports, "_towards", lambda target: "192.168.0.12")
    monkeypatch.setattr(socket, "gethostbyname_ex", nowhere)
    assert ports.own_addresses() == ["192.168.0.12"]


def test_a_port_is_looked_at_on_the_address_that_is_asked_for():
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        assert ports.problem(port).errno in ports.TAKEN
        assert ports.problem(port, ports.EVERY_ADDRESS).errno in ports.TAKEN
    assert ports.problem(port, ports.EVERY_ADDRESS) is None
