"""What the benches that need a database share: a test database of their own, at one moment or at the present."""

import os
from contextlib import contextmanager, nullcontext


@contextmanager
def database(moment=None):
    """Set Django up, make an empty database and take it away again; the house's clock stands at ``moment``."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")
    import django

    django.setup()
    from django.test.runner import DiscoverRunner

    from studio import clock

    runner = DiscoverRunner(verbosity=0, interactive=False)
    databases = runner.setup_databases()
    try:
        with clock.at(moment) if moment else nullcontext():
            yield
    finally:
        runner.teardown_databases(databases)
