"""Flags: proposed ones to confirm, active ones, their history; adding, changing, resting, ending, waking."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from clients import wording
from clients.actions import flags as actions
from clients.forms.facts import ConditionFactsForm, facts_initial
from clients.forms.flags import ConditionChoiceForm, InstructionForm, ReasonForm, StateForm
from clients.intake_form import UNSETTLED, questions
from clients.models import Client, Flag
from clients.views.flag_board import board
from studio import clock
from studio.access import opens
from studio.actions import audit
from studio.roles import INSTRUCTOR, OWNER


def _today(request):
    return clock.today(request.studio.zone)


def _flag(request, client, public_id) -> Flag:
    """Return a flag of this client, or 404."""
    flag = Flag.objects.with_state().select_related("client").get_seen(request.user, public_id)
    if flag.client_id != client.pk:
        raise Http404
    return flag


@opens(OWNER, INSTRUCTOR)
def flag_list(request, client):
    """Everything flagged about a client, what it says today and how it came about."""
    client = Client.objects.get_seen(request.user, client)
    audit.write(request.actor, "flags.read", client)
    return _page(request, client)


def _page(request, client, *, status=200, failed=None):
    context = {"client": client, "at": "clients", **board(request.user, client, _today(request), failed)}
    template = "clients/_flag_board.html" if request.htmx else "clients/flags.html"
    if request.htmx:
        context["oob"] = True
    return render(request, template, context, status=status)


@opens(OWNER, INSTRUCTOR, methods=("POST",))
def set_flag_state(request, client, flag):
    """Confirm, refuse, rest, end or wake a flag; answers with the board."""
    client = Client.objects.get_seen(request.user, client)
    flag = _flag(request, client, flag)
    form = StateForm(request.POST, now=flag.state or "", steps=flag.statuses.count())
    if not form.is_valid():
        if {"state", "version"} & set(form.errors):
            raise Http404
        return _page(request, client, status=422, failed=(flag, form))
    _take_step(request, flag, form.cleaned_data)
    if not request.htmx:
        return redirect("clients:flags", client=client.public_id)
    return _page(request, client)


def _take_step(request, flag, data) -> None:
    """Take the step and say so. A message may outlive the sign-in on this device: no health word in it."""
    try:
        actions.set_state(
            actor=request.actor,
            flag=flag,
            state=data["state"],
            reason=data["reason"],
            expected=data["version"],
        )
    except actions.MovedOn:
        messages.warning(request, _("Somebody changed this flag a moment ago. Look again, then choose."))
    except actions.NotPossible:
        messages.warning(request, _("That cannot follow from where this flag is now. Look again."))
    else:
        words = {
            "active": _("The flag counts from now on."),
            "resting": _("The flag rests."),
            "ended": _("The flag has ended."),
        }
        messages.info(request, words[data["state"]])


@opens(OWNER, INSTRUCTOR, methods=("GET", "POST"))
def add_condition(request, client):
    """Add a condition: first which, then what it needs to know, side and date."""
    client = Client.objects.get_seen(request.user, client)
    audit.write(request.actor, "flags.read", client)
    choice = ConditionChoiceForm(request.POST or None)
    context = {"client": client, "choice": choice, "at": "clients"}
    question = questions().get(request.POST.get("condition", ""))
    if question is None:
        status = 422 if choice.errors else 200
        return render(request, "clients/flag_add.html", context, status=status)
    # Until the questions of this condition have been on the page, there is nothing to be wrong about.
    asked = request.POST.get("asked") == question.id and "look" not in request.POST
    facts = _facts_form(request, client, question, bound=asked)
    context |= {"facts": facts, "question": question}
    if not asked:
        choice = context["choice"] = ConditionChoiceForm(
            initial={"condition": question.id, "note": request.POST.get("note", "")}
        )
        return render(request, "clients/flag_add.html", context)
    if choice.is_valid() and facts.is_valid():
        if _added(request, client, _condition_fields(choice, facts)):
            return redirect("clients:flags", client=client.public_id)
        choice.add_error("condition", _("That is on file already, with the same side and date."))
    return render(request, "clients/flag_add.html", context, status=422)


def _facts_form(request, client, question, *, bound, initial=None) -> ConditionFactsForm:
    data = request.POST if bound else None
    return ConditionFactsForm(
        data, question=question, today=_today(request), born=client.birth_date, initial=initial
    )


def _condition_fields(choice, facts) -> dict:
    told = facts.facts()
    return {
        "condition": choice.cleaned_data["condition"],
        "note": choice.cleaned_data["note"],
        "side": told["side"],
        "when": told["when"],
        "event_on": told["on"],
        "due_on": told["due"],
    }


def _added(request, client, fields) -> bool:
    try:
        actions.add(actor=request.actor, client=client, fields=fields)
    except actions.OnFileAlready:
        return False
    messages.info(request, _("On file. The flag counts from now on."))
    return True


@opens(OWNER, INSTRUCTOR, methods=("GET", "POST"))
def add_instruction(request, client):
    """Add what a clinician has said about a kind of movement or one exercise."""
    client = Client.objects.get_seen(request.user, client)
    audit.write(request.actor, "flags.read", client)
    form = InstructionForm(request.POST or None, today=_today(request))
    if request.method == "POST" and form.is_valid():
        if _added(request, client, form.instruction()):
            return redirect("clients:flags", client=client.public_id)
        form.add_error("words", _("That is on file already, word for word."))
    context = {"client": client, "form": form, "at": "clients"}
    status = 422 if form.errors else 200
    return render(request, "clients/instruction_add.html", context, status=status)


@opens(OWNER, INSTRUCTOR, methods=("GET", "POST"))
def change_flag(request, client, flag):
    """Write a changed flag in place of one; the old one ends and stays in the history."""
    client = Client.objects.get_seen(request.user, client)
    flag = _flag(request, client, flag)
    audit.write(request.actor, "flags.read", client)
    if flag.state == "ended":
        messages.warning(request, _("That flag has ended. Wake it, or add a new one."))
        return redirect("clients:flags", client=client.public_id)
    parts = _instruction_parts if flag.about else _condition_parts
    forms, fields = parts(request, client, flag)
    reason = ReasonForm(
        request.POST or None,
        needed=flag.state != "proposed",
        initial={"version": flag.statuses.count()},
    )
    context = {"client": client, "flag": flag, "reason": reason, "at": "clients", **forms}
    context |= {"title": wording.flag_title(flag), "proposed": flag.state == "proposed"}
    context["unsettled"] = flag.about == UNSETTLED
    status = 200
    if request.method == "POST":
        status = 422
        # Every form is looked at, so that every error shows.
        valid = [form.is_valid() for form in (*forms.values(), reason)]
        if all(valid):
            moved = _changed(request, flag, fields(), reason)
            if moved is None:
                return redirect("clients:flags", client=client.public_id)
            context["moved"], status = moved, 409
    return render(request, "clients/flag_change.html", context, status=status)


def _condition_parts(request, client, flag):
    """Return the forms for changing a condition, and a function that gives the new flag's fields."""
    choice = ConditionChoiceForm(
        {"condition": flag.condition, "note": request.POST.get("note", "")} if request.POST else None,
        initial={"condition": flag.condition, "note": flag.note},
    )
    question = questions().get(flag.condition)
    if question is None:
        raise Http404
    facts = _facts_form(
        request, client, question, bound=request.method == "POST", initial=facts_initial(flag)
    )
    return {"choice": choice, "facts": facts}, lambda: _condition_fields(choice, facts)


def _instruction_parts(request, client, flag):
    names = ("about", "verdict", "words", "clinician", "dated", "until_on", "side")
    initial = {name: getattr(flag, name) for name in names}
    if flag.about == UNSETTLED:
        initial["about"] = ""
    initial["side"] = flag.side or "both"
    form = InstructionForm(request.POST or None, today=_today(request), initial=initial)
    return {"form": form}, form.instruction


def _changed(request, flag, fields, reason) -> str | None:
    """Write the change and return None, or the sentence that says why it could not be written."""
    data = reason.cleaned_data
    try:
        actions.change(
            actor=request.actor,
            flag=flag,
            fields=fields,
            reason=data["reason"],
            expected=data["version"] or 0,
        )
    except (actions.MovedOn, actions.NotPossible):
        return _(
            "Somebody changed this flag since you opened it. Nothing is overwritten; yours is kept below."
        )
    messages.info(request, _("Changed. The old entry stays in the history."))
    return None
