"""The data folder: outside the clone, one for each profile, closed to other people of the machine."""

import os
import sys
from pathlib import Path

from studio.setup.say import SetupError, reason

PROFILES = ("studio", "demo")
MARKER = "profile"


def data_folder(profile: str) -> Path:
    """Return the folder of `profile` ('studio' or 'demo') for the person at this machine; it may not exist.

    Linux: XDG base directory specification, including its rule that a relative path is ignored.
    """
    if profile not in PROFILES:
        raise ValueError(f"profile must be one of {PROFILES}, not {profile!r}")
    return _base() / profile


def _base() -> Path:
    if sys.platform == "win32":
        local = os.environ.get("LOCALAPPDATA")
        return (Path(local) if local else _home() / "AppData" / "Local") / "Evenside"
    if sys.platform == "darwin":
        return _home() / "Library" / "Application Support" / "Evenside"
    xdg = os.environ.get("XDG_DATA_HOME", "")
    return (Path(xdg) if os.path.isabs(xdg) else _home() / ".local" / "share") / "evenside"


def _home() -> Path:
    try:
        return Path.home()
    except RuntimeError:
        raise SetupError(
            "Your home folder is not known here; name a folder for the data in EVENSIDE_DATA_DIR."
        ) from None


def make_private(path: Path) -> Path:
    """Make the folder `path` and its missing parents with mode 0700, close an open one, and return it."""
    try:
        for folder in [*reversed(path.parents), path]:
            if not folder.exists():
                folder.mkdir(mode=0o700, exist_ok=True)
        if os.name == "posix" and path.stat().st_mode & 0o077:
            path.chmod(0o700)
    except OSError as error:
        raise no_permission(path, error) from error
    return path


def no_permission(path: Path, error: OSError) -> SetupError:
    """The sentence for a data folder that cannot be written."""
    return SetupError(
        f"The data folder {path} cannot be written ({reason(error)}): "
        "give yourself the right to write there, or name another folder in EVENSIDE_DATA_DIR."
    )


def claim(path: Path, profile: str) -> None:
    """Make `path` the private folder of `profile`; refuse a folder that holds the other profile's data."""
    marker = make_private(path) / MARKER
    try:
        if not marker.exists():
            marker.write_text(profile + "\n", encoding="ascii")
        found = marker.read_text(encoding="ascii").strip()
    except OSError as error:
        raise no_permission(path, error) from error
    if found != profile:
        words = {"demo": "the demo", "studio": "a real studio"}
        raise SetupError(
            f"The folder {path} belongs to {words.get(found, found)}, which never shares a folder with "
            f"{words[profile]}: name another folder in EVENSIDE_DATA_DIR, or leave that variable unset."
        )
