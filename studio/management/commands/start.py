"""`start`, inside .venv: database, library, demo and styles brought up to date, then the server.

What comes before .venv is in studio/setup/start.py. The data folder is held all the while, so that nothing
changes under a running server.
"""

import hashlib
import os

from django.conf import settings
from django.contrib.staticfiles.finders import get_finders
from django.core.management import call_command
from django.core.management.base import BaseCommand
from django.db import DatabaseError, connection
from django.db.migrations.executor import MigrationExecutor
from django.utils.translation import gettext as _

from studio.setup import locks, ports
from studio.setup.environment import read, write_whole
from studio.setup.folders import no_permission
from studio.setup.say import SetupError, say
from studio.setup.start import add_arguments, command


class Command(BaseCommand):
    help = "Bring everything up to date and serve the studio on this machine."
    requires_system_checks = []

    def add_arguments(self, parser):
        add_arguments(parser)

    def handle(self, *args, demo, port, **options):
        os.umask(0o077)
        with locks.running(settings.DATA_DIR, ports.address(port)):
            ports.refuse_if_taken(port, command(settings.PROFILE))
            try:
                migrate()
                load(demo)
            except DatabaseError as error:
                name = settings.DATABASES["default"]["NAME"]
                words = _(
                    "The database {name} cannot be used ({error}): see that the disk has room and that you "
                    "may write there, or put a copy of your data back in its place."
                )
                raise SetupError(words.format(name=name, error=error)) from error
            collect_static()
            call_command("serve", port=port)


def migrate() -> None:
    """Run the migrations that have not run yet; asking which costs one query."""
    executor = MigrationExecutor(connection)
    if executor.migration_plan(executor.loader.graph.leaf_nodes()):
        say(_("Bringing the database up to date"))
        call_command("migrate", verbosity=0, interactive=False)


def load(demo: bool) -> None:
    """Load the exercise library and, for the demo, its studio. Both look for themselves what is left to do."""
    say(_("Bringing the exercise library up to date"))
    call_command("load_library", verbosity=0)
    if demo:
        say(_("Bringing the demo studio up to this week"))
        call_command("load_demo", verbosity=0)


def collect_static() -> None:
    """Collect and compress styles, scripts and pictures, unless none of them has changed."""
    stamp = settings.DATA_DIR / "static.stamp"
    now = static_fingerprint()
    if read(stamp) == now:
        return
    say(_("Collecting styles and pictures"))
    try:
        stamp.unlink(missing_ok=True)
        call_command("collectstatic", verbosity=0, interactive=False, clear=True)
        write_whole(stamp, now)
    except OSError as error:
        raise no_permission(settings.DATA_DIR, error) from error


def static_fingerprint() -> str:
    """SHA-256 over name, size and time of every file that would be collected, and how it is kept."""
    digest = hashlib.sha256(repr(settings.STORAGES["staticfiles"]).encode())
    for finder in get_finders():
        for name, storage in finder.list(None):
            found = os.stat(storage.path(name))
            digest.update(f"{name}\0{found.st_size}\0{found.st_mtime_ns}\n".encode())
    return digest.hexdigest()
