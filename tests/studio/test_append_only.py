"""Rows that are only ever added: code refuses to change them, and so does the database itself.

Sources: the OWASP verification standard 5.0, 16.4.2 (logs protected from change); for INSERT OR REPLACE, the
SQLite documentation of CREATE TRIGGER and ON CONFLICT: a REPLACE deletes the clashing rows without firing delete
triggers unless recursive triggers are on (from memory).
"""

import contextlib

import pytest
from django.db import DatabaseError, connection, transaction

from sessions.demo import factories as f
from studio import guards
from studio.models import AuditEntry
from tests.rows import each

pytestmark = pytest.mark.django_db

GUARDED = guards.guarded_models()
MAKERS = {made._meta.model: made for made in f.ALL}
IDS = [model.__name__ for model in GUARDED]

# What must not be rewritten, whatever is added to the models later.
EXPECTED = {
    "AuditEntry",
    "Submission",
    "Flag",
    "FlagStatus",
    "GoalRating",
    "ExerciseVersion",
    "LibraryLoad",
    "Addition",
    "Incident",
    "IncidentNote",
    "Handout",
    "CallBackClosed",
    "Pass",
    "PassEntry",
    "StudioText",
    "StudioRule",
    "StudioRuleEnd",
    "TableReview",
    "TableReviewEnd",
}


def rows_of(model) -> list[tuple]:
    with connection.cursor() as cursor:
        cursor.execute(f'SELECT * FROM "{model._meta.db_table}" ORDER BY id')
        return cursor.fetchall()


def refused(sql: str) -> bool:
    """Return whether the database refuses a statement."""
    try:
        with transaction.atomic(), connection.cursor() as cursor:
            cursor.execute(sql)
    except DatabaseError as error:
        return "only ever added" in str(error)
    return False


def replace_with_new_id(model) -> str:
    """Return an INSERT OR REPLACE that repeats every column of every row but takes another id."""
    columns = [field.column for field in model._meta.concrete_fields if field.column != "id"]
    listed = ", ".join(f'"{column}"' for column in columns)
    table = model._meta.db_table
    return f'INSERT OR REPLACE INTO "{table}" (id, {listed}) SELECT id + 1000, {listed} FROM "{table}"'


def test_health_records_and_the_log_are_among_them():
    assert set(IDS) >= EXPECTED


@contextlib.contextmanager
def one_row(model):
    """A row of a model, gone again afterwards with whatever was done to it."""
    with transaction.atomic():
        yield MAKERS[model]()
        transaction.set_rollback(True)


STATEMENTS = (
    'UPDATE "{t}" SET id = id + 1000',
    'UPDATE OR REPLACE "{t}" SET id = id',
    'DELETE FROM "{t}"',
    'INSERT OR REPLACE INTO "{t}" SELECT * FROM "{t}"',
    'REPLACE INTO "{t}" SELECT * FROM "{t}"',
)


@each("model", GUARDED, ids=lambda model: model.__name__)
@each("sql", STATEMENTS)
def test_the_database_refuses(model, sql, house):
    with one_row(model):
        before = rows_of(model)
        assert before
        assert refused(sql.format(t=model._meta.db_table))
        assert rows_of(model) == before


@each(
    "model",
    [model for model in GUARDED if len(guards._unique_columns(model)) > 1],
    ids=lambda model: model.__name__,
)
def test_replacing_by_another_unique_column_is_refused(model, house):
    with one_row(model):
        before = rows_of(model)
        assert before
        assert refused(replace_with_new_id(model))
        assert rows_of(model) == before


@each("model", GUARDED, ids=lambda model: model.__name__)
def test_code_refuses_to_save_again_or_to_delete(model, house):
    with one_row(model) as row:
        with pytest.raises(TypeError, match="only ever added"):
            row.save()
        with pytest.raises(TypeError, match="never removed"):
            row.delete()


def test_queryset_update_and_delete_meet_the_triggers(house):
    f.AuditEntryFactory()
    with pytest.raises(DatabaseError, match="only ever added"), transaction.atomic():
        AuditEntry.objects.update(action="nothing")
    with pytest.raises(DatabaseError, match="only ever added"), transaction.atomic():
        AuditEntry.objects.all()._raw_delete("default")
    assert AuditEntry.objects.filter(action="program.started").count() == 1


def test_a_guard_that_is_gone_is_noticed_and_made_anew():
    assert guards.missing(connection) == []
    with connection.cursor() as cursor:
        cursor.execute('DROP TRIGGER "studio_auditentry_only_added_delete"')
    assert guards.missing(connection) == ["studio_auditentry_only_added_delete"]
    guards.install(connection)
    assert guards.missing(connection) == []


def test_a_guard_that_was_weakened_is_noticed_and_made_anew():
    with connection.cursor() as cursor:
        cursor.execute('DROP TRIGGER "studio_auditentry_only_added_delete"')
        cursor.execute(
            'CREATE TRIGGER "studio_auditentry_only_added_delete" '
            'BEFORE DELETE ON "studio_auditentry" BEGIN SELECT 1; END'
        )
    assert guards.missing(connection) == ["studio_auditentry_only_added_delete"]
    guards.install(connection)
    f.AuditEntryFactory()
    assert refused('DELETE FROM "studio_auditentry"')


def test_the_start_check_names_a_gone_guard():
    from studio.checks import guards_present

    assert guards_present(None) == []
    with connection.cursor() as cursor:
        cursor.execute('DROP TRIGGER "studio_auditentry_only_added_update"')
    [problem] = guards_present(None)
    assert "studio_auditentry_only_added_update" in problem.msg
    assert "migrate" in problem.hint
