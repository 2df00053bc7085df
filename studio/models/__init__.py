"""Import models from here. Inside, `base` comes first and nothing imports a file that imports it back."""

from studio.models.audit import AuditEntry
from studio.models.base import AppendOnly, Door, EditableRow, PublicRow, Stale, new_public_id
from studio.models.places import Absence, ClosedDay, OpeningHour, Paper, Room, Studio, Units
from studio.models.staff import SignInTry, Staff

__all__ = [
    "Absence",
    "AppendOnly",
    "AuditEntry",
    "ClosedDay",
    "Door",
    "EditableRow",
    "OpeningHour",
    "Paper",
    "PublicRow",
    "Room",
    "SignInTry",
    "Staff",
    "Stale",
    "Studio",
    "Units",
    "new_public_id",
]
