"""The thread that opens and closes the network's listeners as the owner's settings say."""

import logging
import threading

from cheroot.wsgi import Server
from django.conf import settings
from django.db import connection
from django.template.loader import render_to_string
from django.utils import translation
from django.utils.translation import gettext as _

from studio.actions import audit, network
from studio.listening import state
from studio.management import listeners
from studio.models import Network, Studio
from studio.setup import ports
from studio.setup.say import say

# Certificates are looked at every hour, so that one that nears its end is made anew while the server runs.
LOOK_EVERY_SECONDS = 3600

log = logging.getLogger("studio.server")


class PortTaken(Exception):
    """A port of the network cannot be had."""

    def __init__(self, port: int, error: OSError):
        super().__init__(str(error))
        self.port, self.error = port, error


class NetworkThread(threading.Thread):
    """Listens on the local network while the owner wants it; the server on this machine goes on either way."""

    def __init__(self, application) -> None:
        super().__init__(name="network", daemon=True)
        self.application = application
        self.over = False
        self.servers: list[tuple[Server, threading.Thread]] = []
        self.serves = None
        self.named: list[str] = []

    def run(self) -> None:
        """Look at the settings at once, whenever a page says they changed, and every hour."""
        state.served = True
        while not self.over:
            state.changed.clear()
            try:
                self.follow()
            except Exception:
                # A full disk or a locked database must not end the thread: it looks again later.
                log.exception("the network cannot be brought to what the settings say")
            finally:
                connection.close()
                state.settled.set()
            state.changed.wait(LOOK_EVERY_SECONDS)
        self.close()
        state.served = False

    def end(self) -> None:
        """Close every listener and stop."""
        self.over = True
        state.changed.set()
        if self.is_alive():
            self.join(4 * listeners.SECONDS_TO_END)

    def follow(self) -> None:
        """Bring the listeners to what the settings say."""
        row = Network.objects.filter(is_on=True).first()
        wanted = self.wanted(row) if row else None
        if wanted == self.serves and state.error is None:
            return
        self.close()
        if row is None:
            return
        try:
            self.open(row)
        except PortTaken as problem:
            self.close()
            state.port, state.error = problem.port, problem.error
            log.warning("port %s of the network cannot be used: %s", problem.port, problem.error)
        else:
            self.serves = wanted
            state.open_at = tuple(row.hosts)
            say(_("On the studio's network: {address}").format(address=network.addresses_of(row)[0]))

    def wanted(self, row: Network) -> tuple:
        """Everything that makes listeners differ, the certificate too."""
        file = network.certify(actor=audit.Actor.program("serve"), row=row)
        return (row.hosts, row.port, row.plain_port, row.strict_transport, file.read_bytes())

    def open(self, row: Network) -> None:
        """Listen with TLS, and with the signpost on the plain port. Raises PortTaken."""
        file = network.certify(actor=audit.Actor.program("serve"), row=row)
        signpost = listeners.Signpost(signpost_page(row))
        app = listeners.Front(self.application, row.hosts, **{listeners.STRICT: row.strict_transport})
        self.open_names(row.hosts)
        everywhere = ports.EVERY_ADDRESS
        self.listen(listeners.tls_server((everywhere, row.port), app, file, signpost))
        sign = listeners.Front(signpost, row.hosts)
        self.listen(listeners.signpost_server((everywhere, row.plain_port), sign))

    def listen(self, server: Server) -> None:
        """Take the port and serve in a thread of its own."""
        host, port = server.bind_addr
        error = ports.problem(port, host)
        if error:
            raise PortTaken(port, error)
        try:
            server.prepare()
        except OSError as problem:
            raise PortTaken(port, ports.problem(port, host) or problem) from problem
        thread = threading.Thread(target=server.serve, name=f"port {port}", daemon=True)
        thread.start()
        self.servers.append((server, thread))

    def open_names(self, names: list[str]) -> None:
        """Make the framework's own list of hosts the one that the listeners hold, and take the last one off."""
        for name in self.named:
            settings.ALLOWED_HOSTS.remove(name)
        self.named = [name for name in names if name not in settings.ALLOWED_HOSTS]
        settings.ALLOWED_HOSTS.extend(self.named)

    def close(self) -> None:
        """Stop listening on the network."""
        while self.servers:
            server, thread = self.servers.pop()
            server.stop()
            thread.join(listeners.SECONDS_TO_END)
        self.open_names([])
        self.serves, state.open_at, state.port, state.error = None, (), 0, None


def signpost_page(row: Network) -> str:
    """The page on the plain port, in the studio's language."""
    studio = Studio.objects.first()
    with translation.override(studio.locale):
        return render_to_string("studio/network_signpost.html", {"urls": network.addresses_of(row)})
