"""The club's money in rows. What each column means is said in `planning.cost.rows`."""

from django.db import models

from kits.models.fields import CodesField, DecimalField, EnumField
from kits.models.rows import Row, never_negative, one_each
from planning.cost.headings import Heading
from planning.cost.rows import ActualKind, ChangeKind, ChargeKind


class Charge(Row):
    """A `planning.cost.rows.Charge`."""

    kind = EnumField(ChargeKind)
    name = models.TextField()
    tiers = CodesField()
    percent = DecimalField()
    each = DecimalField()
    once = DecimalField()

    class Meta(Row.Meta):
        constraints = [*one_each("kind", "name"), *never_negative("percent", "each", "once")]


class TierAim(Row):
    """A `planning.cost.rows.TierAim`."""

    tier = models.TextField()
    boxes = models.PositiveIntegerField()
    margin = DecimalField(null=True)
    single_margin = DecimalField(null=True)

    class Meta(Row.Meta):
        constraints = one_each("tier")


class BudgetLine(Row):
    """A `planning.cost.rows.BudgetLine`."""

    tier = models.TextField(blank=True)
    heading = EnumField(Heading)
    amount = DecimalField()

    class Meta(Row.Meta):
        constraints = [*one_each("tier", "heading"), *never_negative("amount")]


class PricePoint(Row):
    """A `planning.cost.rows.PricePoint`."""

    start = DecimalField()
    step = DecimalField()
    less = DecimalField()

    class Meta(Row.Meta):
        constraints = [*one_each("start"), *never_negative("start", "step", "less")]


class Promotion(Row):
    """A `planning.cost.rows.Promotion`."""

    name = models.TextField()
    tier = models.TextField(blank=True)
    percent = DecimalField()
    off = DecimalField()
    boxes = models.PositiveIntegerField(null=True)
    extra = models.PositiveIntegerField()

    class Meta(Row.Meta):
        constraints = [*one_each("name"), *never_negative("percent", "off")]


class Actual(Row):
    """A `planning.cost.rows.Actual`."""

    kind = EnumField(ActualKind)
    item = models.TextField(blank=True)
    quantity = DecimalField()
    amount = DecimalField(null=True)

    class Meta(Row.Meta):
        constraints = [*one_each("kind", "item"), *never_negative("quantity")]


class VariantLine(Row):
    """A `planning.cost.rows.VariantLine`."""

    variant = models.TextField()
    change = EnumField(ChangeKind)
    item = models.TextField(blank=True)
    value = models.TextField()

    class Meta(Row.Meta):
        constraints = one_each("variant", "change", "item")
