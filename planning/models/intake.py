"""A roster on its way in: looked at first, then taken in or dropped."""

from typing import Any

from django.conf import settings
from django.db import models
from django.db.models import UniqueConstraint
from django.utils.timezone import now

from kits.models import Month
from kits.models.fields import CodesField
from planning.models.fields import MonthsField


class Step(models.TextChoices):
    """Where an intake stands; the last three are its ends."""

    WAITING = "waiting"
    LOOKED_AT = "looked at"
    AGREED = "agreed"
    TAKEN = "taken in"
    REFUSED = "refused"
    DROPPED = "dropped"


class Intake(models.Model):
    """A roster's file, what would change if it was taken in, and what became of it.

    path: of the file, in the data folder. fingerprint: of the month it was compared with. rows: of the file; new, changed,
    same, faulty: how these add up; kept: people of the month who are not in the file, and stay as they are. found: the first
    problems, each as row, column, value, why and advice. error: why all of it is refused. owner: who looks through it, by a
    name nobody else has; whoever comes later takes its place.
    """

    month = models.ForeignKey(Month, models.CASCADE, related_name="intakes")
    name = models.TextField()
    path = models.TextField(blank=True)
    step = models.TextField(choices=Step.choices, default=Step.WAITING)
    fingerprint = models.TextField(blank=True)
    rows = models.PositiveIntegerField(default=0)
    new = models.PositiveIntegerField(default=0)
    changed = models.PositiveIntegerField(default=0)
    same = models.PositiveIntegerField(default=0)
    faulty = models.PositiveIntegerField(default=0)
    kept = models.PositiveIntegerField(default=0)
    found: Any = models.JSONField(default=list)
    error = models.TextField(blank=True)
    owner = models.TextField(blank=True)
    asked_by = models.ForeignKey(settings.AUTH_USER_MODEL, models.SET_NULL, null=True, related_name="+")
    created_at = models.DateTimeField(default=now)
    ended_at = models.DateTimeField(null=True)

    class Meta:
        ordering = ["-id"]

    def __str__(self) -> str:
        return f"{self.name}, {self.step}"


class IntakeRow(models.Model):
    """A row of a file that could be read, until the intake has ended. faulty: it is not taken in."""

    intake = models.ForeignKey(Intake, models.CASCADE, related_name="+", db_index=False)
    number = models.PositiveIntegerField()
    faulty = models.BooleanField()
    reference = models.TextField()
    name = models.TextField()
    address_1 = models.TextField()
    address_2 = models.TextField(blank=True)
    address_3 = models.TextField(blank=True)
    city = models.TextField()
    region = models.TextField(blank=True)
    postcode = models.TextField(blank=True)
    country = models.TextField()
    tier = models.TextField()
    quantity = models.PositiveIntegerField()
    active = models.BooleanField()
    joined = models.DateField(null=True)
    skips = MonthsField()
    sent = models.PositiveIntegerField(null=True)
    promotions = CodesField()
    note = models.TextField(blank=True)

    class Meta:
        constraints = [UniqueConstraint(fields=["intake", "number"], name="one_intake_row_of_a_number")]

    def __str__(self) -> str:
        return f"row {self.number}"
