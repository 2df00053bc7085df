"""Clients as the front desk knows them, and what only instructors know of their bodies and wishes."""

from django.db import models
from django.utils.translation import gettext_lazy as _

from clients.folding import digits, end_of_number, is_number
from studio.folding import fold
from studio.models import Door, EditableRow


class ClientQuerySet(Door):
    def seen_by(self, person):
        """Everybody sees the clients; those who left are for the owner."""
        if not person.is_active:
            return self.none()
        return self if person.is_owner else self.filter(archived_on=None)

    def found(self, words: str):
        """Return clients whose names hold every word, whatever the accents and the case.

        Three digits or more are looked for in the telephone number.
        """
        if is_number(words):
            return self.filter(telephone_digits__contains=digits(words).lstrip("0"))
        rows = self
        for word in fold(words).split():
            rows = rows.filter(search_key__contains=word)
        return rows

    def twins(self, *, full_name: str, birth_date, telephone: str):
        """Return clients who may be the same person: same telephone, or same name and birth date."""
        same = models.Q(birth_date=birth_date, search_key__startswith=f"{fold(full_name)} ")
        number = end_of_number(telephone)
        if number:
            same |= models.Q(telephone_digits__endswith=number)
        return self.filter(same)

    def with_desk_marks(self):
        """Add what the desk may know: `ask_first` (no cause, no degree) and `form_missing`."""
        return self.annotate(**desk_marks())


def desk_marks(client: str = "") -> dict:
    """Return the annotations of `with_desk_marks`, also for rows that lead to a client by a field of that name."""
    pk, to_ask = (f"{client}_id", f"{client}__to_ask") if client else ("pk", "to_ask")
    open_flags = models.Exists(_open_flags(models.OuterRef(pk)))
    return {
        "ask_first": models.Q(**{to_ask: True}) | models.Q(open_flags),
        "form_missing": ~models.Exists(_submissions(models.OuterRef(pk))),
    }


def _open_flags(client):
    """Return the flags of a client that are proposed or active."""
    from clients.models.health import Flag, FlagStatus

    counting = (FlagStatus.State.PROPOSED, FlagStatus.State.ACTIVE)
    return Flag.objects.filter(client=client).in_state(*counting)


def _submissions(client):
    from clients.models.health import Submission

    return Submission.objects.filter(client=client)


class Client(EditableRow):
    full_name = models.CharField(_("full name"), max_length=160)
    call_name = models.CharField(_("what to call them"), max_length=80)
    birth_date = models.DateField(_("date of birth"))
    telephone = models.CharField(_("telephone"), max_length=40, blank=True)
    email = models.EmailField(_("email"), blank=True)
    emergency_name = models.CharField(_("emergency contact"), max_length=160)
    emergency_telephone = models.CharField(_("telephone of the emergency contact"), max_length=40)
    search_key = models.CharField(max_length=260, editable=False, db_index=True)
    telephone_digits = models.CharField(max_length=40, editable=False, blank=True)
    # Something on the forms was not sure, not named or not answered: kept by the action that records a form.
    to_ask = models.BooleanField(default=False, editable=False)
    created_at = models.DateTimeField(editable=False)
    archived_on = models.DateField(null=True, blank=True, editable=False)

    objects = ClientQuerySet.as_manager()
    # What the desk may change, and what a save of the contact form writes.
    CONTACT = (
        "full_name",
        "call_name",
        "birth_date",
        "telephone",
        "email",
        "emergency_name",
        "emergency_telephone",
    )

    class Meta:
        ordering = ["search_key", "id"]

    def __str__(self):
        return self.full_name

    def fold_names(self) -> None:
        """Bring the keys for finding up to date with the names and the telephone number."""
        self.search_key = fold(f"{self.full_name} {self.call_name}")
        self.telephone_digits = digits(self.telephone)

    def save(self, *args, **kwargs):
        self.fold_names()
        super().save(*args, **kwargs)


class OfClientQuerySet(Door):
    """Rows about a client's health or work: for owner and instructors."""

    def seen_by(self, person):
        if not person.reads_health:
            return self.none()
        return self if person.is_owner else self.filter(client__archived_on=None)


class Touch(models.TextChoices):
    NOT_ASKED = "", _("Not asked yet")
    YES = "yes", _("Hands-on help is welcome")
    ASK = "ask", _("Ask each time")
    NO = "no", _("No touch")


class Proportions(models.TextChoices):
    NEUTRAL = "neutral", _("Not stated")
    FEMALE = "female", _("Female proportions")
    MALE = "male", _("Male proportions")


class CareProfile(EditableRow):
    """What an instructor needs and the desk does not: touch, home equipment, stature, mass."""

    client = models.OneToOneField(Client, on_delete=models.PROTECT, related_name="care")
    touch = models.CharField(_("touch"), max_length=4, choices=Touch, blank=True, default=Touch.NOT_ASKED)
    home_equipment = models.JSONField(_("what they have at home"), default=list, blank=True)
    stature_mm = models.PositiveIntegerField(_("stature"), null=True, blank=True)
    mass_g = models.PositiveIntegerField(_("mass"), null=True, blank=True)
    proportions = models.CharField(max_length=8, choices=Proportions, default=Proportions.NEUTRAL)

    objects = OfClientQuerySet.as_manager()
    FIELDS = ("touch", "home_equipment", "stature_mm", "mass_g", "proportions")
