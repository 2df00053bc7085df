"""`serve`: one process, this machine only until the owner switches the network on (studio/management/network.py).

Ends on Ctrl-C or SIGTERM with exit code 0.
"""

import contextlib
import importlib
import os
import signal
import threading
from multiprocessing import resource_tracker

from cheroot.wsgi import Server
from django.conf import settings
from django.core.management.base import BaseCommand
from django.core.servers.basehttp import get_internal_wsgi_application
from django.db import DatabaseError, connection
from django.utils.translation import gettext as _

from studio import guards
from studio.actions import first_owner
from studio.management.listeners import SECONDS_TO_END, Front, local_server
from studio.management.network import NetworkThread
from studio.setup import locks, ports
from studio.setup.say import SetupError, say
from studio.setup.start import command, port_number

WARM_AFTER_SECONDS = 1.5
DRAW_AFTER_SECONDS, REST_SECONDS = 3.0, 0.02
# The server is wiring and names what lies in the apps above by string, as the settings do.
SIGN_INS = "sessions.demo.people"
PDF = "sessions.pdf"
FIGURES = "library.body"


class Command(BaseCommand):
    help = "Serve the studio on this machine; `start` also brings everything up to date first."
    requires_system_checks = []

    def add_arguments(self, parser):
        parser.add_argument("--port", type=port_number, default=ports.DEFAULT, help="default: %(default)s")

    def handle(self, *args, port, **options):
        os.umask(0o077)
        with locks.running(settings.DATA_DIR, ports.address(port)):
            refuse_without_tables()
            refuse_without_guards()
            settings.STATIC_ROOT.mkdir(parents=True, exist_ok=True)
            serve(make_server(port), PdfWorker(), port)
        say(_("Stopped."))


def refuse_without_tables() -> None:
    """Raise SetupError where the database has not been set up."""
    try:
        first_owner.is_open()
    except DatabaseError as error:
        words = _("The data in {folder} are not set up yet: {command} does that and serves too.")
        raise SetupError(words.format(folder=settings.DATA_DIR, command=command(settings.PROFILE))) from error


def refuse_without_guards() -> None:
    """Raise SetupError where an append-only table has lost a guard: the log could be rewritten unseen."""
    if guards.missing(connection):
        words = _("The tables that may only be added to have lost their guards. Run: {command}")
        raise SetupError(words.format(command="python3 manage.py migrate"))


def make_server(port: int) -> Server:
    """The server for `port` of this machine, not listening yet."""
    return local_server((ports.HOST, port), Front(get_internal_wsgi_application(), ports.LOOPBACK_NAMES))


def listen(server: Server, port: int) -> None:
    """Take the port. Raises SetupError where it cannot be had."""
    again = command(settings.PROFILE)
    ports.refuse_if_taken(port, again)
    try:
        server.prepare()
    except OSError as error:
        raise SetupError(ports.sentence(port, ports.problem(port) or error, again)) from error


def announce(port: int) -> None:
    """Say the address and who may sign in, or the one-time code while there is no owner."""
    say(_("Evenside is at {address} (Ctrl-C stops it)").format(address=ports.address(port)))
    if settings.PROFILE == "demo":
        say_sign_ins(importlib.import_module(SIGN_INS).SIGN_INS)
    elif first_owner.is_open():
        say(_("Open that address to name the owner and the studio."))
        say(_("One-time code, asked for anywhere but here: {code}").format(code=first_owner.console_code()))


def say_sign_ins(people: list[tuple[str, str, str]]) -> None:
    """Print the demo's people in columns: role, sign-in name, passphrase."""
    say(_("Sign in as one of the demo's people:"))
    heads = (_("who"), _("sign-in name"), _("passphrase"))
    rows = [heads, *((str(role), name, passphrase) for role, name, passphrase in people)]
    widths = [max(len(row[column]) for row in rows) for column in range(2)]
    for role, name, passphrase in rows:
        say(f"  {role:<{widths[0]}}  {name:<{widths[1]}}  {passphrase}")


def serve(server: Server, pdf: "PdfWorker", port: int) -> None:
    """Serve until Ctrl-C or SIGTERM, then end every thread and child."""
    # SIGINT is named too: a script that starts a program in the background lets it ignore Ctrl-C.
    names = ("SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK")
    endings = [getattr(signal, each) for each in names if hasattr(signal, each)]
    for each in endings:
        signal.signal(each, signal.default_int_handler)
    figures, network = FigureThread(), NetworkThread(get_internal_wsgi_application())
    try:
        with deaf_to_ctrl_c():
            listen(server, port)
            pdf.warm_soon()
            figures.start()
        announce(port)
        with deaf_to_ctrl_c():
            network.start()
        server.serve()
    except KeyboardInterrupt:
        pass
    finally:
        # A second Ctrl-C must not cut the ending short.
        for each in endings:
            signal.signal(each, signal.SIG_IGN)
        figures.end()
        network.end()
        server.stop()
        pdf.end()


@contextlib.contextmanager
def deaf_to_ctrl_c():
    """Threads begun in here, and the processes that they begin, do not hear Ctrl-C: the server ends them.

    A terminal sends it to every process of the group, also to one that is just starting.
    """
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    # The helper of multiprocessing opens its starter's ears again; so it is started before.
    resource_tracker.ensure_running()
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


class PdfWorker:
    """The process that makes PDF files: warmed a moment after the start, ended with the server."""

    def __init__(self) -> None:
        self.pdf = importlib.import_module(PDF)
        self.pdf.switch_off(settings.NO_PDF_REASON)
        self.timer = threading.Timer(WARM_AFTER_SECONDS, self.pdf.warm)
        self.timer.daemon = True

    def warm_soon(self) -> None:
        """Start it once the first page has had its turn."""
        self.timer.start()

    def end(self) -> None:
        """End it, or never start it."""
        self.timer.cancel()
        self.pdf.shutdown()


class FigureThread(threading.Thread):
    """Draws the library's figures ahead, a panel at a time, so that no list of exercises is slow at first."""

    def __init__(self) -> None:
        super().__init__(name="figures", daemon=True)
        self.over = threading.Event()

    def run(self) -> None:
        """Wait for the first pages, then rest after every panel: a page that is asked for goes first."""
        if self.over.wait(DRAW_AFTER_SECONDS):
            return
        for _panel in importlib.import_module(FIGURES).warm():
            if self.over.wait(REST_SECONDS):
                return

    def end(self) -> None:
        """Stop at the next panel, or before the first."""
        self.over.set()
        if self.is_alive():
            self.join(SECONDS_TO_END)
