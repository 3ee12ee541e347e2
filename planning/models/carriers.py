"""Carriers in rows. What each column means is said once, in `planning.shipping.rows`."""

from django.db import models

from kits.models.fields import CodesField, DecimalField, EnumField, FractionField, LengthField
from kits.models.rows import Row, never_negative, one_each
from planning.models.fields import WeekdaysField
from planning.shipping.rows import Rounding, Volume


class Service(Row):
    """A `planning.shipping.Service`."""

    code = models.TextField()
    carrier = models.TextField()
    name = models.TextField()
    collects = WeekdaysField()
    cut_off = models.TimeField(null=True)
    max_weight = FractionField(null=True)
    divisor = DecimalField(null=True)
    volume = EnumField(Volume)
    round_sides = EnumField(Rounding)
    volume_above = DecimalField()
    round_weight = EnumField(Rounding)
    sides_to = DecimalField()
    weight_to = DecimalField()
    charged_to = FractionField(null=True)
    max_longest = LengthField(null=True)
    max_second = LengthField(null=True)
    max_thickness = LengthField(null=True)
    max_girth = LengthField(null=True)
    min_longest = LengthField(null=True)
    min_second = LengthField(null=True)

    class Meta(Row.Meta):
        constraints = [*one_each("code"), *never_negative("max_weight", "divisor", "volume_above")]


class Zone(Row):
    """A `planning.shipping.Zone`."""

    carrier = models.TextField()
    country = models.TextField()
    zone = models.TextField()
    prefix = models.TextField(blank=True)
    last = models.TextField(blank=True)

    class Meta(Row.Meta):
        constraints = one_each("carrier", "country", "prefix", "last")


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
    over = FractionField(null=True)
    valid_from = models.DateField(null=True)
    valid_to = models.DateField(null=True)

    class Meta(Row.Meta):
        constraints = [
            *one_each("service", "zone", "up_to", or_none=["valid_from"]),
            *never_negative("up_to", "price", "over"),
        ]


class SurchargeRow(Row):
    """A `planning.shipping.SurchargeRow`."""

    service = models.TextField()
    name = models.TextField()
    amount = DecimalField()
    percent = DecimalField()
    on_all = models.BooleanField()
    zones = CodesField()
    over_weight = FractionField(null=True)
    over_longest = LengthField(null=True)
    over_second = LengthField(null=True)
    over_girth = LengthField(null=True)
    valid_from = models.DateField(null=True)
    valid_to = models.DateField(null=True)

    class Meta(Row.Meta):
        constraints = [
            *one_each("service", "name", "zones", or_none=["over_weight", "valid_from"]),
            *never_negative("amount", "percent", "over_weight"),
        ]


class DeliveryWeek(Row):
    """A `planning.shipping.DeliveryWeek`."""

    country = models.TextField()
    weekdays = WeekdaysField()

    class Meta(Row.Meta):
        constraints = one_each("country")
