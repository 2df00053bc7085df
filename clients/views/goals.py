"""Goals: adding, changing the words, the client's number, reached, put aside, open again."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from clients.actions import goals as actions
from clients.forms.goal_targets import TargetForm
from clients.forms.goals import RATINGS, GoalForm, GoalStateForm, RatingForm, WordsForm
from clients.models import Client, Goal, Submission
from library import measure_wording
from studio import clock
from studio.access import opens
from studio.actions import audit
from studio.models import Stale
from studio.roles import INSTRUCTOR, OWNER


def _client(request, public_id) -> Client:
    return Client.objects.get_seen(request.user, public_id)


def _goal(request, client, public_id) -> Goal:
    goal = Goal.objects.get_seen(request.user, public_id)
    if goal.client_id != client.pk:
        raise Http404
    return goal


def _show(request, client, *, form=None, failed=None, status=200):
    """Show the goals. failed: {goal id: what stands at that goal, such as form or conflict}."""
    goals = Goal.objects.seen_by(request.user).filter(client=client).prefetch_related("ratings")
    cards = [_card(goal, (failed or {}).get(goal.pk, {})) for goal in goals]
    open_goals = [card for card in cards if card["goal"].state == Goal.State.OPEN]
    context = {
        "client": client,
        "form": form or GoalForm(),
        "goals": open_goals,
        "closed": [card for card in cards if card["goal"].state != Goal.State.OPEN],
        "wishes": _wishes(request, client, {card["goal"].words.casefold() for card in cards}),
        "at": "clients",
    }
    return render(request, "clients/goals.html", context, status=status)


def _card(goal: Goal, failed: dict) -> dict:
    ratings = list(goal.ratings.all())
    return {
        "goal": goal,
        "first": ratings[0] if len(ratings) > 1 else None,
        "latest": ratings[-1] if ratings else None,
        "ratings": ratings,
        "choices": RATINGS,
        "words": goal.words,
        "version": goal.version,
        "aim": TargetForm.of(goal),
        "aim_words": measure_wording.goal_words(goal),
        **failed,
    }


def _wishes(request, client, known: set[str]) -> list[str]:
    """Return the wishes of the newest form that are no goal yet, a line each."""
    newest = Submission.objects.seen_by(request.user).filter(client=client).first()
    words = (newest.answers.get("wishes") or "") if newest else ""
    lines = (line.strip(" \t-•*")[:240] for line in words.splitlines())
    return [line for line in dict.fromkeys(lines) if line and line.casefold() not in known]


@opens(OWNER, INSTRUCTOR)
def goal_list(request, client):
    client = _client(request, client)
    audit.write(request.actor, "goals.read", client)
    return _show(request, client)


@opens(OWNER, INSTRUCTOR, methods=("POST",))
def add_goal(request, client):
    client = _client(request, client)
    form = GoalForm(request.POST)
    if not form.is_valid():
        return _show(request, client, form=form, status=422)
    today = clock.today(request.studio.zone)
    actions.add(actor=request.actor, client=client, words=form.cleaned_data["words"], on=today)
    messages.info(request, _("On file. Ask for a number from 0 to 10."))
    return redirect("clients:goals", client=client.public_id)


@opens(OWNER, INSTRUCTOR, methods=("POST",))
def change_goal(request, client, goal):
    """Change the words. Of two at once the second sees both texts, and the typed one stays."""
    client = _client(request, client)
    goal = _goal(request, client, goal)
    form = WordsForm(request.POST)
    typed = {"words": request.POST.get("words", ""), "version": request.POST.get("version", "")}
    if not form.is_valid():
        if "version" in form.errors:
            raise Http404
        failed = {goal.pk: {**typed, "error": " ".join(form.errors["words"])}}
        return _show(request, client, failed=failed, status=422)
    try:
        actions.change_words(
            actor=request.actor,
            goal=goal,
            words=form.cleaned_data["words"],
            expected=form.cleaned_data["version"],
        )
    except Stale as stale:
        return _show(request, client, failed={goal.pk: _both(stale.current, typed["words"])}, status=409)
    messages.info(request, _("Saved."))
    return redirect("clients:goals", client=client.public_id)


def _both(now: Goal, typed: str) -> dict:
    pair = {"label": _("Goal"), "theirs": now.words, "yours": typed}
    return {
        "words": typed,
        "version": now.version,
        "conflict": {"who": now.changed_by, "when": now.changed_at, "pairs": [pair]},
    }


@opens(OWNER, INSTRUCTOR, methods=("POST",))
def aim_goal(request, client, goal):
    """Give a goal a number to reach, or take it off."""
    client = _client(request, client)
    goal = _goal(request, client, goal)
    form = TargetForm.of(goal, request.POST)
    if not form.is_valid():
        if "version" in form.errors:
            raise Http404
        return _show(request, client, failed={goal.pk: {"aim": form}}, status=422)
    wanted = form.cleaned_data
    try:
        actions.aim(
            actor=request.actor,
            goal=goal,
            measure=wanted["measure"],
            side=wanted["side"],
            target=wanted["target"],
            by=wanted["by"],
            expected=wanted["version"],
        )
    except Stale as stale:
        now = stale.current
        theirs = measure_wording.goal_words(now) or _("no number")
        form.data = form.data.copy()
        form.data["version"] = now.version
        form.add_error(None, _("%(who)s has saved meanwhile: %(theirs)s. Save again to put yours in its place.") % {
            "who": now.changed_by, "theirs": theirs,
        })  # fmt: skip
        return _show(request, client, failed={goal.pk: {"aim": form}}, status=409)
    messages.info(request, _("Saved."))
    return redirect("clients:goals", client=client.public_id)


@opens(OWNER, INSTRUCTOR, methods=("POST",))
def rate_goal(request, client, goal):
    client = _client(request, client)
    goal = _goal(request, client, goal)
    form = RatingForm(request.POST)
    if not form.is_valid():
        failed = {goal.pk: {"rating_error": " ".join(form.errors["value"])}}
        return _show(request, client, failed=failed, status=422)
    today = clock.today(request.studio.zone)
    actions.rate(actor=request.actor, goal=goal, value=form.cleaned_data["value"], on=today)
    messages.info(request, _("Noted."))
    return redirect("clients:goals", client=client.public_id)


@opens(OWNER, INSTRUCTOR, methods=("POST",))
def set_goal_state(request, client, goal):
    client = _client(request, client)
    goal = _goal(request, client, goal)
    form = GoalStateForm(request.POST)
    if not form.is_valid():
        raise Http404
    try:
        actions.set_state(
            actor=request.actor,
            goal=goal,
            state=form.cleaned_data["state"],
            on=clock.today(request.studio.zone),
            expected=form.cleaned_data["version"],
        )
    except Stale:
        messages.warning(request, _("Somebody changed this goal a moment ago. Look again, then choose."))
    return redirect("clients:goals", client=client.public_id)
