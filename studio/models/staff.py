"""The people who work here, and how often a wrong passphrase was tried."""

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models
from django.utils.translation import gettext_lazy as _

from studio import roles
from studio.models.base import Door, EditableRow
from studio.passphrases import folded, normalised


class StaffQuerySet(Door):
    def seen_by(self, person):
        """Everybody who works here sees who else does."""
        return self if person.is_active else self.none()

    def teaching(self):
        """Return those who may be booked to teach."""
        return self.filter(is_active=True).filter(models.Q(is_instructor=True))


class StaffManager(BaseUserManager.from_queryset(StaffQuerySet)):
    def get_by_natural_key(self, username):
        return self.get(sign_in_name=folded(username))


class Staff(AbstractBaseUser, EditableRow):
    """A person who signs in. Somebody with two jobs has both, and may do what either may."""

    sign_in_name = models.CharField(_("sign-in name"), max_length=60, unique=True)
    full_name = models.CharField(_("full name"), max_length=120)
    call_name = models.CharField(_("what to call you"), max_length=60)
    is_owner = models.BooleanField(_("owner"), default=False)
    is_instructor = models.BooleanField(_("instructor"), default=False)
    is_front_desk = models.BooleanField(_("front desk"), default=False)
    is_active = models.BooleanField(default=True)

    objects = StaffManager()
    USERNAME_FIELD = "sign_in_name"
    REQUIRED_FIELDS = []

    class Meta:
        ordering = ["full_name"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(is_owner=True)
                | models.Q(is_instructor=True)
                | models.Q(is_front_desk=True),
                name="staff_has_a_role",
            )
        ]

    def __str__(self):
        return self.call_name

    def set_password(self, raw_password):
        super().set_password(None if raw_password is None else normalised(raw_password))

    def check_password(self, raw_password):
        return super().check_password(normalised(raw_password))

    @property
    def roles(self) -> frozenset[str]:
        """Return the roles of this person, one or more."""
        pairs = (
            (self.is_owner, roles.OWNER),
            (self.is_instructor, roles.INSTRUCTOR),
            (self.is_front_desk, roles.FRONT_DESK),
        )
        return frozenset(name for has, name in pairs if has)

    def has_role(self, *names: str) -> bool:
        return self.is_active and bool(self.roles & set(names))

    @property
    def reads_health(self) -> bool:
        """Owner and instructors read health answers and flags; nobody else does."""
        return self.has_role(*roles.HEALTH_READERS)


class SignInTry(models.Model):
    """Failed sign-ins of one account or one device, kept in the database so that a restart forgets nothing."""

    key = models.CharField(max_length=80, unique=True)
    failures = models.PositiveIntegerField(default=0)
    blocked_until = models.DateTimeField(null=True)
