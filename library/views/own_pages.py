"""What the pages of an exercise that is being written share: the draft through its door, and the trail of steps."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext as _

from library import own_exercise, own_wording
from library.models import ExerciseDraft

BACK_TO_LIST = "library:own"


def draft_of(request, public_id) -> ExerciseDraft:
    rows = ExerciseDraft.objects.select_related("exercise__current", "base", "begun_by", "changed_by")
    return rows.get_seen(request.user, public_id)


def over(request, draft):
    messages.info(request, _("This draft has been kept or put away already."))
    if draft.exercise_id:
        return redirect("library:exercise", draft.exercise.public_id)
    return redirect(BACK_TO_LIST)


def steps_of(draft, here: str) -> dict:
    """Return the trail of steps, with what is still to do in each, and the name on the page."""
    to_do = own_exercise.steps_to_do(draft.payload)
    rows = [
        {
            "name": name,
            "url": step_url(draft, step),
            "here": step == here,
            "to_do": step in to_do or (step == "demands" and draft.payload["facts"]["demands"] is None),
        }
        for step, name in own_wording.STEPS.items()
    ]
    title = str(draft) or _("A new exercise")
    look = {"url": look_url(draft), "here": here == "look"}
    return {
        "steps": rows,
        "look": look,
        "title": title,
        "step_name": own_wording.STEPS.get(here),
        "at": "library",
    }


def step_url(draft, step: str) -> str:
    return reverse("library:own_step", args=[draft.public_id, step])


def look_url(draft) -> str:
    return reverse("library:own_look", args=[draft.public_id])


def next_url(draft, step: str) -> str:
    """Return the address of the step after this one; after the last it is the look at the whole."""
    steps = list(own_wording.STEPS)
    place = steps.index(step) + 1
    return step_url(draft, steps[place]) if place < len(steps) else look_url(draft)


def posted_number(request, name: str) -> int:
    """Return a whole number that a page of ours sends along; anything else was no page of ours."""
    typed = request.POST.get(name, "")
    if not typed.isdecimal() or len(typed) > 9:
        raise Http404
    return int(typed)
