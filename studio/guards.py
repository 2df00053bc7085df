"""Triggers that keep append-only tables append-only, whatever code runs.

They are made after every migration, since a migration that rebuilds a table drops them, and looked for
at every start.
"""

from django.apps import apps

KINDS = ("update", "delete", "insert")


def _trigger_sql(table: str, kind: str) -> str:
    # Insert too: INSERT OR REPLACE removes the old row without firing the delete trigger.
    when = f'WHEN EXISTS (SELECT 1 FROM "{table}" WHERE id = NEW.id)' if kind == "insert" else ""
    return (
        f'CREATE TRIGGER IF NOT EXISTS "{table}_only_added_{kind}" BEFORE {kind.upper()} ON "{table}" {when} '
        f"BEGIN SELECT RAISE(ABORT, 'rows of {table} are only ever added'); END"
    )


def guarded_tables() -> list[str]:
    """Return the tables whose models are append-only."""
    from studio.models.base import AppendOnly

    return sorted(m._meta.db_table for m in apps.get_models() if issubclass(m, AppendOnly))


def missing(connection) -> list[str]:
    """Return the names of the triggers that should be there and are not."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")
        present = {row[0] for row in cursor.fetchall()}
    wanted = [f"{table}_only_added_{kind}" for table in guarded_tables() for kind in KINDS]
    return [name for name in wanted if name not in present]


def install(connection) -> None:
    """Make every trigger whose table exists. Harmless when they are there already."""
    tables = set(connection.introspection.table_names())
    with connection.cursor() as cursor:
        for table in guarded_tables():
            if table in tables:
                for kind in KINDS:
                    cursor.execute(_trigger_sql(table, kind))


def install_after_migrate(sender, using, **kwargs) -> None:
    """Signal receiver: runs after each app's migrations."""
    from django.db import connections

    if connections[using].vendor == "sqlite":
        install(connections[using])
