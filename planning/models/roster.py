"""The roster in rows, and the rules of what its boxes hold.

What each column means is said once, in `planning.roster.rows` and `planning.contents.rows`.
"""

from django.db import models

from kits.models.fields import CodesField, EnumField
from kits.models.rows import Row, one_each
from planning.contents.rows import Does, When
from planning.models.fields import MonthsField
from planning.roster.rows import Besides


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
    sent = models.PositiveIntegerField(null=True)
    promotions = CodesField()
    note = models.TextField(blank=True)

    class Meta(Row.Meta):
        constraints = one_each("reference")
        # who is looked for on a long roster is found in here, without going through the rows themselves
        indexes = [
            models.Index(
                fields=["month", "name", "reference", "postcode", "city", "tier", "active", "position"],
                name="people_looked_for",
            )
        ]


class OneOffOrder(Row):
    """A `planning.roster.OneOffOrder`."""

    reference = models.TextField()
    subscriber = models.TextField()
    item = models.TextField()
    count = models.PositiveIntegerField()
    why = EnumField(Besides, default=Besides.ADD_ON)

    class Meta(Row.Meta):
        constraints = one_each("reference", "item")


class BoxRule(Row):
    """A `planning.contents.Rule`."""

    code = models.TextField()
    when = EnumField(When)
    does = EnumField(Does)
    item = models.TextField()
    count = models.PositiveIntegerField()
    instead = models.TextField(blank=True)
    tiers = CodesField()
    countries = CodesField()
    priority = models.PositiveIntegerField()
    slot = models.TextField(blank=True)
    number = models.PositiveIntegerField(null=True)
    first = models.DateField(null=True)
    last = models.DateField(null=True)
    promotion = models.TextField(blank=True)

    class Meta(Row.Meta):
        constraints = one_each("code")
