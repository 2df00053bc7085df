"""A client with words planted in every kind of health row: no page of the front desk may show one of them."""

import datetime as dt

from sessions.demo.factories import (
    AdditionFactory,
    AttendanceFactory,
    BookingFactory,
    CareProfileFactory,
    ClientFactory,
    EntryFactory,
    FlagFactory,
    FlagStatusFactory,
    GoalFactory,
    IncidentFactory,
    IncidentNoteFactory,
    InstructionFactory,
    PlanFactory,
    PlanItemFactory,
    RecordFactory,
    SubmissionFactory,
)

# Each word stands in one kind of row only, so that a leak says where it came from.
WORDS = {
    "flag note": "plantflagnote",
    "flag reason": "plantflagreason",
    "instruction": "plantinstruction",
    "clinician": "plantclinician",
    "answer": "plantanswer",
    "goal": "plantgoal",
    "plan note": "plantplannote",
    "reason to keep": "plantkeepreason",
    "entry note": "plantentrynote",
    "next time": "plantnexttime",
    "client's sentence": "plantsaid",
    "bring back": "plantbringback",
    "leave out": "plantleaveout",
    "addition": "plantaddition",
    "incident note": "plantincident",
}
# What the pages of instructors are made of.
MARKS = ("flag-avoid", "flag-modify", "flag-watch", "body-shape", 'class="carry"', 'class="strip"')
HEALTH = ("Frozen shoulder", "Tingling", "Ask each time", "Hands-on", "No touch", "Pelvic curl")


def plant(instructor, today: dt.date, now: dt.datetime, **client):
    """Return a client who was here last week and comes today, with a planted word in every health row."""
    client = ClientFactory(**client)
    SubmissionFactory(client=client, answers={"hurts": WORDS["answer"]})
    CareProfileFactory(client=client, touch="ask", home_equipment=["band"])
    flag = FlagFactory(
        client=client, condition="frozen_shoulder", side="left", note=WORDS["flag note"],
        created_by=instructor,
    )  # fmt: skip
    FlagStatusFactory(flag=flag, state="active", reason=WORDS["flag reason"])
    InstructionFactory(
        client=client, words=WORDS["instruction"], clinician=WORDS["clinician"], created_by=instructor
    )
    GoalFactory(client=client, words=WORDS["goal"])
    booked = {"instructor": instructor, "wall_time": dt.time(9)}
    before = AttendanceFactory(
        client=client, state="done",
        booking=BookingFactory(wall_day=today - dt.timedelta(days=7), **booked),
    )  # fmt: skip
    record = RecordFactory(
        attendance=before, finished_at=now, next_time=WORDS["next time"], effort=6, pain=3,
        client_words=WORDS["client's sentence"], bring_back=WORDS["bring back"],
        leave_out=WORDS["leave out"],
    )  # fmt: skip
    EntryFactory(record=record, note=WORDS["entry note"], both={"repetitions": 8, "felt": ["tingling"]})
    AdditionFactory(record=record, words=WORDS["addition"])
    incident = IncidentFactory(attendance=before, sign="tingling", side="left")
    IncidentNoteFactory(incident=incident, words=WORDS["incident note"])
    coming = AttendanceFactory(client=client, booking=BookingFactory(wall_day=today, **booked))
    plan = PlanFactory(attendance=coming)
    PlanItemFactory(plan=plan, note=WORDS["plan note"], keep_reason=WORDS["reason to keep"])
    return client


def leaks(page: str) -> list[str]:
    """Return which planted words, health words or marks stand in a page."""
    return [word for word in (*WORDS.values(), *MARKS, *HEALTH) if word in page]
