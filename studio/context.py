"""What base.html needs on every page."""

from django.urls import reverse
from django.utils.translation import gettext as _

# Where help about a page stands on the help page: the longest beginning of the page's name that fits.
HELP = {
    "sessions:today": "today",
    "sessions:booking": "diary",
    "sessions:ask_first": "diary",
    "sessions:free_times": "diary",
    "sessions:away": "away",
    "sessions:pass": "passes",
    "sessions:client": "client",
    "sessions:find": "finding",
    "sessions:client_map": "map",
    "sessions:client_transfer": "map",
    "sessions:own_way": "own-way",
    "sessions:client_exercise": "own-way",
    "sessions:what_changes": "what-changes",
    "sessions:plan": "plan",
    "sessions:record": "recording",
    "sessions:incident": "incident",
    "sessions:timeline": "story",
    "sessions:progress": "progress",
    "sessions:home": "home-practice",
    "sessions:handout": "home-practice",
    "clients:list": "clients",
    "clients:new": "clients",
    "clients:contact": "clients",
    "clients:intake": "paper-form",
    "clients:flag": "flags",
    "clients:instruction": "flags",
    "clients:measure": "measures",
    "clients:": "client",
    "library:": "library",
    "library:map": "map",
    "library:transfer": "map",
    "library:apparatus": "apparatus",
    "library:unit": "apparatus",
    "library:spring": "apparatus",
    "library:condition": "conditions",
    "library:own": "own-exercises",
    "library:own_figure": "own-figures",
    "library:changed": "both-sides",
    "library:set": "exercise-sets",
    "library:settle": "both-sides",
    "library:rules": "rules",
    "sessions:questions": "rules",
    "library:rule_": "own-rules",
    "library:review": "review",
    "studio:": "studio",
    "studio:again": "passphrase",
    "studio:staff": "people",
    "studio:network": "network",
    "studio:devices": "devices",
    "studio:mine": "me",
    "studio:pin": "pin",
    "studio:passphrase": "passphrase",
    "studio:kept": "kept",
}
# Where the front desk is led instead: its help holds nothing of what only instructors see.
AT_THE_DESK = {
    "today": "desk-today",
    "client": "desk-client",
    "home-practice": "desk-handout",
    "library": "help-thread",
    "map": "help-thread",
}


def help_anchor(view_name: str, reads_health: bool) -> str:
    """Return the place on the help page that is about a view; '' where none is."""
    fits = [start for start in HELP if view_name.startswith(start)]
    anchor = HELP[max(fits, key=len)] if fits else ""
    return anchor if reads_health else AT_THE_DESK.get(anchor, anchor)


def frame(request):
    """Return the studio's name, who is signed in and the entries of the rail."""
    me = request.user if getattr(request, "user", None) and request.user.is_authenticated else None
    studio = getattr(request, "studio", None)
    return {
        "studio": studio,
        "studio_name": studio.name if studio else "Evenside",
        "me": me,
        "lock_after": _longest_idle(studio) if studio else 0,
        "nav": _entries(request, me) if me else [],
        "profile_is_demo": _is_demo(),
        "help_at": help_anchor(_here(request), me.reads_health) if me else "",
    }


def _here(request) -> str:
    match = getattr(request, "resolver_match", None)
    return match.view_name if match else ""


def _longest_idle(studio) -> int:
    """Return the seconds after which a page that runs no script must go and look whether it is locked."""
    return 60 * max(studio.idle_minutes_tablet, studio.idle_minutes_desk) + 5


def _is_demo() -> bool:
    from django.conf import settings

    return settings.PROFILE == "demo"


def _entries(request, me) -> list[dict]:
    entries = [
        ("today", _("Today"), "sessions:today", "sun"),
        ("bookings", _("Diary"), "sessions:bookings", "calendar-days"),
        ("clients", _("Clients"), "clients:list", "users"),
    ]
    if me.reads_health:
        entries.append(("library", _("Library"), "library:list", "library"))
    if me.is_owner:
        entries.append(("studio", _("Studio"), "studio:studio", "house"))
    here = _here(request)
    return [
        {"key": key, "name": name, "url": reverse(to), "icon": icon, "current": here == to}
        for key, name, to, icon in entries
    ]
