"""Carriers in rows. What each column means is said once, in `planning.shipping.rows`."""

from django.db import models

from kits.models.fields import DecimalField, EnumField, FractionField
from kits.models.rows import Row, never_negative, one_each
from planning.models.fields import WeekdaysField
from planning.shipping.rows import Rounding, Volume


class Service(Row):
    """A `planning.shipping.Service`."""

    code = models.TextField()
    carrier = models.TextField()
    name = models.TextField()
    collects = WeekdaysField()
    max_weight = FractionField(null=True)
    divisor = DecimalField(null=True)
    volume = EnumField(Volume)
    round_sides = EnumField(Rounding)
    volume_above = DecimalField()
    round_weight = EnumField(Rounding)

    class Meta(Row.Meta):
        constraints = [*one_each("code"), *never_negative("max_weight", "divisor", "volume_above")]


class Zone(Row):
    """A `planning.shipping.Zone`."""

    carrier = models.TextField()
    country = models.TextField()
    zone = models.TextField()

    class Meta(Row.Meta):
        constraints = one_each("carrier", "country")


class Transit(Row):
    """A `planning.shipping.Transit`."""

    service = models.TextField()
    zone = models.TextField()
    days = models.PositiveIntegerField()

    class Meta(Row.Meta):
        constraints = one_each("service", "zone")


class Rate(Row):
    """A `planning.shipping.Rate`."""

    service = models.TextField()
    zone = models.TextField()
    up_to = FractionField()
    price = DecimalField()

    class Meta(Row.Meta):
        constraints = [*one_each("service", "zone", "up_to"), *never_negative("up_to", "price")]
