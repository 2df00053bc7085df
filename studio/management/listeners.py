"""The server's ears: cheroot's server with a closed list of hosts, TLS, and the signpost on the plain port."""

import contextlib
import logging
import os
import re
import socket
import ssl
from pathlib import Path

from cheroot.server import HeaderReader, HTTPConnection, HTTPRequest
from cheroot.ssl.builtin import BuiltinSSLAdapter
from cheroot.wsgi import Server

THREADS, SIGNPOST_THREADS = 8, 2
SECONDS_TO_END = 5
LARGEST_BODY, LARGEST_TO_SIGNPOST = 16 * 1024 * 1024, 1024
# Names of the marks that a listener puts beside a request; a header cannot make one.
STRICT = "evenside.strict_transport"
PLAIN_HEADERS = [
    ("Cache-Control", "no-store"),
    ("Content-Security-Policy", "default-src 'none'; frame-ancestors 'none'; base-uri 'none'"),
    ("X-Content-Type-Options", "nosniff"),
    ("Referrer-Policy", "same-origin"),
]
REFUSED = b"This is not an address of the studio.\n"

log = logging.getLogger("studio.server")


class Front:
    """Lets a request through to the application only under a host of the closed list (ASVS 5.0, 4.1.3).

    A page elsewhere that points a name of its own at this machine gets nothing, not even a style sheet.
    """

    def __init__(self, application, hosts, **marks):
        self.application, self.hosts, self.marks = application, frozenset(hosts), marks

    def __call__(self, environ, start_response):
        if is_listed(environ.get("HTTP_HOST", ""), self.hosts):
            return self.application({**environ, **self.marks}, start_response)
        headers = [("Content-Type", "text/plain; charset=utf-8"), ("Content-Length", str(len(REFUSED)))]
        start_response("400 Bad Request", headers + PLAIN_HEADERS)
        return [REFUSED]


def is_listed(header: str, hosts: frozenset[str]) -> bool:
    """Return whether a Host header names one of the hosts, with or without a port."""
    found = re.fullmatch(r"(\[[0-9a-f:.]+\]|[a-z0-9.-]+)(?::([0-9]{1,5}))?", header.lower())
    return bool(found) and found[1] in hosts and int(found[2] or 1) in range(1, 65536)


class Signpost:
    """Answers whatever is asked with the same page, which says where the studio is. Sets no cookie."""

    def __init__(self, page: str):
        self.page = page.encode()

    def __call__(self, environ, start_response):
        reads = environ["REQUEST_METHOD"] in ("GET", "HEAD")
        start_response("200 OK" if reads else "403 Forbidden", self.headers)
        return [] if environ["REQUEST_METHOD"] == "HEAD" else [self.page]

    @property
    def headers(self) -> list[tuple[str, str]]:
        own = [("Content-Type", "text/html; charset=utf-8"), ("Content-Length", str(len(self.page)))]
        return own + PLAIN_HEADERS

    @property
    def raw(self) -> bytes:
        """The same as bytes on the wire, for plain words that arrive at the TLS port."""
        lines = ["HTTP/1.1 400 Bad Request", *map(": ".join, self.headers), "Connection: close", "", ""]
        return "\r\n".join(lines).encode() + self.page


class OneHost:
    """Reads headers, and refuses a request that names its host twice (RFC 9112, 3.2)."""

    def __call__(self, rfile, hdict=None):
        return _Counting()(rfile, hdict)


class _Counting(HeaderReader):
    hosts = 0

    def _allow_header(self, key_name):
        # The gateway cannot tell X_Y from X-Y, so the first kind is not passed on.
        return b"_" not in key_name

    def _transform_key(self, key_name):
        name = super()._transform_key(key_name)
        self.hosts += name == b"Host"
        if self.hosts > 1:
            raise ValueError("The host is named twice.")
        return name


class CarefulRequest(HTTPRequest):
    header_reader = OneHost()


class CarefulConnection(HTTPConnection):
    RequestHandlerClass = CarefulRequest


class StudioServer(Server):
    """cheroot's server, its own faults in the log."""

    ConnectionClass = CarefulConnection

    def error_log(self, msg="", level=logging.INFO, traceback=False):
        log.log(level, msg, exc_info=traceback)


class TlsConnection(CarefulConnection):
    """Shakes hands when its turn has come, in a worker: nobody who dawdles keeps the others from knocking."""

    shaken = False

    def communicate(self):
        if not self.shaken:
            try:
                self.socket.do_handshake()
            except ssl.SSLError as error:
                if error.reason == "HTTP_REQUEST":
                    self._point_the_way()
                return False
            except OSError:
                return False
            self.shaken = True
        return super().communicate()

    def _point_the_way(self) -> None:
        with contextlib.suppress(OSError), socket.socket(fileno=os.dup(self.socket.fileno())) as plain:
            plain.sendall(self.server.signpost.raw)
            plain.shutdown(socket.SHUT_WR)


class NetworkServer(StudioServer):
    """Ears on the local network: who connects and says nothing waits outside and takes up no worker."""

    signpost: Signpost

    def process_conn(self, conn):
        if getattr(conn, "has_spoken", False):
            return super().process_conn(conn)
        conn.has_spoken = True
        self._connections.put(conn)


class LateHandshake(BuiltinSSLAdapter):
    """TLS 1.2 or 1.3; the handshake itself is left to the connection."""

    def __init__(self, file: Path):
        super().__init__(str(file), str(file))
        self.context.minimum_version = ssl.TLSVersion.TLSv1_2
        self.context.options |= ssl.OP_NO_RENEGOTIATION

    def wrap(self, sock):
        wrapped = self.context.wrap_socket(sock, server_side=True, do_handshake_on_connect=False)
        return wrapped, {"wsgi.url_scheme": "https", "HTTPS": "on"}


def local_server(address: tuple[str, int], application) -> Server:
    """The server for this machine alone, not listening yet."""
    return _made(StudioServer, address, application, THREADS, LARGEST_BODY)


def tls_server(address: tuple[str, int], application, file: Path, signpost: Signpost) -> Server:
    """The server for the network, not listening yet. file: key and certificate in one."""
    server = _made(NetworkServer, address, application, THREADS, LARGEST_BODY)
    server.ConnectionClass = TlsConnection
    server.signpost = signpost
    server.ssl_adapter = LateHandshake(file)
    return server


def signpost_server(address: tuple[str, int], application) -> Server:
    """The server for the plain port, not listening yet."""
    return _made(NetworkServer, address, application, SIGNPOST_THREADS, LARGEST_TO_SIGNPOST)


def _made(kind, address, application, threads: int, largest: int) -> Server:
    server = kind(
        address,
        application,
        numthreads=threads,
        server_name="Evenside",
        request_queue_size=64,
        shutdown_timeout=SECONDS_TO_END,
    )
    server.max_request_body_size = largest
    return server
