"""Adding people who work here, changing what they may do, closing a sign-in."""

from django.urls import reverse
from django.utils.translation import gettext as _

from studio.access import opens
from studio.actions import staff as staff_actions
from studio.forms.staff import NewPersonForm, PersonForm
from studio.models import Staff
from studio.roles import OWNER
from studio.views.rows import edit


@opens(OWNER, methods=("GET", "POST"))
def new(request):
    form = NewPersonForm(request.POST or None, instance=Staff())

    def save(form):
        passphrase = form.cleaned_data["passphrase"]
        staff_actions.add(actor=request.actor, values=form.values(), passphrase=passphrase)

    return edit(request, form=form, save=save, done=reverse("studio:studio"), title=_("Somebody new"))


@opens(OWNER, methods=("GET", "POST"))
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

    return edit(request, form=form, save=save, done=reverse("studio:studio"), title=found.full_name)
