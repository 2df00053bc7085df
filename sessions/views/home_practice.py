"""Putting a client's home practice together, looking it over as a page, and issuing it."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django_htmx.http import replace_url, trigger_client_event

from library.templatetags.finding import with_query
from sessions import home_rules, home_wording
from sessions.actions import handouts as handout_actions
from sessions.actions import home_practice as actions
from sessions.handout import HandoutError
from sessions.models import Handout, off_paper
from sessions.views.home_page import HomePage
from studio import roles
from studio.access import opens
from studio.actions import audit
from studio.models import Stale
from studio.statuses import CONFLICT, UNFIT


@opens(*roles.HEALTH_READERS, methods=("GET", "POST"))
def home_practice(request, client):
    """The sheet as it is being put together; a POST saves what holds for the whole of it."""
    page = HomePage(request, client)
    if request.method != "POST":
        return _looked_at(request, page)
    form = page.whole_form(request.POST)
    if not form.is_valid():
        return page.render(page.whole_sheet(form=form), status=UNFIT)
    values = {name: form.cleaned_data[name] for name in form.Meta.fields}
    try:
        actions.save_whole(
            actor=request.actor, client=page.client, expected=form.cleaned_data["version"], **values
        )
    except Stale:
        return _both_wholes(request, client, values)
    return _done(request, client, _("Saved."), focus="sheet")


def _looked_at(request, page):
    """Show the sheet; what is looked for stands in the address."""
    if not request.htmx or request.htmx.target != "home-found":
        return page.render(focus="sheet" if request.htmx else "")
    side = page.picker(request.GET)
    return replace_url(page.render(side), with_query(page.url, side["query"]))


def _both_wholes(request, client, values):
    """Somebody else changed the sheet first: both, and what was typed kept."""
    page = HomePage(request, client)
    stored = page.practice
    form = page.whole_form(_at_version(request, page.version))
    pairs = [
        {"label": form.fields[name].label, "theirs": getattr(stored, name, ""), "yours": typed}
        for name, typed in values.items()
    ]
    side = page.whole_sheet(form=form, conflict=page.conflict(pairs))
    return page.render(side, status=CONFLICT)


@opens(*roles.HEALTH_READERS, methods=("POST",))
def exercise(request, client):
    """Put an exercise on the sheet, or change it there. `quick`: with the usual dose, if nothing is asked."""
    page = HomePage(request, client)
    chosen = page.exercise(request.POST.get("exercise", ""))
    place = page.place_of(chosen) if chosen else None
    reason = off_paper(chosen)
    if reason and place is None:
        messages.error(request, home_wording.off_paper(reason))
        return page.render(page.picker({}), status=UNFIT)
    if place is None and len(page.rows) >= home_rules.MOST_AGREED:
        messages.error(request, _("Five exercises are on it, and that is the most. Take one off first."))
        return page.render(page.picker({}), status=UNFIT)
    if request.POST.get("quick"):
        return _add_as_usual(request, page, chosen)
    side = page.item_sheet(chosen, data=request.POST)
    if not side["form"].is_valid():
        return page.render(side, status=UNFIT)
    return _save(request, page, chosen, side["form"].values(), side["form"].cleaned_data["version"])


def _add_as_usual(request, page, chosen):
    """Add with one touch; where something has to be asked first, open its form instead."""
    side = page.item_sheet(chosen)
    if side["needs"]:
        return page.render(side, status=UNFIT, focus="sheet")
    return _save(request, page, chosen, side["row"].item, _version(request))


def _save(request, page, chosen, item, expected):
    new = page.place_of(chosen) is None
    try:
        actions.save_item(
            actor=request.actor,
            client=page.client,
            exercise=chosen,
            item=item,
            expected=expected,
            today=page.today,
        )
    except Stale:
        return _both_items(request, page.client.public_id, chosen, item)
    except actions.NotForHome:
        # A flag or a fifth exercise came between the look and the touch.
        fresh = HomePage(request, page.client.public_id)
        data = None if request.POST.get("quick") else request.POST
        return fresh.render(fresh.item_sheet(chosen, data=data), status=UNFIT)
    name = chosen.current.name
    said = _("%(name)s is on the sheet.") % {"name": name} if new else _("Saved.")
    return _done(request, page.client.public_id, said, focus="added" if new else "saved", chosen=chosen)


def _both_items(request, client, chosen, item):
    """Somebody else changed the sheet first: both texts of this exercise, and what was typed kept."""
    page = HomePage(request, client)
    place = page.place_of(chosen)
    theirs = page.rows[place].item if place is not None else None
    pairs = [
        {"label": label, "theirs": say(theirs) if theirs else _("not on the sheet"), "yours": say(item)}
        for label, say in (
            (_("Dose"), home_wording.dose),
            (_("How often"), home_wording.often),
            (_("Changes"), home_wording.changes),
            (_("Cue"), lambda one: one["cue"]),
        )
    ]
    data = None if request.POST.get("quick") else _at_version(request, page.version)
    side = page.item_sheet(chosen, data=data, conflict=page.conflict(pairs))
    return page.render(side, status=CONFLICT)


def _at_version(request, version: int):
    data = request.POST.copy()
    data["version"] = version
    return data


def _version(request) -> int:
    """Return the version the page was read at; one that is no number never matches."""
    typed = request.POST.get("version", "")
    return int(typed) if typed.isascii() and typed.isdigit() and len(typed) < 10 else -1


@opens(*roles.HEALTH_READERS, methods=("POST",))
def move(request, client):
    """One place earlier or later; or the order that changes positions."""
    page = HomePage(request, client)
    if request.POST.get("order"):
        return _in_order(request, page, client)
    way = "earlier" if request.POST.get("way") == "earlier" else "later"
    chosen = page.exercise(request.POST.get("exercise", ""))
    try:
        actions.move_item(
            actor=request.actor,
            client=page.client,
            exercise_id=chosen.public_id if chosen else "",
            by=-1 if way == "earlier" else 1,
            expected=_version(request),
        )
    except Stale:
        return _look_again(request, client)
    said = _("Moved earlier.") if way == "earlier" else _("Moved later.")
    return _done(request, client, said, focus=way, chosen=chosen)


def _in_order(request, page, client):
    order = request.POST["order"].split()
    try:
        actions.order_items(
            actor=request.actor, client=page.client, exercises=order, expected=_version(request)
        )
    except Stale:
        return _look_again(request, client)
    return _done(request, client, _("Positions change now."), focus="home")


@opens(*roles.HEALTH_READERS, methods=("POST",))
def remove(request, client):
    """Take an exercise off the sheet."""
    page = HomePage(request, client)
    chosen = page.exercise(request.POST.get("exercise", ""))
    try:
        actions.remove_item(
            actor=request.actor,
            client=page.client,
            exercise_id=chosen.public_id if chosen else "",
            expected=_version(request),
        )
    except Stale:
        return _look_again(request, client)
    return _done(request, client, _("It is off the sheet."), focus="home")


def _look_again(request, client):
    """Nothing was typed, so nothing is lost: show the sheet as it is now, and say so."""
    messages.warning(request, _("Somebody changed this sheet a moment ago. Look again, then choose."))
    page = HomePage(request, client)
    return page.render(status=CONFLICT) if request.htmx else redirect(page.url)


def _done(request, client, said, *, focus="", chosen=None):
    """Answer a change: for htmx the fresh page with the words spoken, else go back to it."""
    page = HomePage(request, client)
    stays = chosen if focus in ("earlier", "later", "saved") else None
    address = f"{page.url}?exercise={stays.public_id}" if stays else page.url
    if not request.htmx:
        messages.info(request, said)
        return redirect(address)
    side = page.item_sheet(stays) if stays else None
    if focus == "added" and not page.unsettled:
        side = page.picker({})
        address = f"{page.url}?add"
    answer = page.render(side, focus=focus)
    return trigger_client_event(replace_url(answer, address), "announce", {"text": said})


@opens(*roles.HEALTH_READERS)
def preview(request, client):
    """The page as it would be printed. It says that it is not issued yet, and does not print."""
    page = HomePage(request, client)
    made = _draft(request, page)
    if made is None:
        return redirect(page.url)
    audit.write(request.actor, "home_practice.read", page.client)
    context = {"payload": made.payload, "for_pdf": False, "client": page.client, "version": page.version}
    return render(request, "sessions/home_practice_preview.html", context)


def _draft(request, page):
    """Return the draft, or None with a message that says what is missing."""
    try:
        return handout_actions.draft(studio=request.studio, client=page.client, today=page.today)
    except handout_actions.NotReady:
        _say_not_ready(request, page)
    except HandoutError as error:
        _say_problems(request, error)
    return None


def _say_not_ready(request, page) -> None:
    words = home_wording.look_over(len(page.rows), page.unsettled)
    messages.warning(request, words or _("Look the exercises over first."))


def _say_problems(request, error) -> None:
    for problem in dict.fromkeys(home_wording.problem(*one) for one in error.problems):
        messages.error(request, problem)


@opens(*roles.HEALTH_READERS, methods=("POST",))
def issue(request, client):
    """Issue the sheet: it gets its number, its PDF, and replaces the one before.

    Without a look before it is issued only `like` the handout that is called back, but for how far it goes.
    """
    page = HomePage(request, client)
    key = request.POST.get("like")
    like = Handout.objects.get_seen(request.user, key) if key else None
    if like is not None and like.client_id != page.client.pk:
        raise Http404(_("There is nothing here."))
    try:
        made = handout_actions.issue(
            actor=request.actor,
            studio=request.studio,
            client=page.client,
            expected=_version(request),
            today=page.today,
            like=like,
        )
    except Stale:
        messages.warning(request, _("The sheet was changed or issued a moment ago. Look it over again."))
    except handout_actions.NotLookedOver:
        messages.warning(request, _("More has changed on it than how far it goes."))
        return redirect("sessions:home_preview", client=client)
    except handout_actions.NotReady:
        _say_not_ready(request, HomePage(request, client))
    except HandoutError as error:
        _say_problems(request, error)
    else:
        messages.info(request, _("Handout %(n)d is issued.") % {"n": made.number})
        return redirect("sessions:handout", handout=made.public_id)
    return redirect(page.url)
