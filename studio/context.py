"""What base.html needs on every page."""

from django.urls import reverse
from django.utils.translation import gettext as _


def frame(request):
    """Return the studio's name, who is signed in and the entries of the rail."""
    me = request.user if getattr(request, "user", None) and request.user.is_authenticated else None
    studio = getattr(request, "studio", None)
    return {
        "studio": studio,
        "studio_name": studio.name if studio else "Evenside",
        "me": me,
        "nav": _entries(request, me) if me else [],
        "profile_is_demo": _is_demo(),
    }


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
    match = getattr(request, "resolver_match", None)
    here = match.view_name if match else ""
    return [
        {"key": key, "name": name, "url": reverse(to), "icon": icon, "current": here == to}
        for key, name, to, icon in entries
    ]
