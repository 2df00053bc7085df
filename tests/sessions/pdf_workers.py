"""Worker processes that misbehave, for the tests of the one that does not. Imported by spawned processes:
nothing here may import Django."""

import os
import sys
import time

from sessions import pdf_worker


def never_ready(connection, folder, warm_up):
    time.sleep(60)


def stuck(connection, folder, warm_up):
    """Be ready, and then never answer."""
    connection.send(("ready", "", []))
    connection.recv()
    time.sleep(60)


def dies(connection, folder, warm_up):
    """Be ready, and fall over at the first request."""
    connection.send(("ready", "", []))
    connection.recv()
    os._exit(9)


def no_engine(connection, folder, warm_up):
    """Serve as always, on a machine without the PDF engine."""
    sys.modules["weasyprint"] = None
    pdf_worker.serve(connection, folder, warm_up)


def lists_modules(connection, folder, warm_up):
    """Load the engine as always, and answer with the modules that are loaded then."""
    from pathlib import Path

    pdf_worker.Engine(Path(folder)).make(warm_up)
    connection.send(("ready", "", []))
    connection.recv()
    connection.send(("pdf", sorted(sys.modules), []))
