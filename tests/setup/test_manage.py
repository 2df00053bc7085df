"""manage.py itself: an old Python, a folder that cannot be written, and what may be imported before .venv."""

import ast
import importlib
import subprocess
import sys

import pytest

from tests.setup.conftest import ROOT


def _loaded():
    """Return manage.py as a module and leave no bytecode beside it, at the top of the project."""
    before, sys.dont_write_bytecode = sys.dont_write_bytecode, True
    try:
        return importlib.import_module("manage")
    finally:
        sys.dont_write_bytecode = before


manage = _loaded()


@pytest.mark.parametrize(
    ("version", "platform", "example"),
    [
        ((3, 10, 12), "linux", "python3.12 manage.py start --demo"),
        ((3, 9, 6), "darwin", "python3.12 manage.py start --demo"),
        ((3, 8, 0), "win32", "py -3.12 manage.py start --demo"),
    ],
)
def test_an_old_python_is_one_sentence(monkeypatch, capsys, version, platform, example):
    monkeypatch.setattr(manage.sys, "version_info", version)
    monkeypatch.setattr(manage.sys, "platform", platform)
    monkeypatch.setattr(manage.sys, "argv", ["manage.py", "start", "--demo"])
    assert manage.main() == 1
    words = capsys.readouterr().err
    assert words.startswith(
        f"Evenside needs Python 3.11 or newer and this is Python {version[0]}.{version[1]}:"
    )
    assert words.endswith(example + "\n")


def test_an_old_python_can_read_the_file():
    """Python 3.4 is the oldest grammar that `ast` checks; it knows no f-strings and no annotations of names."""
    tree = ast.parse((ROOT / "manage.py").read_text(), feature_version=(3, 4))
    assert not [node for node in ast.walk(tree) if isinstance(node, ast.JoinedStr)]


def test_manage_stays_a_page():
    assert len((ROOT / "manage.py").read_text().splitlines()) <= 60


@pytest.mark.parametrize("path", sorted((ROOT / "studio" / "setup").glob("*.py")), ids=lambda path: path.name)
def test_set_up_needs_only_the_standard_library(path):
    for node in ast.walk(ast.parse(path.read_text())):
        names = []
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            names = [node.module]
        for name in names:
            own = name.startswith("studio.setup")
            assert own or name.partition(".")[0] in sys.stdlib_module_names, f"{path.name} imports {name}"


def test_importing_the_set_up_brings_no_django():
    words = "import sys, studio.setup.entry; print(sorted({n.partition('.')[0] for n in sys.modules}))"
    done = subprocess.run([sys.executable, "-c", words], cwd=ROOT, capture_output=True, text=True, check=True)
    assert "'studio'" in done.stdout
    assert "'django'" not in done.stdout


def test_a_data_folder_that_cannot_be_written(project, tmp_path):
    """The parent is a file, so that it fails for root too. Nothing has been installed by then."""
    (tmp_path / "file").write_text("")
    refused = project.manage("start", EVENSIDE_DATA_DIR=str(tmp_path / "file" / "data"))
    assert refused.returncode == 1
    assert refused.stdout == ""
    assert refused.stderr.count("\n") == 1
    assert "cannot be written" in refused.stderr
    assert not (project.root / ".venv").exists()


def test_ci_calls_the_documented_command_and_nothing_else():
    lines = (ROOT / ".ci" / "run").read_text().splitlines()
    work = [line for line in lines if line and not line.startswith("#")]
    assert work == ["set -euo pipefail", 'cd "$(dirname "$0")/.."', "exec python3 manage.py test"]


@pytest.mark.parametrize("name", ["requirements.txt", "tests/requirements.txt"])
def test_every_package_is_pinned_with_its_reason(name):
    for line in (ROOT / name).read_text().splitlines():
        pinned, _, why = line.partition("  # ")
        package, _, version = pinned.partition("==")
        assert package and version and why, line
