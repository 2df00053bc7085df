"""Where the data lie and who may read them."""

import stat
from pathlib import Path

import pytest

from studio.setup import folders
from studio.setup.say import SetupError


@pytest.mark.parametrize(
    ("platform", "variables", "expected"),
    [
        # XDG Base Directory Specification 0.8: $XDG_DATA_HOME, default $HOME/.local/share; relative is ignored.
        pytest.param("linux", {}, "/home/anna/.local/share/evenside/studio", id="linux-default"),
        pytest.param("linux", {"XDG_DATA_HOME": "/data"}, "/data/evenside/studio", id="linux-xdg"),
        pytest.param(
            "linux",
            {"XDG_DATA_HOME": "rel"},
            "/home/anna/.local/share/evenside/studio",
            id="linux-xdg-relative",
        ),
        # Apple, File System Programming Guide: an app's own data lie in Library/Application Support.
        pytest.param("darwin", {}, "/home/anna/Library/Application Support/Evenside/studio", id="macos"),
        # Microsoft, known folders: LOCALAPPDATA, by default AppData\Local in the profile.
        pytest.param("win32", {"LOCALAPPDATA": "/l"}, "/l/Evenside/studio", id="windows"),
        pytest.param("win32", {}, "/home/anna/AppData/Local/Evenside/studio", id="windows-unset"),
    ],
)
def test_data_folder(unset, platform, variables, expected):
    unset.setenv("HOME", "/home/anna")
    unset.delenv("LOCALAPPDATA", raising=False)
    unset.setattr(folders.sys, "platform", platform)
    for name, value in variables.items():
        unset.setenv(name, value)
    assert folders.data_folder("studio") == Path(expected)


def test_demo_and_studio_lie_apart():
    demo, studio = folders.data_folder("demo"), folders.data_folder("studio")
    assert demo != studio
    assert demo not in studio.parents and studio not in demo.parents


def test_an_unknown_profile_is_refused():
    with pytest.raises(ValueError, match="profile"):
        folders.data_folder("other")


def test_make_private_closes_every_folder_it_makes(tmp_path):
    made = folders.make_private(tmp_path / "share" / "evenside" / "studio")
    for folder in (made, made.parent, made.parent.parent):
        assert stat.S_IMODE(folder.stat().st_mode) == 0o700


def test_make_private_closes_an_open_folder_and_leaves_its_parents(tmp_path):
    tmp_path.chmod(0o755)
    folder = tmp_path / "studio"
    folder.mkdir(mode=0o755)
    folders.make_private(folder)
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    assert stat.S_IMODE(tmp_path.stat().st_mode) == 0o755


def test_a_folder_that_cannot_be_made_is_one_sentence(tmp_path):
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(SetupError) as caught:
        folders.make_private(tmp_path / "file" / "studio")
    assert str(tmp_path / "file" / "studio") in str(caught.value)
    assert "EVENSIDE_DATA_DIR" in str(caught.value)


@pytest.mark.parametrize(("first", "second"), [("demo", "studio"), ("studio", "demo")])
def test_one_folder_never_serves_both_profiles(tmp_path, first, second):
    folders.claim(tmp_path / "data", first)
    folders.claim(tmp_path / "data", first)
    with pytest.raises(SetupError, match="never shares a folder"):
        folders.claim(tmp_path / "data", second)
