"""The rule table in the studio's hands: its own stricter rules, and who has reviewed it."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from library import rule_wording, wording
from library.actions import rules as actions
from library.forms.rules import ConditionForm, EndForm, ReviewForm, StricterForm
from library.models import StudioRule, TableReview, table_in_force
from library.stricter import rules_on, said, stricter_than
from studio import clock
from studio.access import opens
from studio.actions.reauth import asks_again
from studio.roles import INSTRUCTOR, OWNER


@opens(OWNER, INSTRUCTOR)
def rules(request):
    """Which version is in force, the studio's own rules, and the reviews. Only the owner changes any of it."""
    rows = StudioRule.objects.seen_by(request.user).select_related("by", "end__by")
    reviews = TableReview.objects.seen_by(request.user).select_related("by", "end__by")
    table = table_in_force()
    page = {
        "version": table.version,
        "shipped": sum(1 for rule in table.rules if not rule.by),
        "standing": [_card(row) for row in rows if not _is_over(row)],
        "ended": [_card(row) for row in rows if _is_over(row)],
        "reviews": [
            {"row": row, "over": _is_over(row), "now": row.table_version == table.version} for row in reviews
        ],
        "at": "studio" if request.user.is_owner else "library",
    }
    return render(request, "library/rules.html", page)


@opens(OWNER, methods=("GET", "POST"))
@asks_again()
def rule_new(request):
    """A stricter rule in three steps: for which condition, on which movement, what and why."""
    asked = request.POST if request.method == "POST" else request.GET
    table = table_in_force()
    condition, demand = asked.get("condition", ""), asked.get("demand", "")
    if not demand and request.method == "GET":
        return _pick(request, table, condition)
    if condition not in table.conditions or demand not in table.demands:
        raise Http404
    form = StricterForm(request.POST or None, table=table, condition=condition, demand=demand)
    if request.method == "POST" and form.is_valid() and _made(request, form):
        messages.info(request, _("Noted. It counts from now on, in plans and at home."))
        return redirect("library:rules")
    page = {
        "form": form,
        "condition": wording.condition_label(condition),
        "condition_id": condition,
        "demand": demand,
        "now": [_line(rule) for rule in form.rules],
        "at": "studio",
    }
    return render(request, "library/rule_new.html", page, status=422 if form.errors else 200)


def _pick(request, table, condition: str):
    form = ConditionForm(request.GET if condition else None)
    page = {"form": form, "at": "studio"}
    if condition and form.is_valid():
        page["condition"] = wording.condition_label(condition)
        page["condition_id"] = condition
        found = [_of_demand(table, condition, demand) for demand in table.demands]
        page["spoken"] = [row for row in found if row["rules"]]
        page["silent"] = [row for row in found if not row["rules"]]
    return render(request, "library/rule_pick.html", page, status=422 if form.errors else 200)


def _of_demand(table, condition: str, demand: str) -> dict:
    rules_here = rules_on(table, condition, demand)
    return {
        "demand": demand,
        "rules": [_line(rule) for rule in rules_here],
        "may": bool(stricter_than(said(table, condition, demand))),
    }


def _made(request, form) -> bool:
    """Write the rule; put the sentence at the field where another owner was first."""
    try:
        actions.make_stricter(actor=request.actor, today=_today(request), **form.rule())
    except actions.NotStricter as error:
        form.add_error("verdict", form.not_stricter(error.says))
        return False
    return True


@opens(OWNER, methods=("GET", "POST"))
@asks_again()
def rule_end(request, rule):
    row = StudioRule.objects.select_related("by", "end").get_seen(request.user, rule)
    form = EndForm(request.POST or None)
    page = {"form": form, "card": _card(row), "at": "studio"}
    return _ended(request, form, page, "library/rule_end.html", actions.end_rule, rule=row)


@opens(OWNER, methods=("GET", "POST"))
@asks_again()
def review_new(request):
    initial = {"table_version": table_in_force().version}
    form = ReviewForm(request.POST or None, today=_today(request), initial=initial)
    if request.method == "POST" and form.is_valid():
        actions.record_review(actor=request.actor, values=form.cleaned_data)
        messages.info(request, _("Recorded."))
        return redirect("library:rules")
    page = {"form": form, "version": initial["table_version"], "at": "studio"}
    return render(request, "library/review_new.html", page, status=422 if form.errors else 200)


@opens(OWNER, methods=("GET", "POST"))
@asks_again()
def review_withdraw(request, review):
    row = TableReview.objects.select_related("by", "end").get_seen(request.user, review)
    form = EndForm(request.POST or None)
    page = {"form": form, "review": row, "at": "studio"}
    return _ended(request, form, page, "library/review_withdraw.html", actions.withdraw_review, review=row)


def _ended(request, form, page: dict, template: str, end, **row):
    """Ask why, end the row, and say so where somebody else ended it first."""
    thing = next(iter(row.values()))
    if _is_over(thing):
        messages.info(request, _("That has ended already."))
        return redirect("library:rules")
    if request.method == "POST" and form.is_valid():
        try:
            end(actor=request.actor, reason=form.cleaned_data["reason"], **row)
            messages.info(request, _("Ended. It stays on file."))
        except actions.Over:
            messages.info(request, _("That has ended already."))
        return redirect("library:rules")
    return render(request, template, page, status=422 if form.errors else 200)


def _is_over(row) -> bool:
    return getattr(row, "end", None) is not None


def _card(row: StudioRule) -> dict:
    return {
        "row": row,
        "condition": wording.condition_label(row.condition),
        "demand": wording.demand_label(row.demand),
        "when": rule_wording.window_words(row.window),
        "end": getattr(row, "end", None),
    }


def _line(rule) -> dict:
    """Return one rule of the table as the page lists it."""
    return {
        "id": rule.id,
        "verdict": rule.verdict,
        "when": rule_wording.rule_window(rule),
        "reason": _(rule.reason) if rule.reason and not rule.by else rule.reason,
        "sure": wording.how_sure(rule),
        "own": bool(rule.by),
    }


def _today(request):
    return clock.today(request.studio.zone)
