"""Real listeners on this machine's own address, and raw talk with them."""

import contextlib
import datetime as dt
import http.client
import socket
import ssl
import threading
from dataclasses import dataclass
from pathlib import Path

from studio import certificates
from studio.management import listeners

NAME = "heron.local"


@dataclass
class Authority:
    """A studio's authority for the name above, with the server's file."""

    pair: certificates.Pair
    file: Path

    def trusting(self) -> ssl.SSLContext:
        return ssl.create_default_context(cadata=self.pair.certificate.decode())


def authority_in(folder: Path) -> Authority:
    now = dt.datetime.now(dt.UTC)
    pair = certificates.make_authority("Heron Row Pilates", [NAME, "heron"], [], now)
    file = folder / "server.pem"
    file.write_bytes(certificates.make_server(pair, [NAME, "heron"], [], now).text)
    return Authority(pair, file)


@contextlib.contextmanager
def served(server):
    """Run a listener in a thread; yields its port."""
    server.prepare()
    thread = threading.Thread(target=server.serve, daemon=True)
    thread.start()
    try:
        yield server.bind_addr[1]
    finally:
        server.stop()
        thread.join(5)


def over_tls(port: int, context: ssl.SSLContext, name: str = NAME) -> ssl.SSLSocket:
    """A connection to this machine under a name, as a tablet makes it once its network knows the name."""
    return context.wrap_socket(socket.create_connection(("127.0.0.1", port), 10), server_hostname=name)


def exchange(link: socket.socket, request: str) -> http.client.HTTPResponse:
    """Send a request as it stands and read the answer with its body."""
    link.sendall(request.replace("\n", "\r\n").encode("latin-1"))
    answer = http.client.HTTPResponse(link, method=request.partition(" ")[0])
    answer.begin()
    answer.text = answer.read().decode()
    link.close()
    return answer


def plain(port: int) -> socket.socket:
    return socket.create_connection(("127.0.0.1", port), 10)


def free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        return taken.getsockname()[1]


def echo(environ, start_response):
    """An application that says how it was asked."""
    words = [environ["wsgi.url_scheme"], environ["REMOTE_ADDR"], str(environ.get(listeners.STRICT))]
    text = " ".join(words).encode()
    start_response("200 OK", [("Content-Type", "text/plain"), ("Content-Length", str(len(text)))])
    return [text]
