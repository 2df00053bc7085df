"""Which system it is and what it is told. The commands are those of WeasyPrint's 'First steps' and each system's
own package manager; the os-release texts follow os-release(5) and the files that those systems ship (from memory).
"""

import pytest

from studio.setup import system

DEBIAN = 'PRETTY_NAME="Debian GNU/Linux 12 (bookworm)"\nID=debian\nVERSION_ID="12"\n'
UBUNTU = 'NAME="Ubuntu"\nVERSION_ID="24.04"\nID=ubuntu\nID_LIKE=debian\n'
MINT = 'NAME="Linux Mint"\nID=linuxmint\nID_LIKE="ubuntu debian"\n'
RASPBERRY = 'NAME="Raspbian GNU/Linux"\nID=raspbian\nID_LIKE=debian\n'
FEDORA = 'NAME="Fedora Linux"\nID=fedora\nVERSION_ID=43\n'
ROCKY = 'NAME="Rocky Linux"\nID="rocky"\nID_LIKE="rhel centos fedora"\n'
ARCH = 'NAME="Arch Linux"\nID=arch\nBUILD_ID=rolling\n'
MANJARO = 'NAME="Manjaro Linux"\nID=manjaro\nID_LIKE=arch\n'
ALPINE = 'NAME="Alpine Linux"\nID=alpine\n'


@pytest.mark.parametrize(
    ("platform", "release", "expected"),
    [
        pytest.param("linux", DEBIAN, "debian", id="debian"),
        pytest.param("linux", UBUNTU, "ubuntu", id="ubuntu"),
        pytest.param("linux", MINT, "ubuntu", id="mint"),
        pytest.param("linux", RASPBERRY, "debian", id="raspberry"),
        pytest.param("linux", FEDORA, "fedora", id="fedora"),
        pytest.param("linux", ROCKY, "fedora", id="rocky"),
        pytest.param("linux", ARCH, "arch", id="arch"),
        pytest.param("linux", MANJARO, "arch", id="manjaro"),
        pytest.param("linux", ALPINE, "other", id="alpine"),
        pytest.param("linux", "", "other", id="no-os-release"),
        pytest.param("darwin", "", "macos", id="macos"),
        pytest.param("win32", "", "windows", id="windows"),
    ],
)
def test_family(platform, release, expected):
    assert system.family(platform, release) == expected


@pytest.mark.parametrize(
    ("need", "of", "expected"),
    [
        ("pdf", "debian", "sudo apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"),
        (
            "pdf",
            "ubuntu",
            "sudo apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0 libharfbuzz0b",
        ),
        ("pdf", "fedora", "sudo dnf install pango"),
        ("pdf", "arch", "sudo pacman -S pango"),
        ("pdf", "macos", "brew install pango"),
        ("pdf", "windows", "pacman -S mingw-w64-ucrt-x86_64-pango (in the UCRT64 window of MSYS2)"),
        ("browser", "debian", "sudo apt-get install chromium"),
        ("browser", "ubuntu", "sudo snap install chromium"),
        ("browser", "fedora", "sudo dnf install chromium"),
        ("browser", "arch", "sudo pacman -S chromium"),
        ("browser", "macos", "brew install --cask google-chrome"),
        ("browser", "windows", "winget install Google.Chrome"),
    ],
)
def test_command(need, of, expected):
    assert system.command(need, of) == expected


@pytest.mark.parametrize("need", system.COMMANDS)
def test_every_family_has_a_command_for_every_need(need):
    families = {"debian", "ubuntu", "fedora", "arch", "macos", "windows", "other"}
    assert set(system.COMMANDS[need]) == families
    assert all("{" not in system.command(need, of) for of in families)


def test_the_venv_package_is_named_for_this_python(monkeypatch):
    monkeypatch.setattr(system.sys, "version_info", FakeVersion(3, 13))
    assert system.command("venv", "debian") == "sudo apt-get install python3.13-venv"


class FakeVersion:
    def __init__(self, major, minor):
        self.major, self.minor = major, minor


@pytest.mark.parametrize(
    ("family", "root", "sudo", "expected"),
    [
        pytest.param("debian", True, None, [], id="root"),
        pytest.param("ubuntu", False, 0, ["sudo", "-n"], id="sudo-without-password"),
        pytest.param("debian", False, 1, None, id="sudo-asks"),
        pytest.param("debian", False, None, None, id="no-sudo"),
        pytest.param("fedora", True, None, None, id="not-apt"),
    ],
)
def test_apt_only_where_nobody_is_asked(monkeypatch, family, root, sudo, expected):
    monkeypatch.setattr(system, "family", lambda: family)
    monkeypatch.setattr(system.os, "geteuid", lambda: 0 if root else 1000)
    there = {"apt-get": "/usr/bin/apt-get", "sudo": "/usr/bin/sudo" if sudo is not None else None}
    monkeypatch.setattr(system.shutil, "which", there.get)
    monkeypatch.setattr(system.subprocess, "run", lambda *a, **k: Done(sudo))
    assert system.apt_prefix() == expected


class Done:
    def __init__(self, returncode, stdout=""):
        self.returncode, self.stdout = returncode, stdout


@pytest.mark.parametrize(("code", "expected"), [(0, True), (100, False)])
def test_apt_fetches_its_lists_first_and_says_one_line(monkeypatch, capsys, code, expected):
    calls = []

    def run(args, **options):
        calls.append(args[args.index("apt-get") :])
        return Done(code, "Reading lists\nE: Unable to locate package libx\n")

    monkeypatch.setattr(system, "apt_prefix", list)
    monkeypatch.setattr(system.subprocess, "run", run)
    assert system.apt_install(("libx", "liby"), "two libraries") is expected
    assert [("update" in call, call[-2:] == ["libx", "liby"]) for call in calls] == [
        (True, False),
        (False, True),
    ]
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == "Installing two libraries with apt-get: libx liby"
    assert lines[1:] == (
        [] if expected else ["apt-get could not install them: Unable to locate package libx"]
    )
