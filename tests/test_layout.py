"""How the code is laid out: what may import what, what stays plain, how long a file may grow."""

import ast
import configparser
import functools
import re
import sys
from pathlib import Path

import pytest
from importlinter import configuration
from importlinter.application.use_cases import lint_imports

from tests.rows import each

ROOT = Path(__file__).resolve().parent.parent
APPS = ("studio", "library", "clients", "sessions")
TOP_LEVEL = {
    "README.md",
    "DEVELOPERS.md",
    "manage.py",
    "studio",
    "clients",
    "sessions",
    "library",
    "templates",
    "static",
    "tests",
    "requirements.txt",
}
# A folder of wheels may be laid beside manage.py for a machine without a network.
ALLOWED_AT_TOP = TOP_LEVEL | {"wheels"}
LONGEST_FILE = 450

# Loose modules of an app hold plain computation. These do not, for the reason given.
NOT_PLAIN = {
    "*/apps.py": "tells Django about the app",
    "*/urls.py": "the list of addresses",
    "studio/settings.py": "the settings themselves",
    "studio/wsgi.py": "what the server runs",
    "studio/middleware.py": "stands around every request",
    "studio/transport.py": "stands around every request",
    "studio/access.py": "marks views and answers wrong methods",
    "studio/context.py": "what every page's frame needs from the request",
    "studio/checks.py": "looks at the database at start",
    "studio/guards.py": "makes the triggers of append-only tables",
    "studio/hashers.py": "sets the costs of Django's own hasher",
    "studio/passphrases.py": "a validator of Django's, with its sentences",
    "studio/clock.py": "the one place that reads the time",
}
# Modules that turn codes into sentences may use gettext and the formats of the language, nothing else of Django.
WORDING = ("*/wording.py", "*/*_wording.py", "studio/units.py")
WORDING_MAY_USE = ("django.utils.translation", "django.utils.formats", "django.utils.text")
HOLDS_DJANGO = ("models", "forms", "views", "actions", "templatetags", "management", "migrations", "demo")
READS_THE_TIME = re.compile(
    r"\b(datetime\.now|date\.today|datetime\.today|utcnow|time\.time|timezone\.now)\b"
)


def python_files(*folders) -> list[Path]:
    return sorted(
        p for folder in folders for p in (ROOT / folder).rglob("*.py") if "migrations" not in p.parts
    )


def named(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


@functools.cache
def imports_of(path: Path) -> frozenset[str]:
    """Return the full names of all modules a file imports, wherever in the file it does."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.level == 0:
            found |= {f"{node.module}.{alias.name}" for alias in node.names}
    return frozenset(found)


def matches(path: Path, patterns) -> bool:
    return any(Path(named(path)).match(pattern) for pattern in patterns)


LOOSE = [path for app in APPS for path in sorted((ROOT / app).glob("*.py")) if path.name != "__init__.py"]
PLAIN = [path for path in LOOSE if not matches(path, NOT_PLAIN)]
PACKAGES = python_files("library/body", "studio/setup")
CODE = python_files(*APPS)


def test_top_level_is_exactly_as_agreed():
    visible = {path.name for path in ROOT.iterdir() if not path.name.startswith((".", "__pycache__"))}
    assert visible - ALLOWED_AT_TOP == set(), "something lies at the top that does not belong there"
    assert TOP_LEVEL - visible == set(), "something is missing at the top"


def test_the_contract_names_the_apps_in_order():
    contract = configparser.ConfigParser()
    contract.read(ROOT / ".importlinter")
    assert contract["importlinter:contract:apps"]["layers"].split() == [
        "sessions",
        "clients",
        "library",
        "studio",
    ]
    assert set(contract["importlinter"]["root_packages"].split()) == set(APPS)
    # A listed exception would be a hole in the contract.
    assert "ignore_imports" not in contract["importlinter:contract:apps"]


def test_apps_rest_on_one_another_in_one_direction(monkeypatch, capsys):
    """The contract of .importlinter, checked by import-linter itself."""
    monkeypatch.syspath_prepend(str(ROOT))
    configuration.configure()
    kept = lint_imports(config_filename=str(ROOT / ".importlinter"), cache_dir=None)
    assert kept, capsys.readouterr().out


@each("path", PLAIN, ids=named)
def test_loose_modules_are_plain(path):
    wording = matches(path, WORDING)
    strange = {
        name
        for name in imports_of(path)
        if name.startswith("django") and not (wording and name.startswith(WORDING_MAY_USE))
    }
    assert not strange, "plain computation imports no Django; move it into a folder that holds Django"


@each("path", PLAIN + PACKAGES, ids=named)
def test_plain_code_knows_no_rows_no_clock_no_settings(path):
    parts = {name: name.split(".") for name in imports_of(path)}
    strange = {
        name
        for name, words in parts.items()
        if words[0] in APPS
        and (set(words[1:]) & {*HOLDS_DJANGO, "clock", "settings", "middleware", "context"})
    }
    assert not strange, "dates and rows are arguments of plain code"


@each("path", PACKAGES, ids=named)
def test_plain_packages_hold_no_django(path):
    assert not {name for name in imports_of(path) if name.startswith("django")}


@each("path", python_files("studio/setup"), ids=named)
def test_setting_up_needs_nothing_but_python(path):
    """It runs before the virtual environment exists."""
    roots = {name.split(".")[0] for name in imports_of(path)}
    inside = {name for name in imports_of(path) if name.startswith("studio")}
    assert not roots - sys.stdlib_module_names - {"studio"}
    assert all(name.startswith("studio.setup") for name in inside)


@each("path", [p for p in CODE if named(p) != "studio/clock.py"], ids=named)
def test_only_the_clock_reads_the_time(path):
    assert not READS_THE_TIME.findall(path.read_text(encoding="utf-8"))


VIEWS = [path for path in CODE if "views" in path.parts]
DOOR = {"seen_by", "get_seen"}


# Nobody's rows: plain lists of the studio that hold no person and have no address of their own.
OPEN_TO_ALL = {"OpeningHour", "ClosedDay"}


def past_the_door(path: Path) -> list[str]:
    """Return every expression from `Model.objects` in which nobody asks who may see the rows.

    Rows that are put under a name first may be asked for through that name, in the same function.
    """
    tree = ast.parse(path.read_text(encoding="utf-8"))
    above = {child: node for node in ast.walk(tree) for child in ast.iter_child_nodes(node)}
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and node.attr in ("objects", "_base_manager", "_default_manager"):
            whole = chain_around(node, above)
            if (
                getattr(node.value, "id", "") not in OPEN_TO_ALL
                and not asks(whole)
                and not asked_later(whole, above)
            ):
                found.append(ast.unparse(whole))
    return found


def chain_around(node, above):
    """Return the whole of `node.one().other()…` of which a node is the beginning."""
    while isinstance(up := above.get(node), ast.Attribute | ast.Call) and node not in getattr(up, "args", ()):
        node = up
    return node


def asks(node) -> bool:
    return bool(DOOR & {part.attr for part in ast.walk(node) if isinstance(part, ast.Attribute)})


def asked_later(whole, above) -> bool:
    """Return whether rows are only given a name here, and every use of that name goes through the door."""
    given = above.get(whole)
    if not isinstance(given, ast.Assign) or not isinstance(given.targets[0], ast.Name):
        return False
    function = given
    while not isinstance(function, ast.FunctionDef | ast.Module):
        function = above[function]
    uses = [
        n
        for n in ast.walk(function)
        if isinstance(n, ast.Name) and n.id == given.targets[0].id and isinstance(n.ctx, ast.Load)
    ]
    return bool(uses) and all(asks(chain_around(use, above)) for use in uses)


@each("path", VIEWS, ids=named)
def test_views_reach_rows_through_the_door_only(path):
    assert not past_the_door(path), "use Model.objects.seen_by(person) or .get_seen(person, id)"
    assert "get_object_or_404" not in path.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("code", "found"),
    [
        ("Client.objects.get(pk=1)", ["Client.objects.get(pk=1)"]),
        ("Client.objects.all().first().name", ["Client.objects.all().first().name"]),
        ("f(Client.objects.filter(name=Flag.objects.seen_by(me)))", []),
        ("f(Client.objects.count())", ["Client.objects.count()"]),
        ("Client.objects.with_people().get_seen(me, public_id)", []),
        ("Client.objects.seen_by(me).filter(name=name)", []),
        ("Client._base_manager.first()", ["Client._base_manager.first()"]),
        ("OpeningHour.objects.all()", []),
        ("rows = Client.objects.light()\nrows.defer('x').get_seen(me, public_id)", []),
        ("rows = Client.objects.light()\nrows.first()", ["Client.objects.light()"]),
        ("rows = Client.objects.light()\nrows.seen_by(me)\nf(rows)", ["Client.objects.light()"]),
    ],
)
def test_the_check_of_doors_finds_what_it_should(code, found, tmp_path):
    path = tmp_path / "views.py"
    path.write_text(code)
    assert past_the_door(path) == found


@each("path", VIEWS, ids=named)
def test_views_write_nothing_themselves(path):
    """Writes are verbs in actions/, each in one transaction with its entry in the log."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    calls = {
        n.func.attr for n in ast.walk(tree) if isinstance(n, ast.Call) and isinstance(n.func, ast.Attribute)
    }
    assert not calls & {
        "save",
        "save_version",
        "bulk_create",
        "bulk_update",
        "get_or_create",
        "update_or_create",
    }


@each("path", CODE + python_files("tests"), ids=named)
def test_no_file_grows_too_long(path):
    lines = path.read_text(encoding="utf-8").count("\n")
    assert lines <= LONGEST_FILE, "part it by subject"


def test_every_model_says_who_may_see_it():
    """A model with an address has a door that answers for itself."""
    from django.apps import apps

    from studio.models import Door, PublicRow

    for model in apps.get_models():
        if issubclass(model, PublicRow) and model._meta.app_config.name in APPS:
            door = type(model._default_manager.all())
            assert issubclass(door, Door) and door.seen_by is not Door.seen_by, model.__name__


def test_strict_pages_hold_no_inline_script_or_style():
    """The content policy forbids them; this finds them before a browser does."""
    inline = re.compile(
        r"<style|\sstyle=|\son[a-z]+=|javascript:|hx-on|<script(?![^>]*\bsrc=)", re.IGNORECASE
    )
    for path in sorted((ROOT / "templates").rglob("*.html")):
        # Handouts are set by the PDF engine from their own page, never served.
        if "handouts" not in path.parts:
            assert not inline.findall(path.read_text(encoding="utf-8")), named(path)
