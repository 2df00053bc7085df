"""The one way a page edits a row: show, save, or show both when somebody else was first."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from studio.models import Stale


def edit(request, *, form, save, done: str, title: str, context=None, template="studio/row.html"):
    """Show a RowForm, or save it by `save(form)` and go to the address `done`, or to what save answers.

    context: more for the template; `go` is the word on the button.
    save may raise Stale (both texts are shown) or ValueError (its sentence is shown at the top).
    """
    page = {"form": form, "title": title, "back": done, "at": "studio", **(context or {})}
    if request.method != "POST":
        return render(request, template, page)
    if not form.is_valid():
        return render(request, template, page, status=422)
    try:
        answer = save(form)
    except Stale as stale:
        page["conflict"] = form.conflict(stale.current)
        return render(request, template, page, status=409)
    except ValueError as problem:
        form.add_error(None, str(problem))
        return render(request, template, page, status=422)
    if answer is not None:
        return answer
    messages.info(request, _("Saved."))
    return redirect(done)
