"""Triggers that keep append-only tables append-only, whatever code runs.

They are made after every migration, since a migration that rebuilds a table drops them, and looked for
at every start.
"""

from django.apps import apps
from django.db.models import UniqueConstraint

KINDS = ("update", "delete", "insert")


def _trigger_sql(model, kind: str) -> str:
    table = model._meta.db_table
    # Insert too: INSERT OR REPLACE removes the row it clashes with without firing the delete trigger,
    # whether the clash is on the id or on anything else that is unique.
    clash = " OR ".join(
        "(" + " AND ".join(f'"{column}" = NEW."{column}"' for column in columns) + ")"
        for columns in _unique_columns(model)
    )
    when = f'WHEN EXISTS (SELECT 1 FROM "{table}" WHERE {clash})' if kind == "insert" else ""
    return (
        f'CREATE TRIGGER "{_name(table, kind)}" BEFORE {kind.upper()} ON "{table}" {when} '
        f"BEGIN SELECT RAISE(ABORT, 'rows of {table} are only ever added'); END"
    )


def _name(table: str, kind: str) -> str:
    return f"{table}_only_added_{kind}"


def _unique_columns(model) -> list[list[str]]:
    """Return every set of columns that no two rows may share."""
    fields = model._meta.concrete_fields
    single = [[field.column] for field in fields if field.unique]
    together = [
        [model._meta.get_field(name).column for name in constraint.fields]
        for constraint in model._meta.constraints
        if isinstance(constraint, UniqueConstraint) and constraint.fields
    ]
    return single + together


def guarded_models() -> list:
    """Return the models that are append-only, in the order of their tables' names."""
    from studio.models.base import AppendOnly

    return sorted(
        (m for m in apps.get_models() if issubclass(m, AppendOnly)), key=lambda model: model._meta.db_table
    )


def _present(connection) -> dict[str, str]:
    with connection.cursor() as cursor:
        cursor.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'")
        return dict(cursor.fetchall())


def missing(connection) -> list[str]:
    """Return the names of the triggers that should be there and are not, or are not what they should be."""
    present = _present(connection)
    return [
        _name(model._meta.db_table, kind)
        for model in guarded_models()
        for kind in KINDS
        if present.get(_name(model._meta.db_table, kind)) != _trigger_sql(model, kind)
    ]


def install(connection) -> None:
    """Make every trigger whose table exists, and make anew those that differ. Harmless when all are there."""
    tables = set(connection.introspection.table_names())
    wrong = set(missing(connection))
    with connection.cursor() as cursor:
        for model in guarded_models():
            if model._meta.db_table not in tables:
                continue
            for kind in KINDS:
                name = _name(model._meta.db_table, kind)
                if name in wrong:
                    cursor.execute(f'DROP TRIGGER IF EXISTS "{name}"')
                    cursor.execute(_trigger_sql(model, kind))


def remove(connection) -> None:
    """Take every trigger off, to empty a demo's database as a whole. Nothing else has a reason to."""
    with connection.cursor() as cursor:
        for model in guarded_models():
            for kind in KINDS:
                cursor.execute(f'DROP TRIGGER IF EXISTS "{_name(model._meta.db_table, kind)}"')


def install_after_migrate(sender, using, **kwargs) -> None:
    """Signal receiver: runs after each app's migrations."""
    from django.db import connections

    if connections[using].vendor == "sqlite":
        install(connections[using])
