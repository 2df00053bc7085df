"""Import models from here. Inside, `base` comes first and nothing imports a file that imports it back."""

from studio.models.audit import AuditEntry
from studio.models.base import AppendOnly, Door, EditableRow, PublicRow, Stale, new_public_id
from studio.models.codes import OneTimeCode
from studio.models.devices import Device, KeptText, Pin, Presence, StaffSession
from studio.models.network import Network
from studio.models.places import Absence, ClosedDay, OpeningHour, Paper, Room, Studio, Units
from studio.models.staff import SignInTry, Staff
from studio.models.texts import StudioText

__all__ = [
    "Absence",
    "AppendOnly",
    "AuditEntry",
    "ClosedDay",
    "Device",
    "Door",
    "EditableRow",
    "KeptText",
    "Network",
    "OneTimeCode",
    "OpeningHour",
    "Paper",
    "Pin",
    "Presence",
    "PublicRow",
    "Room",
    "SignInTry",
    "Staff",
    "StaffSession",
    "Stale",
    "Studio",
    "StudioText",
    "Units",
    "new_public_id",
]
