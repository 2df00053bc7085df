"""Set-up mistakes that are named at start."""

import sqlite3

from django.core.checks import Tags, Warning, register
from django.db import connection


@register(Tags.database)
def guards_present(app_configs, databases=None, **kwargs):
    """The append-only triggers must be in place (they are lost when a migration rebuilds a table)."""
    from studio import guards

    if connection.vendor != "sqlite" or "studio_auditentry" not in connection.introspection.table_names():
        return []
    gone = guards.missing(connection)
    if not gone:
        return []
    return [
        Warning(
            f"{len(gone)} guards of append-only tables are missing, the first is {gone[0]}.",
            hint="Run: python3 manage.py migrate",
            id="studio.W001",
        )
    ]


@register(Tags.database)
def journal_mode(app_configs, databases=None, **kwargs):
    """Write-ahead mode only on an SQLite that has the repair of 2026."""
    if connection.vendor != "sqlite":
        return []
    with connection.cursor() as cursor:
        mode = cursor.execute("PRAGMA journal_mode").fetchone()[0]
    if mode == "wal" and sqlite3.sqlite_version_info < (3, 51, 3):
        return [
            Warning(
                f"The database is in write-ahead mode on SQLite {sqlite3.sqlite_version}.",
                hint="Use journal_mode=TRUNCATE, or SQLite 3.51.3 or newer.",
                id="studio.W002",
            )
        ]
    return []
