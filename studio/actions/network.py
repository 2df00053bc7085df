"""Letting other devices reach the studio over the local network, and the certificates for it."""

import datetime as dt
import os
import threading
from dataclasses import dataclass
from pathlib import Path

from django.conf import settings
from django.db import transaction
from django.urls import reverse

from studio import certificates, clock
from studio.actions import audit
from studio.actions.rows import save_row
from studio.certificates import Pair
from studio.listening import state
from studio.models import Device, Network, Studio
from studio.setup.folders import make_private

audit.register(
    "network.switched_on",
    "network.switched_off",
    "network.certificates_made",
    "network.installed_on_all",
)

AUTHORITY, SERVER = "authority.pem", "server.pem"
_one_at_a_time = threading.Lock()


@dataclass(frozen=True)
class Invitation:
    """What another device needs: addresses (the one to try first in front), and what shows the authority real."""

    urls: list[str]
    fingerprint: str
    until: object

    @property
    def install_urls(self) -> list[str]:
        """Return the addresses of the page with the steps."""
        return [url + reverse("studio:network_install") for url in self.urls]


@dataclass(frozen=True)
class InstallAgain:
    """The certificate that devices hold counts no more: since when, and which have not been back since."""

    since: dt.datetime
    waiting: list[str]


def switch_on(*, actor, values: dict, expected: int | None) -> Network:
    """Serve the local network under the names and addresses in `values`, from now on.

    values: names, addresses, port, plain_port, strict_transport. Raises Stale when somebody else was first.
    """
    with transaction.atomic():
        row = Network.objects.first() or Network()
        values = {**values, "is_on": True}
        save_row(actor=actor, row=row, values=values, expected=expected, action="network.switched_on")
        certify(actor=actor, row=row)
        transaction.on_commit(state.ask)
    return row


def switch_off(*, actor, expected: int) -> None:
    """Serve this machine only. The authority stays, so that switching on again needs no new steps."""
    with transaction.atomic():
        row = Network.objects.first()
        if row is None or not row.is_on:
            return
        save_row(
            actor=actor, row=row, values={"is_on": False}, expected=expected, action="network.switched_off"
        )
        transaction.on_commit(state.ask)


def replaces_authority(names: list[str], addresses: list[str]) -> bool:
    """Return whether serving these asks for a new authority in place of one that devices may hold."""
    held = _read(AUTHORITY)
    if held is None:
        return Network.objects.exclude(authority_at=None).exists()
    return not certificates.covers(held.certificate, names, addresses, clock.now())


def install_again() -> InstallAgain | None:
    """Return what the owner still has to see to after a new authority was made, or None."""
    row = Network.objects.filter(is_on=True, install_again=True).first()
    if row is None:
        return None
    late = Device.objects.not_over_network_since(row.authority_at)
    return InstallAgain(since=row.authority_at, waiting=list(late.values_list("name", flat=True)))


def installed_on_all(*, actor) -> None:
    """Take the standing notice away: the owner says that every device holds the new certificate."""
    with transaction.atomic():
        row = Network.objects.filter(install_again=True).first()
        if row is not None:
            _note(row, install_again=False)
            audit.write(actor, "network.installed_on_all", row, fields=["install_again"])


def certify(*, actor, row: Network) -> Path:
    """Make what is missing, no longer fits the names or nears its end; return the file the server needs.

    A new authority is made only where the old one cannot vouch for a name: devices have to install it anew.
    """
    now = clock.now()
    with _one_at_a_time:
        made = []
        authority = _read(AUTHORITY)
        if authority is None or not certificates.covers(authority.certificate, row.names, row.addresses, now):
            studio = Studio.objects.first()
            held_before = authority is not None or row.authority_at is not None
            authority = certificates.make_authority(studio.name, row.names, row.addresses, now)
            _write(AUTHORITY, authority)
            _note(row, authority_at=now, install_again=held_before)
            made.append("authority")
        server = _read(SERVER)
        if server is None or not certificates.is_current(
            server, authority.certificate, row.names, row.addresses, now
        ):
            _write(SERVER, certificates.make_server(authority, row.names, row.addresses, now))
            made.append("server")
        if made:
            audit.write(actor, "network.certificates_made", row, fields=made)
    return _path(SERVER)


def _note(row: Network, **facts) -> None:
    """Write what follows from the certificates. It is nobody's edit, so the row's version stays."""
    for name, value in facts.items():
        setattr(row, name, value)
    Network.objects.filter(pk=row.pk).update(**facts)


def authority_certificate() -> bytes | None:
    """Return the public half of the studio's authority as PEM while network use is on, else None."""
    found = _read(AUTHORITY) if Network.objects.filter(is_on=True).exists() else None
    return found.certificate if found else None


def invitation() -> Invitation | None:
    """Return what another device needs, or None while network use is off."""
    row, certificate = Network.objects.filter(is_on=True).first(), authority_certificate()
    if row is None or certificate is None:
        return None
    return Invitation(
        urls=addresses_of(row),
        fingerprint=certificates.fingerprint(certificate),
        until=certificates.ends_on(certificate),
    )


def addresses_of(row: Network) -> list[str]:
    """Return the studio's addresses on the network, without a slash at the end."""
    return [f"https://{host}:{row.port}" for host in row.hosts]


def _path(name: str) -> Path:
    return Path(settings.DATA_DIR) / "network" / name


def _read(name: str) -> Pair | None:
    try:
        return Pair.of(_path(name).read_bytes())
    except (FileNotFoundError, ValueError):
        return None


def _write(name: str, pair: Pair) -> None:
    """Write a pair for the owner of the process alone, so that it is never seen half written."""
    path = _path(name)
    make_private(path.parent)
    part = path.with_name(name + ".part")
    part.unlink(missing_ok=True)
    handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "wb") as file:
        file.write(pair.text)
    os.replace(part, path)
