"""Deny by default: a view is open only to the roles it names, for the methods it names."""

from collections.abc import Callable, Iterable
from functools import wraps

from django.http import HttpResponseNotAllowed

from studio import roles as role_names

NOBODY = "nobody"


def opens(*roles: str, methods: Iterable[str] = ("GET",)) -> Callable:
    """Open a view to these roles and methods; every other role is refused and audited, other methods get 405.

    roles: names of studio.roles, or none at all for everybody who is signed in.
    The middleware reads `view.opens_to`; a view without it is refused to everyone.
    """
    allowed = frozenset(roles) or role_names.EVERYONE
    return _mark(allowed, tuple(methods))


def opens_to_nobody_signed_in(methods: Iterable[str] = ("GET",)) -> Callable:
    """Open a view to people who are not signed in (the sign-in page, the first set-up)."""
    return _mark(role_names.EVERYONE | {NOBODY}, tuple(methods))


def background(view: Callable) -> Callable:
    """Mark a view that pages ask by themselves: being asked does not count as somebody at the screen."""
    view.in_background = True
    return view


def _mark(allowed: frozenset[str], methods: tuple[str, ...]) -> Callable:
    names = {m.upper() for m in methods}
    if "GET" in names:
        names.add("HEAD")

    def decorate(view):
        @wraps(view)
        def guarded(request, *args, **kwargs):
            if request.method not in names:
                return HttpResponseNotAllowed(sorted(names))
            return view(request, *args, **kwargs)

        guarded.opens_to = allowed
        guarded.methods = frozenset(names - {"HEAD"})
        return guarded

    return decorate
