"""Rows of every kind with sensible values, for the tests and the demo.

They write straight to the tables: a test that is about an action calls the action itself. Sequences, no
chance: the same calls make the same rows (`start_over` sets all sequences back).
"""

from sessions.demo.factories.devices import DeviceFactory, StaffSessionFactory
from sessions.demo.factories.home import (
    CallBackClosedFactory,
    HandoutFactory,
    HomePracticeFactory,
)
from sessions.demo.factories.house import (
    PASSPHRASE,
    AuditEntryFactory,
    DraftFactory,
    ExerciseFactory,
    ExerciseVersionFactory,
    LibraryLoadFactory,
    OfferedSetFactory,
    RoomFactory,
    SpringFactory,
    StaffFactory,
    StudioFactory,
    StudioRuleEndFactory,
    StudioRuleFactory,
    StudioTextFactory,
    TableReviewEndFactory,
    TableReviewFactory,
    UnitFactory,
)
from sessions.demo.factories.passes import PassEntryFactory, PassFactory
from sessions.demo.factories.people import (
    CareProfileFactory,
    ClientFactory,
    FlagFactory,
    FlagStatusFactory,
    GoalFactory,
    GoalRatingFactory,
    InstructionFactory,
    MeasurementFactory,
    SubmissionFactory,
)
from sessions.demo.factories.times import (
    ZONE,
)
from sessions.demo.factories.work import (
    AdditionFactory,
    AttendanceFactory,
    BookingFactory,
    EntryFactory,
    IncidentFactory,
    IncidentNoteFactory,
    OwnWayFactory,
    PlanFactory,
    PlanItemFactory,
    RecordFactory,
)

# Every factory with a sequence of its own; Instruction shares that of Flag.
ALL = [
    StudioFactory,
    StaffFactory,
    DeviceFactory,
    StaffSessionFactory,
    StudioTextFactory,
    RoomFactory,
    UnitFactory,
    SpringFactory,
    StudioRuleFactory,
    StudioRuleEndFactory,
    TableReviewFactory,
    TableReviewEndFactory,
    DraftFactory,
    ExerciseFactory,
    ExerciseVersionFactory,
    LibraryLoadFactory,
    OfferedSetFactory,
    AuditEntryFactory,
    ClientFactory,
    CareProfileFactory,
    SubmissionFactory,
    FlagFactory,
    FlagStatusFactory,
    GoalFactory,
    GoalRatingFactory,
    MeasurementFactory,
    BookingFactory,
    AttendanceFactory,
    PlanFactory,
    PlanItemFactory,
    RecordFactory,
    EntryFactory,
    AdditionFactory,
    IncidentFactory,
    IncidentNoteFactory,
    OwnWayFactory,
    HomePracticeFactory,
    HandoutFactory,
    CallBackClosedFactory,
    PassFactory,
    PassEntryFactory,
]

__all__ = [
    "DeviceFactory",
    "StaffSessionFactory",
    "ALL",
    "PASSPHRASE",
    "ZONE",
    "start_over",
    "StudioFactory",
    "StaffFactory",
    "StudioTextFactory",
    "RoomFactory",
    "UnitFactory",
    "SpringFactory",
    "StudioRuleFactory",
    "StudioRuleEndFactory",
    "TableReviewFactory",
    "TableReviewEndFactory",
    "DraftFactory",
    "ExerciseFactory",
    "ExerciseVersionFactory",
    "LibraryLoadFactory",
    "OfferedSetFactory",
    "AuditEntryFactory",
    "ClientFactory",
    "CareProfileFactory",
    "SubmissionFactory",
    "FlagFactory",
    "InstructionFactory",
    "MeasurementFactory",
    "FlagStatusFactory",
    "GoalFactory",
    "GoalRatingFactory",
    "BookingFactory",
    "AttendanceFactory",
    "PlanFactory",
    "PlanItemFactory",
    "RecordFactory",
    "EntryFactory",
    "AdditionFactory",
    "IncidentFactory",
    "IncidentNoteFactory",
    "OwnWayFactory",
    "HomePracticeFactory",
    "HandoutFactory",
    "CallBackClosedFactory",
    "PassFactory",
    "PassEntryFactory",
]


def start_over() -> None:
    """Set every sequence back to its beginning."""
    for made in ALL:
        made.reset_sequence(0, force=True)
