"""A plan that was made, its boxes and its papers."""

from django.db import models
from django.db.models import UniqueConstraint

from kits.models import Month
from kits.models.fields import DecimalField
from planning.models.job import Job


class ReadyPlans(models.Manager["Plan"]):
    """The plans people see: whole, with all their boxes and papers."""

    def get_queryset(self) -> models.QuerySet["Plan"]:
        """Leave out those a job still works on."""
        return super().get_queryset().filter(ready=True)


class Plan(models.Model):
    """One version of a month's plan; never changed once it is ready.

    answers: the `planning.run.Planned` as JSON. ready: the last act of the job that makes it, so a plan appears with all its
    boxes and papers at once, and the one before stays whole. unprinted: what of people's names the papers cannot print.
    The other columns are headline figures, for lists.
    """

    month = models.ForeignKey(Month, models.CASCADE, related_name="plans", db_index=False)
    job = models.OneToOneField(Job, models.SET_NULL, null=True, related_name="plan")
    version = models.PositiveIntegerField()
    plan_id = models.TextField()
    made_at = models.DateTimeField()
    answers = models.TextField()
    ready = models.BooleanField(default=True, db_default=True)
    unprinted = models.TextField(blank=True, default="", db_default="")

    boxes = models.PositiveIntegerField()
    late_boxes = models.PositiveIntegerField()
    short_materials = models.PositiveIntegerField()
    cost = DecimalField()

    objects = ReadyPlans()
    every = models.Manager()

    class Meta:
        ordering = ["-version"]
        constraints = [UniqueConstraint(fields=["month", "version"], name="one_plan_of_a_version")]

    def __str__(self) -> str:
        return f"{self.plan_id}, version {self.version}"


class BoxClass(models.Model):
    """A class of a plan's boxes, numbered as in its roster step: their contents by signature, and where they go."""

    pk = models.CompositePrimaryKey("plan", "number")
    plan = models.ForeignKey(Plan, models.CASCADE, related_name="classes", db_index=False)
    number = models.PositiveIntegerField()
    signature = models.TextField()
    destination = models.TextField()
    boxes = models.PositiveIntegerField()


class Box(models.Model):
    """One box. What it holds is its class's; its code follows from its serial number (`planning.documents.codes`).

    serial: its number in the order of the roster, from 1. reference: the club's own for the subscriber. wave, place: where
    it is packed, from 1; 0 when no service takes it. That the plan exists is seen to once a chunk, not by the database once
    a box: that would cost as much as storing it.
    """

    pk = models.CompositePrimaryKey("plan", "serial")
    plan = models.ForeignKey(Plan, models.CASCADE, related_name="listed", db_index=False, db_constraint=False)
    serial = models.PositiveIntegerField()
    box_class = models.PositiveIntegerField()
    wave = models.PositiveIntegerField()
    place = models.PositiveIntegerField()
    reference = models.TextField()

    class Meta:
        indexes = [models.Index(fields=["plan", "wave", "place"], name="boxes_of_a_wave")]


class Listing(models.Model):
    """What the listing of a plan's boxes goes by, until all are listed: made once, so that every chunk agrees.

    stretches: as `planning.listing.places.Stretch`, in JSON. wave_size: places that these count for a wave. asks: as
    `planning.listing.sql.Asks`. chunks: as `planning.listing.count.Chunk`.
    """

    plan = models.OneToOneField(Plan, models.CASCADE, primary_key=True, related_name="listing")
    stretches = models.TextField()
    wave_size = models.PositiveIntegerField()
    asks = models.JSONField(default=dict)
    chunks = models.JSONField()


class ListingLine(models.Model):
    """A box that everyone with a key gets (see `planning.listing.sql`). number: its place among all that one person gets."""

    pk = models.CompositePrimaryKey("listing", "key", "number")
    listing = models.ForeignKey(Listing, models.CASCADE, related_name="lines", db_index=False)
    key = models.TextField()
    number = models.PositiveIntegerField()
    box_class = models.PositiveIntegerField()


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
        indexes = [models.Index(fields=["plan", "position"], name="papers_in_order")]
