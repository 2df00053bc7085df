"""Adding people who work here, changing what they may do, letting them in with a one-time code."""

from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _

from studio.access import opens
from studio.actions import codes
from studio.actions import staff as staff_actions
from studio.actions.reauth import asks_again
from studio.actions.sign_in import is_shut
from studio.forms.staff import NewPersonForm, PersonForm
from studio.models import OneTimeCode, Staff
from studio.roles import OWNER
from studio.views.rows import edit


def _shown_once(request, person, code):
    """Return the page with a new code: the answer to the post itself, so that it is kept nowhere."""
    page = {"person": person, "code": code, "until": codes.open_code(person).until, "at": "studio"}
    return render(request, "studio/code.html", page)


@opens(OWNER, methods=("GET", "POST"))
@asks_again()
def new(request):
    form = NewPersonForm(request.POST or None, instance=Staff())

    def save(form):
        person, code = codes.add_with_code(actor=request.actor, values=form.values())
        return _shown_once(request, person, code)

    done = reverse("studio:studio")
    more = {"go": _("Save and make a code")}
    return edit(request, form=form, save=save, done=done, title=_("Somebody new"), context=more)


@opens(OWNER, methods=("GET", "POST"))
@asks_again()
def person(request, person):
    found = Staff.objects.get_seen(request.user, person)
    form = PersonForm(request.POST or None, instance=found)

    def save(form):
        # The form has written its values to the row; the action looks at the row as it was.
        before = Staff.objects.get_seen(request.user, person)
        try:
            staff_actions.change(
                actor=request.actor, person=before, values=form.values(), expected=form.expected
            )
        except staff_actions.LastOwner:
            raise ValueError(
                _("This is the only owner who can sign in. Make somebody else an owner first.")
            ) from None

    more = {"person": found, "open_code": codes.open_code(found), "shut": is_shut(found)}
    done = reverse("studio:studio")
    return edit(
        request,
        form=form,
        save=save,
        done=done,
        title=found.full_name,
        context=more,
        template="studio/person.html",
    )


@opens(OWNER, methods=("POST",))
@asks_again()
def code(request, person):
    """A way in for somebody who is new, has forgotten their passphrase, or is shut out by wrong tries."""
    found = Staff.objects.get_seen(request.user, person)
    return _shown_once(request, found, codes.issue(actor=request.actor, person=found))


@opens(OWNER, methods=("POST",))
@asks_again()
def recovery_code(request):
    """A recovery code for the owner who asks; the one before is over."""
    code = codes.issue(actor=request.actor, person=request.user, kind=OneTimeCode.Kind.RECOVERY)
    page = {"code": code, "onward": reverse("studio:studio")}
    return render(request, "studio/recovery_code.html", page)
