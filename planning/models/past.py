"""The club's past and what is not certain yet, in rows. What each column means is said in the steps' `rows.py`."""

from django.db import models

from kits.models.fields import DecimalField, EnumField
from kits.models.rows import Row, never_negative, one_each
from planning.chances.rows import Unsure
from planning.models.fields import MonthField


class PastTier(Row):
    """A `planning.forecast.PastTier`."""

    in_month = MonthField()
    tier = models.TextField()
    joined = models.PositiveIntegerField()
    left = models.PositiveIntegerField()
    skipped = models.PositiveIntegerField()
    paused = models.PositiveIntegerField()
    boxes = models.PositiveIntegerField()

    class Meta(Row.Meta):
        constraints = one_each("in_month", "tier")


class Stayed(Row):
    """A `planning.forecast.Stayed`."""

    joined = MonthField()
    in_month = MonthField()
    members = models.PositiveIntegerField()

    class Meta(Row.Meta):
        constraints = one_each("joined", "in_month")


class PromotedMonth(Row):
    """A `planning.forecast.PromotedMonth`."""

    in_month = MonthField()
    note = models.TextField(blank=True)

    class Meta(Row.Meta):
        constraints = one_each("in_month")


class Announcement(Row):
    """A `planning.forecast.Announcement`."""

    first = MonthField()
    last = MonthField(null=True)
    boxes = models.IntegerField()
    why = models.TextField()

    class Meta(Row.Meta):
        constraints = one_each("first", "why")


class CountByHand(Row):
    """A `planning.forecast.CountByHand`."""

    in_month = MonthField()
    low = models.PositiveIntegerField()
    likely = models.PositiveIntegerField()
    high = models.PositiveIntegerField()
    why = models.TextField()

    class Meta(Row.Meta):
        constraints = one_each("in_month")


class Uncertain(Row):
    """A `planning.chances.Uncertain`."""

    what = EnumField(Unsure)
    item = models.TextField(blank=True)
    low = DecimalField()
    likely = DecimalField()
    high = DecimalField()
    note = models.TextField(blank=True)

    class Meta(Row.Meta):
        constraints = [*one_each("what", "item"), *never_negative("low", "likely", "high")]
