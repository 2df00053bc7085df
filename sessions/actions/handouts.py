"""Issuing a handout, and closing one that was called back."""

import datetime as dt
import logging
from dataclasses import dataclass

from django.db import transaction
from django.db.models import Max
from django.template.loader import render_to_string

from library import vocabulary_wording
from sessions import handout as paper
from sessions import home_rules, own_limits, pdf, planning
from sessions.models import (
    Attendance,
    CallBack,
    CallBackClosed,
    Gates,
    Handout,
    HomePractice,
    HomeRow,
    OwnWay,
    may_go_home,
    open_call_backs,
)
from studio import clock
from studio.actions import audit
from studio.models import Stale

audit.register("handout.issued", "handout.read", "call_back.closed")

log = logging.getLogger(__name__)

# How often a page is made again because another handout took its number meanwhile.
TRIES = 3


class NotReady(Exception):
    """The sheet cannot be issued as it stands: too few or too many exercises, or rows that need something."""


class NotLookedOver(Exception):
    """More than how far it goes would be another on the page than on the one it is to be like."""


class NothingToClose(Exception):
    """The handout is not called back, or somebody closed it or issued another one first."""


@dataclass(frozen=True)
class Draft:
    """A handout that could be issued now: its payload and what it was made from. limits: by key of the exercise."""

    payload: paper.Handout
    rows: list[HomeRow]
    practice: HomePractice
    pace: planning.Pace
    limits: dict[int, dict]

    def differs_in_limits_only(self, issued: dict) -> bool:
        """Return whether the page would hold what a kept payload holds, but for how far it goes, number and days."""
        return _but_for_limits(paper.as_json(self.payload)) == _but_for_limits(issued)

    def html(self, *, for_pdf: bool = True) -> str:
        return render_to_string("handouts/handout.html", {"payload": self.payload, "for_pdf": for_pdf})


# What is another on every new page of one sheet.
_OF_ITS_DAY = ("number", "version", "issued", "start", "look_again")


def _but_for_limits(payload: dict) -> dict:
    items = [{name: value for name, value in item.items() if name != "limits"} for item in payload["items"]]
    return {name: value for name, value in payload.items() if name not in _OF_ITS_DAY} | {"items": items}


def draft(*, studio, client, today: dt.date) -> Draft:
    """Return the client's sheet as a handout with the next number. Writes nothing.

    Raises NotReady while a row needs something, and sessions.handout.HandoutError for what the page lacks.
    """
    practice = HomePractice.objects.filter(client=client).first()
    gates = Gates.of(client, today)
    rows = gates.rows(practice.items if practice else [])
    counted = home_rules.FEWEST <= len(rows) <= home_rules.MOST_AGREED
    if not counted or any(row.needs or not may_go_home(row.exercise) for row in rows):
        raise NotReady
    limits = OwnWay.objects.limits_of(client.pk)
    payload = paper.build(
        number=(Handout.objects.aggregate(most=Max("number"))["most"] or 0) + 1,
        version=Handout.objects.filter(client=client).count() + 1,
        issued=today,
        look_again=look_again(client, practice, today),
        client=client.call_name,
        studio=studio.name,
        telephone=studio.telephone,
        emergency=studio.emergency_number,
        language=studio.locale,
        paper=studio.paper,
        large=practice.large_print,
        when=practice.moment,
        minutes=home_rules.minutes(sum(row.seconds for row in rows)),
        items=[_printed(row, limits.get(row.exercise.pk)) for row in rows],
        more_agreed=len(rows) > home_rules.MOST,
    )
    return Draft(payload, rows, practice, gates.pace, limits)


def look_again(client, practice: HomePractice | None, today: dt.date) -> dt.date | None:
    """Return the day for looking at the sheet again: the one chosen, else that of the next booking."""
    chosen = practice.look_again_on if practice else None
    if chosen and chosen >= today:
        return chosen
    coming = Attendance.objects.filter(
        client=client, booking__wall_day__gt=today, state__in=("booked", "arrived")
    )
    return coming.order_by("booking__wall_day").values_list("booking__wall_day", flat=True).first()


def _printed(row: HomeRow, limits: dict | None) -> dict:
    """Return an exercise as the payload takes it: words for the client, nothing of why."""
    version, item = row.exercise.current, row.item
    text = version.text["client"]
    sentences = [vocabulary_wording.adaptation_at_home(code) for code in item["adaptations"]]
    return {
        "exercise": row.exercise.key,
        "version": version.number,
        "name": version.name,
        "pose": version.pose,
        "dose": home_rules.dose(item, version.facts),
        "often": home_rules.often(item),
        "how": text["how"],
        "breath": text["breath"],
        "easier": text["easier"],
        "cue": item["cue"],
        "adaptations": [*sentences, item["change"]],
        "limits": own_limits.with_effect(version.pose, limits),
        "props": [vocabulary_wording.home_prop(prop) for prop in version.facts["home_props"]],
    }


def issue(*, actor, studio, client, expected: int, today: dt.date, like: Handout | None = None) -> Handout:
    """Issue the client's sheet as it stands at the expected version; it replaces the current handout.

    like: a handout it may differ from in how far it goes alone, since nobody has looked it over.

    The PDF is made before the transaction begins, so that no lock is held while it is. Inside, the page is
    put together again: only what was printed is kept. Where no PDF can be made the row is kept without one.
    Raises Stale, NotReady, NotLookedOver and sessions.handout.HandoutError.
    """
    for _turn in range(TRIES):
        printed = _at(draft(studio=studio, client=client, today=today), expected)
        if like is not None and not printed.differs_in_limits_only(like.payload):
            raise NotLookedOver
        data = pdf_of(printed.html())
        with transaction.atomic():
            now = _at(draft(studio=studio, client=client, today=today), expected)
            if now.payload == printed.payload:
                return _kept(actor, client, now, data, expected, today)
    raise Stale(now.practice)


def _at(made: Draft, expected: int) -> Draft:
    if made.practice.version != expected:
        raise Stale(made.practice)
    return made


def pdf_of(html: str, **patience) -> bytes | None:
    """Return a handout's bytes, or None where this machine makes none: the browser prints it then.

    patience: timeout in seconds, where it is not to be the usual one of sessions.pdf.
    """
    able, reason = pdf.available(**patience)
    if not able:
        log.warning("a handout is issued without a PDF: %s", reason)
        return None
    try:
        return pdf.make_pdf(html, **patience)
    except pdf.PdfError as error:
        log.warning("a handout is issued without a PDF: %s", error)
        return None


def _kept(actor, client, made: Draft, data: bytes | None, expected: int, today: dt.date) -> Handout:
    handout = row_of(author=actor.person, client=client, made=made, today=today)
    handout.pdf = data
    handout.save(force_insert=True)
    # One more version, so that a second touch on the button does not issue the same sheet again.
    made.practice.save_version(expected, [], by=actor.person, at=clock.now())
    audit.write(actor, "handout.issued", handout)
    return handout


def row_of(*, author, client, made: Draft, today: dt.date) -> Handout:
    """Return a draft as the handout it would be if issued now, without its PDF and not yet in the database."""
    here = Attendance.objects.filter(
        client=client, booking__wall_day=today, state__in=Attendance.HOLDING
    ).order_by("booking__starts_at")
    return Handout(
        client=client,
        attendance=here.first(),
        number=made.payload.number,
        version=made.payload.version,
        issued_on=today,
        issued_at=clock.now(),
        author=author,
        replaces=Handout.objects.current().filter(client=client).first(),
        payload=paper.as_json(made.payload),
        verdicts=[_pinned(row, made) for row in made.rows],
        table_version=made.rows[0].verdict["table_version"],
    )


def _pinned(row: HomeRow, made: Draft) -> dict:
    return {
        "exercise": row.exercise.key,
        "version_id": row.exercise.current_id,
        "sides": row.item["sides"],
        "adaptations": row.item["adaptations"],
        "seconds": planning.row_seconds(row.judged.time, made.pace),
        "limits": made.limits.get(row.exercise.pk, {}),
        "verdict": row.verdict,
    }


def close_call_back(*, actor, handout: Handout, reason: str, today: dt.date) -> CallBackClosed:
    """Write down how a handout that was called back has been dealt with. Raises NothingToClose."""
    with transaction.atomic():
        found: list[CallBack] = open_call_backs(actor.person, today, client=handout.client)
        call_back = next((one for one in found if one.handout.pk == handout.pk), None)
        if call_back is None:
            raise NothingToClose
        closed = CallBackClosed.objects.create(
            handout=handout,
            flag_ids=call_back.flag_ids,
            verdicts=call_back.verdicts,
            limits=call_back.limits,
            reason=reason,
            author=actor.person,
            at=clock.now(),
        )
        audit.write(actor, "call_back.closed", handout)
        return closed
