"""Adding people who work here, changing what they may do, closing a sign-in."""

from django.urls import reverse
from django.utils.translation import gettext as _

from studio.access import opens
from studio.actions import staff as staff_actions
from studio.actions.reauth import asks_again
from studio.forms.staff import NewPersonForm, PassphraseForm, PersonForm
from studio.models import Staff
from studio.roles import OWNER
from studio.views.rows import edit


@opens(OWNER, methods=("GET", "POST"))
@asks_again()
def new(request):
    form = NewPersonForm(request.POST or None, instance=Staff())

    def save(form):
        passphrase = form.cleaned_data["passphrase"]
        staff_actions.add(actor=request.actor, values=form.values(), passphrase=passphrase)

    return edit(request, form=form, save=save, done=reverse("studio:studio"), title=_("Somebody new"))


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
            raise ValueError(_("This is the only owner. Make somebody else an owner first.")) from None

    more = {"label": _("New passphrase"), "url": reverse("studio:staff_passphrase", args=[found.public_id])}
    done = reverse("studio:studio")
    return edit(request, form=form, save=save, done=done, title=found.full_name, context={"more": more})


@opens(OWNER, methods=("GET", "POST"))
@asks_again()
def passphrase(request, person):
    """For somebody who has forgotten theirs, or whose sign-in was shut by wrong tries."""
    found = Staff.objects.get_seen(request.user, person)
    form = PassphraseForm(request.POST or None)

    def save(form):
        words = form.cleaned_data["passphrase"]
        staff_actions.set_passphrase(actor=request.actor, person=found, passphrase=words)

    done = reverse("studio:staff", args=[found.public_id])
    title = _("A new passphrase for %(name)s") % {"name": found.call_name}
    return edit(request, form=form, save=save, done=done, title=title)
