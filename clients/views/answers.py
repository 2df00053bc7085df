"""A submission made ready for the page: what was recorded, in words, whatever it holds."""

from clients import intake_form, wording
from clients.models import Submission, Touch


def shown(submission: Submission) -> dict:
    """Return a submission as the answers page shows it: head, groups, a clinician's limits, the free words."""
    answers = submission.answers or {}
    return {
        "row": submission,
        "given_by": submission.get_given_by_display(),
        "note": wording.record_note(submission.given_on),
        "groups": _groups(answers),
        "others": _others(answers),
        "limits": _limits(answers),
        "texts": [(wording.TEXTS[name], answers[name]) for name in intake_form.TEXTS if answers.get(name)],
        "home": wording.home_words(answers.get("home")),
        "touch": dict(Touch.choices).get(answers.get("touch")) if answers.get("touch") else "",
    }


def _groups(answers: dict) -> list[dict]:
    told, given = answers.get("conditions") or {}, answers.get("groups") or {}
    found = []
    for group, conditions in intake_form.groups():
        named = [wording.told_words(q.id, told[q.id] or {}) for q in conditions if q.id in told]
        answer = given.get(group)
        if answer is None and not named:
            continue
        word = wording.ANSWERS.get(answer, answer or "")
        found.append(
            {"heading": wording.group_heading(group), "answer": word, "code": answer, "named": named}
        )
    return found


def _others(answers: dict) -> list[str]:
    """Return conditions that the table of today does not know, so that nothing recorded goes missing."""
    told = answers.get("conditions") or {}
    return [
        wording.told_words(name, told[name] or {}) for name in told if name not in intake_form.questions()
    ]


def _limits(answers: dict) -> dict | None:
    limits = answers.get("limits") or {}
    if not limits.get("words"):
        return None
    dated = intake_form.date_of(limits.get("dated"))
    return {"words": limits["words"], "by": limits.get("by", ""), "dated": dated}
