"""What the owner adds to the rule table: stricter rules of the studio, and reviews by a clinician.

Rows are only ever added. A rule or a review that no longer stands has an end row beside it, with a reason.
"""

import hashlib
import json
from functools import lru_cache

from django.db import models
from django.utils.translation import gettext_lazy as _

from library import tables
from library.stricter import Window
from studio.models import AppendOnly, Door, new_public_id


class RulesQuerySet(Door):
    def seen_by(self, person):
        """Everybody who works here may read which rules hold and who looked at them."""
        return self if person.is_active else self.none()

    def standing(self):
        """Return the rows that nobody has ended."""
        return self.filter(end__isnull=True)


class ReviewsQuerySet(RulesQuerySet):
    def speaking_for(self, version: str):
        """Return the newest review of this version, else the newest of any, else None. Withdrawn ones never."""
        rows = list(self.standing())
        return next((row for row in rows if row.table_version == version), rows[0] if rows else None)


class Verdict(models.TextChoices):
    """What a rule of the studio may say. 'No rule' is not among them: it would say nothing."""

    WATCH = "watch", _("Watch")
    MODIFY = "modify", _("Modify")
    AVOID = "avoid", _("Avoid")


class StudioRule(AppendOnly):
    """One rule of this studio. It stands beside the rules of the table, so it can only make things stricter.

    `raises` is the id of the rule of the table whose window it took over; empty where the table was silent.
    The window is kept here in full (days as in `library.tables.Rule`), so a later table does not move it.
    """

    public_id = models.CharField(max_length=24, unique=True, default=new_public_id, editable=False)
    condition = models.CharField(max_length=60)
    demand = models.CharField(max_length=60)
    verdict = models.CharField(max_length=8, choices=Verdict)
    raises = models.CharField(max_length=24, blank=True)
    basis = models.CharField(max_length=16)
    from_day = models.PositiveIntegerField(null=True, blank=True)
    to_day = models.PositiveIntegerField(null=True, blank=True)
    spell = models.CharField(max_length=8, blank=True)
    reason = models.TextField()
    adaptation = models.TextField(blank=True)
    # The day in the studio's zone: kept, so that what the table says never depends on where it is read.
    on = models.DateField()
    at = models.DateTimeField()
    by = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="+")

    objects = RulesQuerySet.as_manager()

    class Meta:
        ordering = ["-pk"]

    def __str__(self):
        return self.key

    @property
    def key(self) -> str:
        """Return the id under which the judge names this rule."""
        return f"studio-{self.pk}"

    @property
    def window(self) -> Window:
        """Return when it holds."""
        return Window(self.basis, self.from_day, self.to_day, self.spell or None)

    @property
    def is_known(self) -> bool:
        """Return whether the shipped table still has the condition, its way of counting days, and the demand."""
        table = tables.rule_table()
        condition = table.conditions.get(self.condition)
        return (
            condition is not None
            and self.demand in table.demands
            and self.basis in ("ongoing", condition["window_basis"])
        )


class StudioRuleEnd(AppendOnly):
    """The end of a rule of the studio, and why."""

    rule = models.OneToOneField(StudioRule, on_delete=models.PROTECT, related_name="end")
    reason = models.TextField()
    at = models.DateTimeField()
    by = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="+")


class TableReview(AppendOnly):
    """A licensed clinician has looked at one version of the table. Typed by the owner from what was signed."""

    public_id = models.CharField(max_length=24, unique=True, default=new_public_id, editable=False)
    name = models.CharField(max_length=120)
    profession = models.CharField(max_length=120)
    registration = models.CharField(max_length=120)
    on = models.DateField()
    table_version = models.CharField(max_length=40)
    looked_at = models.TextField()
    at = models.DateTimeField()
    by = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="+")

    objects = ReviewsQuerySet.as_manager()

    class Meta:
        ordering = ["-on", "-pk"]

    def __str__(self):
        return self.name


class TableReviewEnd(AppendOnly):
    """A review that was taken back, and why."""

    review = models.OneToOneField(TableReview, on_delete=models.PROTECT, related_name="end")
    reason = models.TextField()
    at = models.DateTimeField()
    by = models.ForeignKey("studio.Staff", on_delete=models.PROTECT, related_name="+")


def table_in_force() -> tables.Table:
    """Return the rule table with the studio's own rules that stand now; as shipped where there are none.

    One query: ask once for a page and hand the table on. The same rules give the same table object, so what
    the judge has kept for it still serves. Its version is '<shipped>+<mark>'; the mark names what the studio's
    rules say, whoever made them and in whatever order. A rule on something that the shipped table has lost
    since is left out (`StudioRule.is_known`): its owner is told where the rules are listed.
    """
    rules = StudioRule.objects.standing().order_by("pk").select_related("by")
    rows = [_as_row(rule) for rule in rules if rule.is_known]
    return _with_rules(json.dumps(rows)) if rows else tables.rule_table()


def _as_row(rule: StudioRule) -> dict:
    """Return a rule of the studio as a line of library/data/rules/rules.json, with who made it and when."""
    return {
        "id": rule.key,
        "condition": rule.condition,
        "demand": rule.demand,
        "verdict": rule.verdict,
        "window": {"basis": rule.basis, "from_day": rule.from_day, "to_day": rule.to_day},
        "spell": rule.spell or None,
        "reason": rule.reason,
        "adaptation": rule.adaptation,
        "sources": [],
        "support": "studio",
        "by": rule.by.full_name,
        "since": rule.on.isoformat(),
    }


@lru_cache(maxsize=8)
def _with_rules(text: str) -> tables.Table:
    rows = json.loads(text)
    rules = tuple(tables.Rule.from_row(row) for row in rows)
    return tables.with_rules(tables.rule_table(), rules, _mark(rows))


def _mark(rows: list[dict]) -> str:
    """Return eight hex digits over what the rules say."""
    said = sorted(
        json.dumps({key: row[key] for key in row if key not in ("id", "by", "since")}, sort_keys=True)
        for row in rows
    )
    return hashlib.sha256("\n".join(said).encode()).hexdigest()[:8]
