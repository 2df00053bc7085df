"""Prepaid passes: what was sold, and a ledger of what came on and went off. Neither is ever changed."""

from django.db import models
from django.db.models.lookups import Exact
from django.utils.translation import gettext_lazy as _

from sessions.models.bookings import Attendance
from sessions.passes import Holding
from studio.models import AppendOnly, Door, PublicRow
from studio.roles import DESK_WRITERS

MOST_SESSIONS = 100


class PassQuerySet(Door):
    def seen_by(self, person):
        """Passes with their prices are for the owner and the desk; who teaches is told numbers (`holdings`)."""
        if not person.is_active or not person.has_role(*DESK_WRITERS):
            return self.none()
        return self if person.is_owner else self.filter(client__archived_on=None)

    def with_left(self):
        """Add `left`, the sum of the ledger, and `granted`, what was ever put on it; newest first."""
        put_on = models.Q(entries__kind__in=(PassEntry.Kind.BOUGHT, PassEntry.Kind.CORRECTED))
        rows = self.annotate(
            left=models.Sum("entries__delta"), granted=models.Sum("entries__delta", filter=put_on)
        )
        # A query that groups leaves the model's own order out.
        return rows.order_by(*self.model._meta.ordering)

    def with_entries(self):
        entries = PassEntry.objects.select_related("attendance__booking", "author")
        return self.prefetch_related(models.Prefetch("entries", entries))


class Pass(AppendOnly, PublicRow):
    """So many sessions sold to a client, for a price that may be left out. Days are plain dates.

    token: made with the form that sold it, so that a form sent twice sells once.
    """

    client = models.ForeignKey("clients.Client", on_delete=models.PROTECT, related_name="passes")
    sessions = models.PositiveSmallIntegerField(_("sessions"))
    bought_on = models.DateField(_("bought on"))
    last_day = models.DateField(_("last day"), null=True, blank=True)
    price_minor = models.PositiveBigIntegerField(_("price in minor units"), null=True, blank=True)
    currency = models.CharField(_("currency"), max_length=3, blank=True)
    token = models.CharField(max_length=40, unique=True)
    sold_by = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="+")
    sold_at = models.DateTimeField()

    objects = PassQuerySet.as_manager()

    class Meta:
        ordering = ["-bought_on", "-id"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(sessions__gte=1, sessions__lte=MOST_SESSIONS), name="pass_holds_sessions"
            ),
            models.CheckConstraint(
                condition=models.Q(last_day=None) | models.Q(last_day__gte=models.F("bought_on")),
                name="pass_ends_after_it_begins",
            ),
            models.CheckConstraint(
                condition=models.Q(price_minor=None, currency="")
                | (models.Q(price_minor__isnull=False) & ~models.Q(currency="")),
                name="pass_price_has_a_currency",
            ),
        ]


class PassEntryQuerySet(Door):
    def seen_by(self, person):
        return self.filter(of__in=Pass.objects.seen_by(person))


class PassEntry(AppendOnly):
    """One line of a pass's ledger.

    number: the line's place, 1 and on. left: what the pass held after it, kept so that the database itself
    refuses a ledger below zero; the balance is the sum of `delta`. turn: of one attendance the first use is
    turn 1, giving it back 2, a second use 3 …: odd takes, even gives back, and no turn comes twice.
    """

    class Kind(models.TextChoices):
        BOUGHT = "bought", _("bought")
        USED = "used", _("used")
        GIVEN_BACK = "given_back", _("given back")
        CORRECTED = "corrected", _("corrected")

    class Reason(models.TextChoices):
        MISCOUNT = "miscount", _("Counted wrong")
        GIFT = "gift", _("Given by the studio")
        PAPER = "paper", _("Used before, on paper")
        PAID_BACK = "paid_back", _("Paid back")

    of = models.ForeignKey(Pass, on_delete=models.PROTECT, related_name="entries")
    number = models.PositiveIntegerField()
    kind = models.CharField(max_length=10, choices=Kind)
    delta = models.SmallIntegerField()
    left = models.PositiveSmallIntegerField()
    attendance = models.ForeignKey(
        Attendance, null=True, blank=True, on_delete=models.PROTECT, related_name="pass_entries"
    )
    turn = models.PositiveSmallIntegerField(null=True, blank=True)
    reason = models.CharField(max_length=9, choices=Reason, blank=True)
    author = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    objects = PassEntryQuerySet.as_manager()

    class Meta:
        ordering = ["of", "number"]
        constraints = [
            models.UniqueConstraint(fields=["of", "number"], name="pass_entry_has_its_place"),
            models.UniqueConstraint(fields=["attendance", "turn"], name="pass_used_once_an_attendance"),
            models.CheckConstraint(condition=models.Q(left__gte=0), name="pass_never_below_zero"),
            models.CheckConstraint(
                condition=models.Q(
                    kind="bought", number=1, delta__gt=0, attendance=None, turn=None, reason=""
                )
                | models.Q(kind="corrected", number__gt=1, attendance=None, turn=None)
                & ~models.Q(delta=0)
                & ~models.Q(reason="")
                | models.Q(kind="used", number__gt=1, delta=-1, attendance__isnull=False, reason="")
                & models.Q(turn__gte=1)
                & Exact(models.F("turn") % 2, 1)
                | models.Q(kind="given_back", number__gt=1, delta=1, attendance__isnull=False, reason="")
                & models.Q(turn__gte=1)
                & Exact(models.F("turn") % 2, 0),
                name="pass_entry_is_of_its_kind",
            ),
        ]


def holdings(person, clients) -> dict[int, list[Holding]]:
    """Return the passes of clients (rows or keys) as numbers alone, by client: one query, and no money in it.

    Everybody who works here may know how many sessions are left.
    """
    found: dict[int, list[Holding]] = {}
    if not person.is_active:
        return found
    rows = Pass.objects.filter(client__in=clients).with_left().order_by("pk")
    for client, *values in rows.values_list("client_id", "pk", "left", "bought_on", "last_day"):
        found.setdefault(client, []).append(Holding(*values))
    return found


def with_pass_use(attendances):
    """Add `on_pass` to attendances: whether a session is used for them and has not been given back."""
    last = PassEntry.objects.filter(attendance=models.OuterRef("pk")).order_by("-turn")
    return attendances.annotate(
        last_turn=models.Subquery(last.values("kind")[:1]),
        on_pass=models.Case(
            models.When(last_turn=PassEntry.Kind.USED, then=True),
            default=False,
            output_field=models.BooleanField(),
        ),
    )
