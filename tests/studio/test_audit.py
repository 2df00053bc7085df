"""The log of who did what: complete, joined to the change, and without anything of what was in it.

Source: OWASP verification standard 5.0, 16.2.1, 16.2.2, 16.2.5 (what an entry holds, UTC, nothing secret), 16.3.1 to
16.3.4 (what is logged), 16.5.3 (a change that cannot be logged does not happen).
"""

import ast
import datetime as dt
from pathlib import Path

import pytest
from django.db import transaction

from clients.models import Client
from sessions.demo.factories import ClientFactory
from studio import clock
from studio.actions import audit
from studio.models import AuditEntry
from tests.rows import each

pytestmark = pytest.mark.django_db
ROOT = Path(__file__).resolve().parents[2]


def test_an_entry_says_who_what_when_and_on_which_thing(owner, now):
    client = ClientFactory()
    actor = audit.Actor(person=owner, role="owner", device="127.0.0.1", session_mark="abc")
    audit.write(actor, "studio.changed", client, fields=["telephone", "email"])
    entry = AuditEntry.objects.get()
    assert (entry.at, entry.person, entry.role) == (now, owner, "owner")
    assert (entry.device, entry.session_mark) == ("127.0.0.1", "abc")
    assert (entry.action, entry.outcome) == ("studio.changed", "done")
    assert (entry.thing_kind, entry.thing_id) == ("clients.client", client.public_id)
    assert entry.fields == ["email", "telephone"]
    assert entry.app_version


def test_times_are_in_utc(owner, settings):
    with clock.at(dt.datetime(2026, 7, 1, 12, tzinfo=dt.UTC)):
        audit.write(audit.Actor(person=owner), "studio.changed")
    assert AuditEntry.objects.get().at.utcoffset() == dt.timedelta(0)


def test_an_unknown_action_is_a_slip_and_raises(owner):
    with pytest.raises(KeyError, match="clients.reed"):
        audit.write(audit.Actor(person=owner), "clients.reed")
    assert not AuditEntry.objects.exists()


def test_the_program_itself_can_act():
    audit.write(audit.Actor.program("load_library"), "library.loaded")
    entry = AuditEntry.objects.get()
    assert (entry.person, entry.role, entry.device) == (None, "program", "load_library")


def test_a_change_that_is_undone_takes_its_entry_along(owner):
    with pytest.raises(RuntimeError), transaction.atomic():
        client = ClientFactory()
        audit.write(audit.Actor(person=owner), "studio.changed", client)
        raise RuntimeError
    assert not AuditEntry.objects.exists()
    assert not Client.objects.exists()


def test_an_entry_holds_no_names_and_no_values():
    """By its columns: there is no place for text except kinds, ids, names of fields and the version."""
    columns = {field.name for field in AuditEntry._meta.fields}
    assert columns == {
        "id",
        "at",
        "person",
        "role",
        "device",
        "session_mark",
        "action",
        "thing_kind",
        "thing_id",
        "outcome",
        "fields",
        "app_version",
    }


def called_names(tree) -> set[str]:
    names = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            function = node.func
            names.add(function.attr if isinstance(function, ast.Attribute) else getattr(function, "id", ""))
            names.add(ast.unparse(function))
    return names


def actions_taking_an_actor():
    """Yield (file, name, all calls it makes, also through other functions in actions/) of every public action."""
    paths = [path for path in sorted(ROOT.glob("*/actions/*.py")) if path.name != "audit.py"]
    defined = {
        path: {n.name: n for n in ast.parse(path.read_text()).body if isinstance(n, ast.FunctionDef)}
        for path in paths
    }
    shared = {name: node for path in paths for name, node in defined[path].items()}
    for path in paths:
        known = {**shared, **defined[path]}
        for name, node in defined[path].items():
            takes = {arg.arg for arg in (*node.args.args, *node.args.kwonlyargs)}
            if not name.startswith("_") and "actor" in takes:
                where = f"{path.parent.parent.name}.{path.stem}.{name}"
                yield where, _reached(node, known)


def _reached(node, known: dict) -> set[str]:
    found, todo = set(), [node]
    while todo:
        calls = called_names(todo.pop()) - found
        found |= calls
        todo += [known[name] for name in calls if name in known]
    return found


@each("name, reached", actions_taking_an_actor(), ids=lambda name, _reached: name)
def test_every_action_with_an_actor_writes_an_entry(name, reached):
    assert "audit.write" in reached
