"""Under which names and addresses the studio answers on the local network."""

from crispy_forms.layout import Column, Fieldset, Layout, Row
from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from studio.forms.rows import RowForm
from studio.forms.widgets import Phrases
from studio.models import Network
from studio.setup.ports import is_usable


class NetworkForm(RowForm):
    """found_names, found_addresses: what this machine is called on its networks, offered to be ticked.

    replaces: (names, addresses) -> whether serving these makes the certificate on the devices worthless. Then the
    form asks for a yes of its own.
    """

    names = forms.MultipleChoiceField(
        label=gettext_lazy("Names of this machine"),
        required=False,
        widget=Phrases(),
        help_text=gettext_lazy("The one that ends in .local works on most tablets and laptops."),
    )
    addresses = forms.MultipleChoiceField(
        label=gettext_lazy("Its addresses"),
        required=False,
        widget=Phrases(),
        help_text=gettext_lazy(
            "Some older tablets need one. Your router can keep it the same: look there for a fixed address."
        ),
    )
    other_address = forms.CharField(
        label=gettext_lazy("Another address"),
        required=False,
        max_length=15,
        widget=forms.TextInput(attrs={"autocomplete": "off", "inputmode": "decimal"}),
        help_text=gettext_lazy("Only if the right one is not in the list, four numbers with dots."),
    )

    install_again = forms.BooleanField(
        label=gettext_lazy("I will install the new certificate on every tablet and laptop"), required=False
    )

    class Meta:
        model = Network
        fields = ("port", "plain_port", "strict_transport")
        help_texts = {
            "plain_port": gettext_lazy("Shows nothing but the way to the protected address."),
            "strict_transport": gettext_lazy(
                "Leave this off until the certificate is installed on every tablet and laptop. Switched on "
                "early it locks people out: their browsers then refuse the page and offer no way past. It "
                "works for names only, not for bare addresses."
            ),
        }

    def __init__(self, *args, found_names=(), found_addresses=(), replaces=None, **kwargs):
        super().__init__(*args, **kwargs)
        self.replaces = replaces or (lambda names, addresses: False)
        row = self.instance
        fresh = row._state.adding
        for field, found, kept in (
            ("names", found_names, row.names),
            ("addresses", found_addresses, row.addresses),
        ):
            every = list(dict.fromkeys([*found, *kept]))
            self.fields[field].choices = [(each, each) for each in every]
            self.fields[field].initial = every if fresh else kept
        self.asks_again = False
        self.helper.layout = Layout(
            *([] if fresh else ["version"]),
            Fieldset(_("Where tablets and laptops find it"), "names", "addresses", "other_address"),
            Fieldset(_("Ports"), Row(Column("port"), Column("plain_port"))),
            Fieldset(_("Later"), "strict_transport"),
        )

    def clean_other_address(self):
        typed = self.cleaned_data["other_address"].strip()
        if typed and not is_usable(typed):
            raise forms.ValidationError(
                _("Type four numbers from 0 to 255 with dots between, for example 192.168.0.12.")
            )
        return typed

    def clean(self):
        data = super().clean()
        if not self.hosts_of(data) and "other_address" not in self.errors:
            self.add_error("names", _("Choose at least one name or address."))
        if data.get("port") and data.get("port") == data.get("plain_port"):
            self.add_error("plain_port", _("The two ports must differ. Change one of them."))
        if not self.errors:
            self.asks_again = self.replaces(*self.served(data))
            if self.asks_again:
                self.helper.layout.append("install_again")
            if self.asks_again and not data.get("install_again"):
                self.add_error("install_again", _("Tick this to go on, or take the new name out again."))
        return data

    @staticmethod
    def hosts_of(data) -> list[str]:
        return [
            *data.get("names", []),
            *data.get("addresses", []),
            *filter(None, [data.get("other_address")]),
        ]

    @staticmethod
    def served(data) -> tuple[list[str], list[str]]:
        """Return names and addresses as they will be served."""
        typed = [data["other_address"]] if data["other_address"] else []
        return data["names"], list(dict.fromkeys([*data["addresses"], *typed]))

    def values(self) -> dict:
        """Return the fields of the row as typed. Only for a form that is valid."""
        names, addresses = self.served(self.cleaned_data)
        return {**super().values(), "names": names, "addresses": addresses}
