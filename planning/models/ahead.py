"""The months to come, uncertain counts and substitutes in rows. What each column means is said in the steps' `rows.py`."""

from django.db import models

from kits.models.fields import DecimalField, EnumField
from kits.models.rows import Row, never_negative, one_each
from planning.models.fields import MonthField
from planning.overs.spoilage import Base


class Forecast(Row):
    """A `planning.lots.Forecast`."""

    material = models.TextField()
    needed_in = MonthField()
    units = models.PositiveIntegerField(null=True)

    class Meta(Row.Meta):
        constraints = one_each("material", "needed_in")


class Spoilage(Row):
    """A `planning.overs.Spoilage`."""

    item = models.TextField()
    operation = models.TextField()
    make_ready = models.PositiveIntegerField()
    percent = DecimalField()
    base = EnumField(Base)

    class Meta(Row.Meta):
        constraints = [*one_each("item", "operation"), *never_negative("percent")]


class Outlook(Row):
    """A `planning.overs.Outlook`."""

    tier = models.TextField()
    low = models.PositiveIntegerField(null=True)
    likely = models.PositiveIntegerField(null=True)
    high = models.PositiveIntegerField(null=True)
    short_cost = DecimalField()

    class Meta(Row.Meta):
        constraints = [*one_each("tier"), *never_negative("short_cost")]


class CountQuantile(Row):
    """A `planning.overs.CountQuantile`."""

    tier = models.TextField()
    percent = DecimalField()
    boxes = models.PositiveIntegerField()

    class Meta(Row.Meta):
        constraints = [*one_each("tier", "percent"), *never_negative("percent")]


class BuyFor(Row):
    """A `planning.overs.BuyFor`."""

    item = models.TextField()
    quantity = models.PositiveIntegerField()

    class Meta(Row.Meta):
        constraints = one_each("item")


class SubstituteRow(Row):
    """A `planning.allocation.SubstituteRow`."""

    material = models.TextField()
    instead = models.TextField()
    per = models.PositiveIntegerField()
    note = models.TextField(blank=True)

    class Meta(Row.Meta):
        constraints = one_each("material", "instead")
