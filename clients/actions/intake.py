"""Recording a set of health answers, with the flags they suggest, in one step."""

from django.db import transaction

from clients.intake_form import FORM_VERSION, Proposal, proposed, to_ask
from clients.models import CareProfile, Client, Flag, FlagStatus, Submission
from studio import clock
from studio.actions import audit

audit.register("intake.recorded", "answers.read")


class AlreadyRecorded(Exception):
    """A form is on file, and this person may write one only once and never correct it."""


class TypingSwitchedOff(Exception):
    """The owner has taken the typing of forms from the front desk."""


def record(*, actor: audit.Actor, studio, client, given_by: str, given_on, answers: dict) -> Submission:
    """Keep the answers as given, propose the flags they suggest and return the submission.

    answers: as `clients.intake_form` describes them. What the client has at home and how they like to be
    helped goes into the care profile where that is still empty. Raises AlreadyRecorded or TypingSwitchedOff
    for somebody who may not read health, under the write lock, so that two at once make one.
    """
    with transaction.atomic():
        _may_write(actor.person, studio, client)
        submission = Submission.objects.create(
            client=client,
            form_version=FORM_VERSION,
            given_by=given_by,
            given_on=given_on,
            typed_by=actor.person,
            typed_at=clock.now(),
            answers=answers,
        )
        _propose(actor, submission)
        _fill_care(actor, submission)
        _mark_open_points(client)
        audit.write(actor, "intake.recorded", submission)
    return submission


def _may_write(person, studio, client) -> None:
    if person.reads_health:
        return
    if not studio.desk_types_intake:
        raise TypingSwitchedOff
    if Submission.objects.filter(client=client).exists():
        raise AlreadyRecorded


def _propose(actor, submission: Submission) -> None:
    """Make a proposed flag of each suggestion, except one that says exactly what an open flag says."""
    open_now = {
        _said(flag)
        for flag in Flag.objects.with_state().filter(client=submission.client)
        if flag.state in (FlagStatus.State.PROPOSED, FlagStatus.State.ACTIVE, FlagStatus.State.RESTING)
    }
    for proposal in proposed(submission.answers):
        flag = _flag_of(proposal, submission, actor.person)
        if _said(flag) in open_now:
            continue
        flag.save()
        FlagStatus.objects.create(
            flag=flag, state=FlagStatus.State.PROPOSED, author=actor.person, at=flag.created_at
        )


def _said(flag) -> tuple:
    return (flag.condition, flag.about, flag.side, flag.when, flag.event_on, flag.due_on, flag.words)


def _flag_of(proposal: Proposal, submission: Submission, person) -> Flag:
    return Flag(
        client=submission.client,
        submission=submission,
        condition=proposal.condition,
        side=proposal.side,
        when=proposal.when,
        event_on=proposal.on,
        due_on=proposal.due,
        about=proposal.about,
        words=proposal.words,
        clinician=proposal.by,
        dated=proposal.dated,
        created_by=person,
        created_at=clock.now(),
    )


def _mark_open_points(client) -> None:
    """Keep on the client whether anything is still to be asked: 'not sure' counts as yes until it is."""
    told = Submission.objects.filter(client=client).values_list("answers", flat=True)
    Client.objects.filter(pk=client.pk).update(to_ask=bool(to_ask(told)))


def _fill_care(actor, submission: Submission) -> None:
    """Put home equipment and touch where nothing was noted yet; what an instructor has noted stays."""
    told = {
        "home_equipment": list(submission.answers.get("home") or ()),
        "touch": submission.answers.get("touch") or "",
    }
    if not any(told.values()):
        return
    care = CareProfile.objects.filter(client=submission.client).first()
    if care is None:
        CareProfile.objects.create(client=submission.client, **told)
        return
    empty = [name for name, value in told.items() if value and not getattr(care, name)]
    for name in empty:
        setattr(care, name, told[name])
    if empty:
        care.save_version(care.version, empty, by=actor.person, at=clock.now())
