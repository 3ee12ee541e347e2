"""The month's kit in rows. What each column means is said once, in `kits.kit`."""

from django.db import models

from kits.kit import Direction, ItemKind, When
from kits.models.fields import CodesField, DecimalField, EnumField, LengthField
from kits.models.rows import Row, never_negative, one_each


class KitPaper(Row):
    """A `kits.kit.KitPaper`."""

    recipe = models.TextField()
    role = models.TextField()
    material = models.TextField()

    class Meta(Row.Meta):
        constraints = one_each("recipe", "role")


class PreCut(Row):
    """A `kits.kit.PreCut`."""

    code = models.TextField()
    name = models.TextField()
    width = LengthField()
    height = LengthField()
    cut_from = CodesField()
    direction = EnumField(Direction)
    overs_percent = DecimalField()
    overs_fixed = models.PositiveIntegerField()

    class Meta(Row.Meta):
        constraints = [*one_each("code"), *never_negative("overs_percent")]


class KitLine(Row):
    """A `kits.kit.KitLine`."""

    kind = EnumField(ItemKind)
    item = models.TextField()
    count = models.PositiveIntegerField()
    length = LengthField(null=True)
    tiers = CodesField()
    when = EnumField(When)

    class Meta(Row.Meta):
        constraints = one_each("kind", "item", "tiers", "when", or_none=["length"])


class Tier(Row):
    """A `kits.kit.Tier`."""

    code = models.TextField()
    name = models.TextField()
    price = DecimalField()

    class Meta(Row.Meta):
        constraints = [*one_each("code"), *never_negative("price")]
