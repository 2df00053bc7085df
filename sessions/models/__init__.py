"""Import models from here. Plans, records and home practice hang on attendances (named by string)."""

from sessions.models.bookings import Attendance, Booking
from sessions.models.called_back import CallBack, is_called_back, open_call_backs
from sessions.models.home_gates import Gates, HomeRow, may_go_home, off_paper
from sessions.models.home_practice import CallBackClosed, Handout, HomePractice
from sessions.models.own_ways import OwnWay
from sessions.models.passes import Pass, PassEntry, holdings, with_pass_use
from sessions.models.plans import Plan, PlanItem
from sessions.models.records import (
    STOP_FELT,
    Addition,
    Entry,
    EntrySide,
    Felt,
    Incident,
    IncidentNote,
    Quality,
    Range,
    Record,
)
from sessions.models.swaps import EntryInstead, PlanSwap

__all__ = [
    "STOP_FELT",
    "Addition",
    "Attendance",
    "Booking",
    "CallBack",
    "CallBackClosed",
    "Entry",
    "EntryInstead",
    "EntrySide",
    "Felt",
    "Gates",
    "Handout",
    "HomePractice",
    "HomeRow",
    "Incident",
    "IncidentNote",
    "OwnWay",
    "Pass",
    "PassEntry",
    "Plan",
    "PlanItem",
    "PlanSwap",
    "Quality",
    "Range",
    "Record",
    "holdings",
    "may_go_home",
    "off_paper",
    "is_called_back",
    "open_call_backs",
    "with_pass_use",
]
