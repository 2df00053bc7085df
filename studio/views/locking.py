"""The lock: the page it shows, the way back, and the small questions that open pages ask."""

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from studio.access import background, opens, opens_to_nobody_signed_in
from studio.actions import kept, locking
from studio.actions import sign_in as signing
from studio.models import KeptText


def _asked_for(request) -> str:
    """Return the page of ours to go back to, or nothing."""
    asked = request.POST.get("next") or request.GET.get("next") or ""
    return asked if url_has_allowed_host_and_scheme(asked, allowed_hosts={request.get_host()}) else ""


@background
@opens_to_nobody_signed_in(methods=("GET", "POST"))
def lock(request):
    """Six digits bring back somebody who signed in fully on this device; all others go and sign in."""
    if request.user.is_authenticated:
        return redirect(_asked_for(request) or "sessions:today")
    people = locking.people_here(request.device)
    if request.method == "POST":
        return _unlock(request, people)
    if not people:
        # Nobody can come back by PIN here: the passphrase is the only way.
        asked = _asked_for(request)
        return redirect(f"{reverse('studio:sign_in')}?next={asked}" if asked else "studio:sign_in")
    return _page(request, people)


def _unlock(request, people):
    chosen = next((p for p in people if p.public_id == request.POST.get("person")), None)
    if chosen is None:
        return _page(request, people, problem=_("Choose who you are."))
    before = request.locked_person
    try:
        if locking.unlock(request, person=chosen, digits=request.POST.get("pin", "")):
            if kept.waits_for(chosen):
                return redirect("studio:kept")
            # Where the person before was going is nobody else's business.
            return redirect((_asked_for(request) if before in (None, chosen) else "") or "sessions:today")
        left = locking.tries_left(chosen, request.device)
    except locking.PinOff:
        left = 0
    if left:
        words = ngettext(
            "That is not the PIN. One try is left.", "That is not the PIN. %(n)d tries are left.", left
        )
        return _page(request, people, problem=words % {"n": left}, chosen=chosen)
    words = _("%(name)s’s PIN does not work here now. Sign in with the passphrase.")
    rest = locking.people_here(request.device)
    return _page(request, rest, problem=words % {"name": chosen.call_name})


def _page(request, people, *, problem: str = "", chosen=None):
    chosen = chosen or (request.locked_person if request.locked_person in people else None)
    if chosen is None and len(people) == 1:
        chosen = people[0]
    context = {
        "people": [(person.public_id, person.call_name) for person in people],
        "chosen": chosen.public_id if chosen else None,
        "problem": problem,
        "next": _asked_for(request),
        "can_sign_out": request.locked_person,
    }
    return render(request, "studio/lock.html", context, status=422 if problem else 200)


@opens(methods=("POST",))
def lock_now(request):
    """The Lock button: lock where a PIN brings back, else sign out."""
    if locking.can_come_back(request):
        locking.lock(request)
        return redirect("studio:lock")
    signing.sign_out(request)
    return redirect("studio:sign_in")


@background
@opens_to_nobody_signed_in()
def state(request):
    """Asked every few seconds by open pages, which leave when the answer is 'locked'. It tells nothing else."""
    answer = "open" if request.user.is_authenticated else "locked"
    return HttpResponse(answer, content_type="text/plain")


@opens(methods=("POST",))
def touch(request):
    """Sent by a page on which somebody types or touches, so that a long text is not locked away half-way."""
    return HttpResponse(status=204)


@background
@opens_to_nobody_signed_in(methods=("POST",))
def keep(request):
    """Sent by a page as it leaves for the lock: what was typed on it and not saved. It is never sent back here."""
    person = request.locked_person or (request.user if request.user.is_authenticated else None)
    if person is not None:
        pairs = list(zip(request.POST.getlist("name"), request.POST.getlist("text"), strict=False))
        kept.keep(actor=request.actor, person=person, path=request.POST.get("path", ""), pairs=pairs)
    return HttpResponse(status=204)


@opens()
def kept_texts(request):
    """What the person signed in had typed when the screen locked."""
    rows = list(KeptText.objects.seen_by(request.user))
    kept.note_shown(rows)
    here = {request.get_host()}
    shown = [
        {"row": row, "url": row.path if url_has_allowed_host_and_scheme(row.path, allowed_hosts=here) else ""}
        for row in rows
    ]
    return render(request, "studio/kept.html", {"rows": shown, "at": "me"})


@opens(methods=("POST",))
def throw_away(request):
    """Throw one's own text away. One that is gone already is as good as thrown away now."""
    row = KeptText.objects.seen_by(request.user).filter(public_id=request.POST.get("text", "")).first()
    if row is not None:
        kept.throw_away(actor=request.actor, row=row)
    more = KeptText.objects.seen_by(request.user).exists()
    return redirect("studio:kept" if more else "sessions:today")
