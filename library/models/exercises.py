"""Exercises by their library id, and their content as versions that never change."""

from django.db import models

from library.contents_rules import is_whole
from library.models.kept_json import KeptJSONField
from studio.models import AppendOnly, Door, PublicRow


class ExerciseQuerySet(Door):
    def seen_by(self, person):
        """Everybody who works here may read the library."""
        return self if person.is_active else self.none()

    def with_content(self):
        """Return exercises that have a version, with it loaded."""
        return self.filter(current__isnull=False).select_related("current")


class Exercise(PublicRow):
    """One exercise. `key` is its library id, for ever; what it says now is its current version."""

    key = models.CharField(max_length=60, unique=True)
    current = models.ForeignKey(
        "library.ExerciseVersion", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )

    objects = ExerciseQuerySet.as_manager()

    class Meta:
        ordering = ["key"]

    def __str__(self):
        return self.current.name if self.current else self.key


class ExerciseVersion(AppendOnly):
    """What an exercise said at one time: facts, text and poses. Plans, records and handouts pin one."""

    class Origin(models.TextChoices):
        SHIPPED = "shipped"
        STUDIO = "studio"

    exercise = models.ForeignKey(Exercise, on_delete=models.PROTECT, related_name="versions")
    number = models.PositiveIntegerField()
    content_hash = models.CharField(max_length=64)
    origin = models.CharField(max_length=10, choices=Origin, default=Origin.SHIPPED)
    base = models.ForeignKey("self", null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    payload = KeptJSONField()
    created_at = models.DateTimeField()
    # Who made a version of the studio's; why demands were left out, where they were.
    author = models.ForeignKey(
        "studio.Staff", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    note = models.CharField(max_length=300, blank=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["exercise", "number"], name="one_version_a_number")]

    def __str__(self):
        return self.name

    @property
    def facts(self) -> dict:
        """Return the facts as in library/data/exercises (id, apparatus, demands, sides, times, springs)."""
        return self.payload["facts"]

    @property
    def text(self) -> dict:
        """Return the words as in library/data/en: all of them, or only id and purpose."""
        return self.payload["text"]

    @property
    def has_words(self) -> bool:
        """Return whether set-up, steps and cues are written, and not only the purpose."""
        return is_whole(self.text)

    @property
    def is_classified(self) -> bool:
        """Return whether somebody has said what it asks of the body. Until then it is in no plan and goes not home."""
        return self.facts["demands"] is not None

    @property
    def is_own(self) -> bool:
        return self.origin == self.Origin.STUDIO

    @property
    def pose(self) -> dict | None:
        """Return start and end pose as in library/data/poses, or None where nothing is drawn yet."""
        return self.payload.get("pose")

    @property
    def name(self) -> str:
        return self.facts["name"]


class LibraryLoad(AppendOnly):
    """One loading of the shipped library: the digest of all its files, to notice when nothing changed."""

    digest = models.CharField(max_length=64)
    at = models.DateTimeField()
