"""Crew, working days and machines in rows. What each column means is said in `planning.shipping` and `planning.cutting`."""

from django.db import models

from kits.models.fields import DecimalField, EnumField, LengthField
from kits.models.rows import Row, never_negative, one_each
from planning.calendar import Weekday
from planning.shipping.rows import OffFor


class WeekdayCrew(Row):
    """A `planning.shipping.WeekdayCrew`."""

    weekday = EnumField(Weekday)
    minutes = models.PositiveIntegerField()
    who = models.TextField(blank=True)
    starts = models.TimeField(null=True)
    ends = models.TimeField(null=True)
    overtime = models.PositiveIntegerField()
    country = models.TextField(blank=True)

    class Meta(Row.Meta):
        constraints = one_each("weekday", "who")


class DayOff(Row):
    """A `planning.shipping.DayOff`."""

    day = models.DateField()
    name = models.TextField()
    who = EnumField(OffFor)
    country = models.TextField(blank=True)

    class Meta(Row.Meta):
        constraints = one_each("day", "who", "country")


class CrewDay(Row):
    """A `planning.shipping.CrewDay`."""

    day = models.DateField()
    minutes = models.PositiveIntegerField()
    reason = models.TextField(blank=True)
    overtime = models.PositiveIntegerField()

    class Meta(Row.Meta):
        constraints = one_each("day")


class Guillotine(Row):
    """A `planning.cutting.Guillotine`."""

    code = models.TextField()
    name = models.TextField()
    opening = LengthField()
    lift_height = LengthField()
    smallest_strip = LengthField()
    minutes_per_lift = DecimalField()
    minutes_per_cut = DecimalField()
    minutes_per_turn = DecimalField()
    cost_per_hour = DecimalField()

    class Meta(Row.Meta):
        constraints = [
            *one_each("code"),
            *never_negative("minutes_per_lift", "minutes_per_cut", "minutes_per_turn", "cost_per_hour"),
        ]
