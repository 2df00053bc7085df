"""The first start: a one-time code on the console, and the owner it lets in."""

import hmac
import importlib.resources
import os
from pathlib import Path

from django.conf import settings
from django.db import transaction

from studio import codes, countries
from studio.actions import audit
from studio.models import OpeningHour, Staff, Studio
from studio.passphrases import folded


def _code_file() -> Path:
    return Path(settings.DATA_DIR) / "setup-code"


def console_code() -> str:
    """Return the one-time code that opens the first page from another machine, making it when there is none."""
    path = _code_file()
    if not path.exists():
        code = codes.make(codes.LASTING_LENGTH)
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        with os.fdopen(handle, "w") as file:
            file.write(code)
    return path.read_text().strip()


def is_open() -> bool:
    """Return whether the studio still waits for its owner."""
    return not Studio.objects.exists()


class AlreadyOpen(Exception):
    """Somebody else set the studio up first."""


def is_this_machine(remote_address: str) -> bool:
    """Return whether a request comes from the machine the studio runs on."""
    return remote_address in ("127.0.0.1", "::1")


def may_set_up(remote_address: str, code: str) -> bool:
    """Return whether this request may set the studio up: from this machine, or with the code."""
    if is_this_machine(remote_address):
        return True
    return hmac.compare_digest(code.strip().casefold().encode(), console_code().encode())


def usual_here(languages: str, localtime: str = "/etc/localtime") -> countries.Usual:
    """Return guesses for where the studio's machine stands. languages: the browser's Accept-Language header."""
    _before, found, zone = os.path.realpath(localtime).partition("zoneinfo/")
    table = importlib.resources.files("tzdata.zoneinfo").joinpath("zone.tab").read_text()
    return countries.usual(zone if found else "", table, languages)


def set_up(*, actor, owner: dict, passphrase: str, studio: dict) -> Staff:
    """Make the owner, the studio's settings and ordinary opening hours, once and never again.

    owner: full_name, call_name, sign_in_name, is_instructor. studio: fields of Studio.
    Raises AlreadyOpen when somebody else was first.
    """
    with transaction.atomic():
        if not is_open():
            raise AlreadyOpen("the studio has its owner already")
        person = Staff(is_owner=True, **owner)
        person.sign_in_name = folded(person.sign_in_name)
        person.set_password(passphrase)
        person.save()
        row = Studio.objects.create(**studio)
        OpeningHour.objects.bulk_create(
            OpeningHour(weekday=day, opens="07:00", closes="20:00") for day in range(6)
        )
        audit.write(actor, "studio.set_up", row)
    _code_file().unlink(missing_ok=True)
    return person
