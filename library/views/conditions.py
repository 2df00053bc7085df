"""The conditions of the rule table to read in: what each asks of the instructor. No client here."""

from django.http import Http404
from django.shortcuts import render

from library import condition_wording, tables, wording
from library.condition_page import rules_by_verdict
from library.forms.conditions import ConditionSearchForm
from library.models import table_in_force
from library.verdicts import VERDICTS
from studio.access import opens
from studio.roles import INSTRUCTOR, OWNER


@opens(OWNER, INSTRUCTOR)
def condition_list(request):
    form, table = ConditionSearchForm(request.GET), table_in_force()
    found = [row for row in table.conditions.values() if form.is_valid() and form.matches(row)]
    page = {
        "form": form,
        "groups": _by_group(found, table),
        "count": len(found),
        "total": len(table.conditions),
        "at": "library",
    }
    return render(request, "library/_conditions.html" if request.htmx else "library/conditions.html", page)


def _by_group(rows, table) -> list[dict]:
    groups = {row["id"]: [] for row in tables.rule_data()["condition_groups"]}
    for row in rows:
        by_verdict = rules_by_verdict(row["id"], table)
        counts = [(verdict, len(by_verdict[verdict])) for verdict in VERDICTS if verdict in by_verdict]
        label = wording.condition_label(row["id"])
        groups[row["group"]].append({"id": row["id"], "label": label, "counts": counts})
    return [
        {"label": wording.condition_group_label(group), "conditions": members}
        for group, members in groups.items()
        if members
    ]


@opens(OWNER, INSTRUCTOR)
def condition(request, condition):
    table = table_in_force()
    row = table.conditions.get(condition)
    if row is None:
        raise Http404
    page = {
        "condition": row,
        "label": wording.condition_label(condition),
        "group": wording.condition_group_label(row["group"]),
        "counted_from": condition_wording.counted_from(row),
        "note": condition_wording.said(row["note"]),
        "evidence": condition_wording.EVIDENCE[row["evidence"]],
        "clinic": condition_wording.clinic(row),
        "sections": condition_wording.sections(condition, table),
        "picture": condition_wording.picture(condition, table),
        "session_notes": [condition_wording.said(note) for note in row["session_notes"]],
        "stop_signs": condition_wording.stop_signs(),
        "check_in": condition_wording.check_in(),
        "left": condition_wording.library_left(condition, table),
        "sources": condition_wording.sources(condition, table),
        "at": "library",
    }
    return render(request, "library/condition.html", page)
