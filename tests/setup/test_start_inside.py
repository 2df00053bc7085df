"""`start` inside .venv: what is skipped when nothing has changed, and the people it prints."""

import os

import pytest
from django.contrib.staticfiles import finders

from studio.management.commands import serve, start
from studio.setup.say import SetupError


@pytest.fixture
def styles(settings, tmp_path, monkeypatch):
    """A static folder with one file, a data folder, and a list of the commands that were called."""
    folder = tmp_path / "static"
    folder.mkdir()
    (folder / "one.css").write_text("a {}")
    settings.STATICFILES_DIRS = [folder]
    settings.DATA_DIR = tmp_path / "data"
    settings.DATA_DIR.mkdir()
    finders.get_finder.cache_clear()
    called = []
    monkeypatch.setattr(start, "call_command", lambda name, **options: called.append(name))
    yield folder, called
    finders.get_finder.cache_clear()


def test_styles_are_collected_once(styles):
    _, called = styles
    start.collect_static()
    start.collect_static()
    assert called == ["collectstatic"]


@pytest.mark.parametrize(
    "change",
    [
        pytest.param(lambda folder: (folder / "one.css").write_text("b {}"), id="content"),
        pytest.param(lambda folder: (folder / "two.css").write_text("a {}"), id="new-file"),
        pytest.param(lambda folder: (folder / "one.css").rename(folder / "three.css"), id="new-name"),
    ],
)
def test_a_changed_style_is_noticed(styles, change):
    folder, called = styles
    start.collect_static()
    os.utime(folder / "one.css", ns=(1, 1))
    start.collect_static()
    change(folder)
    start.collect_static()
    assert called == ["collectstatic"] * 3


def test_a_collection_that_broke_off_is_done_again(styles, monkeypatch):
    _, called = styles

    def full(name, **options):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(start, "call_command", full)
        with pytest.raises(SetupError, match="cannot be written .no space left on device."):
            start.collect_static()
    start.collect_static()
    assert called == ["collectstatic"]


@pytest.mark.parametrize(
    ("demo", "loads"), [(False, ["load_library"]), (True, ["load_library", "load_demo"])]
)
def test_the_demo_is_loaded_only_where_asked(monkeypatch, capsys, demo, loads):
    called = []
    monkeypatch.setattr(start, "call_command", lambda name, **options: called.append(name))
    start.load(demo)
    assert called == loads
    assert len(capsys.readouterr().out.splitlines()) == len(loads)


@pytest.mark.django_db
def test_a_migrated_database_is_left_alone(monkeypatch, capsys):
    monkeypatch.setattr(start, "call_command", lambda name, **options: pytest.fail(f"called {name}"))
    start.migrate()
    assert capsys.readouterr().out == ""


def test_sign_ins_stand_in_columns(capsys):
    serve.say_sign_ins(
        [("Owner, teaches", "mara", "four words and more"), ("Front desk", "jo", "other words")]
    )
    assert capsys.readouterr().out.splitlines() == [
        "Sign in as one of the demo's people:",
        "  who             sign-in name  passphrase",
        "  Owner, teaches  mara          four words and more",
        "  Front desk      jo            other words",
    ]
