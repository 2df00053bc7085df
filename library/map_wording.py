"""What maps and transfer views say besides the names of exercises, through gettext."""

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from library import vocabulary_wording


def column(name: str) -> str:
    """Return the heading of a column of the transfer view."""
    return _("Home: standing, props") if name == "home" else vocabulary_wording.apparatus(name)


def around(name: str) -> str:
    return _("Easier below, harder above, around %(name)s") % {"name": name}


def skill_title(skill: str) -> str:
    return _("Exercises for: %(skill)s. Easier below, harder above") % {
        "skill": vocabulary_wording.label("skill", skill)
    }


def rest(count: int) -> str:
    """Return how many do not fit into the picture; empty where all do."""
    if not count:
        return ""
    return ngettext("%(n)d more does not fit here.", "%(n)d more do not fit here.", count) % {"n": count}


def also_from(firm: list[str], soft: list[str]) -> str:
    """Return what an exercise also grows from and falls back on, in words; empty where nothing."""
    parts = []
    if firm:
        parts.append(_("also grows from %(names)s") % {"names": ", ".join(firm)})
    if soft:
        parts.append(_("falls back on %(names)s") % {"names": ", ".join(soft)})
    return "; ".join(parts)
