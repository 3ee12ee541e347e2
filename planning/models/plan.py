"""A plan that was made, and the papers of it."""

from django.db import models
from django.db.models import UniqueConstraint

from kits.models import Month
from kits.models.fields import DecimalField
from planning.models.job import Job


class Plan(models.Model):
    """One version of a month's plan; never changed once it is made.

    answers: the `planning.run.Planned` as JSON. The other columns are its headline figures, for lists.
    """

    month = models.ForeignKey(Month, models.CASCADE, related_name="plans", db_index=False)
    job = models.OneToOneField(Job, models.SET_NULL, null=True, related_name="plan")
    version = models.PositiveIntegerField()
    plan_id = models.TextField()
    made_at = models.DateTimeField()
    answers = models.TextField()

    boxes = models.PositiveIntegerField()
    late_boxes = models.PositiveIntegerField()
    short_materials = models.PositiveIntegerField()
    cost = DecimalField()

    class Meta:
        ordering = ["-version"]
        constraints = [UniqueConstraint(fields=["month", "version"], name="one_plan_of_a_version")]

    def __str__(self) -> str:
        return f"{self.plan_id}, version {self.version}"


class Artefact(models.Model):
    """A paper as it lies in the artefacts folder. path: relative to that folder; sha256: hexadecimal."""

    plan = models.ForeignKey(Plan, models.CASCADE, related_name="papers", db_index=False)
    name = models.TextField()
    title = models.TextField()
    path = models.TextField()
    size = models.PositiveBigIntegerField()
    sha256 = models.TextField()
    position = models.PositiveIntegerField()

    class Meta:
        ordering = ["position"]
        constraints = [UniqueConstraint(fields=["plan", "name"], name="one_paper_of_a_name")]

    def __str__(self) -> str:
        return self.name
