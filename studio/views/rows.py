"""The one way a page edits a row: show, save, or show both when somebody else was first."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from studio.models import Stale


def edit(request, *, form, save, done: str, title: str, context=None):
    """Show a RowForm, or save it by `save(form)` and go to the address `done`.

    save may raise Stale (both texts are shown) or ValueError (its sentence is shown at the top).
    """
    page = {"form": form, "title": title, "back": done, "at": "studio", **(context or {})}
    if request.method != "POST":
        return render(request, "studio/row.html", page)
    if not form.is_valid():
        return render(request, "studio/row.html", page, status=422)
    try:
        save(form)
    except Stale as stale:
        page["conflict"] = form.conflict(stale.current)
        return render(request, "studio/row.html", page, status=409)
    except ValueError as problem:
        form.add_error(None, str(problem))
        return render(request, "studio/row.html", page, status=422)
    messages.info(request, _("Saved."))
    return redirect(done)
