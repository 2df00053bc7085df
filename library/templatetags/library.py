"""What pages need to show an exercise: `{% load library %}`."""

import json
from functools import lru_cache

from django import template
from django.urls import reverse
from django.utils.html import format_html
from django.utils.safestring import mark_safe
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from library import body, facts_wording, pose_wording, tables, vocabulary_wording, wording
from library.models import TableReview, table_in_force

register = template.Library()

# Sentences about figures that are kept: each exercise at its end, on both sides.
TOLD = 1024


@register.simple_tag
def exercise_figure(exercise, phase, side=None, paint="screen", title="", describe=False):
    """Draw an exercise, or one of its versions, at its 'start' or 'end'.

    side: 'left' or 'right' paints the working limb and names its side; None draws it plain.
    title: the text alternative; without one it is made from the name, the phase and the side.
    describe: also say what the body does, made from the pose; for the figures one reads, not for lists.
    The drawing is kept by `library.body`. Where nothing is drawn yet an empty place of the same size stands
    instead, with a few quiet words if it is large enough to hold them.
    """
    version = getattr(exercise, "current", exercise)
    pose = version.pose if version else None
    if not pose:
        return format_html('<span class="fig-none"><span>{}</span></span>', _("No drawing yet"))
    side = side if side in ("left", "right") else None
    words = title or _figure_title(version, phase, side)
    about = told(pose, phase, side) if describe else ""
    return mark_safe(body.figure(pose, phase=phase, side=side, paint=paint, title=words, description=about))


def _figure_title(version, phase: str, side: str | None) -> str:
    texts = {
        ("start", None): _("%(name)s, start"),
        ("end", None): _("%(name)s, end"),
        ("start", "left"): _("%(name)s, start, left"),
        ("end", "left"): _("%(name)s, end, left"),
        ("start", "right"): _("%(name)s, start, right"),
        ("end", "right"): _("%(name)s, end, right"),
    }
    return texts[phase, side] % {"name": version.name}


def told(pose: dict, phase: str, side: str | None) -> str:
    """Return `pose_wording.describe`, kept by what the pose says and by the language."""
    return _told(json.dumps(pose), phase, side, get_language())


@lru_cache(maxsize=TOLD)
def _told(pose: str, phase: str, side: str | None, _language: str | None) -> str:
    return pose_wording.describe(json.loads(pose), phase, side)


@register.simple_tag
def pose_figure(pose, phase, name):
    """Draw a pose that is no version yet, plain or with its right side working."""
    side = "right" if "side" in pose else None
    about = pose_wording.describe(pose, phase, side)
    return mark_safe(body.figure(pose, phase=phase, side=side, title=name, description=about))


@register.simple_tag(takes_context=True)
def review_line(context):
    """Say whether a licensed clinician has reviewed the rule table in force; asked once for a request.

    A view that knows the table already says so by `request.rule_table`.
    """
    return review_words(getattr(context, "request", None))


def review_words(request) -> str:
    """Return what `review_line` says, for a view that has to know it; request: None looks it up anew."""
    known = getattr(request, "review_words", None)
    if known is None:
        version = (getattr(request, "rule_table", None) or table_in_force()).version
        known = wording.review_words(version, TableReview.objects.speaking_for(version))
        if request is not None:
            request.review_words = known
    return known


@register.filter
def in_words(value, list_name):
    """Words for one value of a closed list: `{{ facts.level|in_words:"level" }}`; empty for None."""
    return vocabulary_wording.label(list_name, value) if value else ""


@register.filter
def at(rows, key):
    """The entry of a mapping under a key that the page works out: `{{ said.slots|at:row.id }}`."""
    return rows[key]


@register.filter
def all_in_words(values, list_name):
    """Words for several values of a closed list: `{{ facts.skills|all_in_words:"skill"|join:", " }}`."""
    return vocabulary_wording.labels(list_name, values)


@register.filter
def level_meaning(level):
    return vocabulary_wording.level_meaning(level)


@register.filter
def repetitions(facts):
    return facts_wording.repetitions(facts)


@register.filter
def right_means(facts):
    """What 'right' means in the record of a sided exercise."""
    return vocabulary_wording.right_means(facts["side_means"])


@register.filter
def spring_usual(facts):
    return vocabulary_wording.spring_usual(facts)


@register.filter
def spring_direction(facts):
    return vocabulary_wording.spring_direction(facts)


@register.filter
def demand_short(demand):
    """A movement demand in at most four words."""
    return wording.demand_short(demand)


@register.filter
def demand_definition(demand):
    return wording.demand_definition(demand)


@register.filter
def condition_url(condition):
    """The address of the page about a condition; empty for one that the rule table does not know."""
    known = condition in tables.rule_table().conditions
    return reverse("library:condition", args=[condition]) if known else ""
