"""The roster in rows. What each column means is said once, in `planning.roster.rows`."""

from django.db import models

from kits.models.rows import Row, one_each
from planning.models.fields import MonthsField


class Subscriber(Row):
    """A `planning.roster.Subscriber`."""

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
    note = models.TextField(blank=True)

    class Meta(Row.Meta):
        constraints = one_each("reference")


class OneOffOrder(Row):
    """A `planning.roster.OneOffOrder`."""

    reference = models.TextField()
    subscriber = models.TextField()
    item = models.TextField()
    count = models.PositiveIntegerField()

    class Meta(Row.Meta):
        constraints = one_each("reference", "item")
