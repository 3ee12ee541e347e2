"""The catalogue in rows. What each column means is said once, in `kits.catalogue`."""

from django.db import models

from kits.catalogue import Breaks, Grain, Leftover, MaterialKind, Print
from kits.models.fields import CodesField, DecimalField, EnumField, FractionField, GrammageField, LengthField
from kits.models.rows import Row, never_negative, one_each


class Material(Row):
    """A `kits.catalogue.Material`."""

    code = models.TextField()
    name = models.TextField()
    kind = EnumField(MaterialKind)
    width = LengthField(null=True)
    height = LengthField(null=True)
    grain = EnumField(Grain)
    print = EnumField(Print)
    grammage = GrammageField(null=True)
    thickness = FractionField(null=True)
    weight = FractionField(null=True)
    roll_length = LengthField(null=True)
    inside_width = LengthField(null=True)
    inside_height = LengthField(null=True)
    inside_depth = LengthField(null=True)
    overs_percent = DecimalField()
    overs_fixed = models.PositiveIntegerField()
    leftover = EnumField(Leftover)
    used_a_year = models.PositiveIntegerField(null=True)
    split = models.BooleanField()
    cut_from = CodesField()
    storage = DecimalField()
    edge_trim = LengthField()
    shelf = models.TextField(blank=True)
    carries = FractionField(null=True)
    soft = models.BooleanField()

    class Meta(Row.Meta):
        constraints = [*one_each("code"), *never_negative("overs_percent", "storage", "carries")]


class Supplier(Row):
    """A `kits.catalogue.Supplier`."""

    code = models.TextField()
    name = models.TextField()
    email = models.TextField(blank=True)
    address = models.TextField(blank=True)
    freight = DecimalField()
    free_freight_from = DecimalField(null=True)

    class Meta(Row.Meta):
        constraints = [*one_each("code"), *never_negative("freight", "free_freight_from")]


class Offer(Row):
    """A `kits.catalogue.Offer`."""

    code = models.TextField()
    supplier = models.TextField()
    material = models.TextField()
    pack = models.PositiveIntegerField()
    minimum = models.PositiveIntegerField()
    multiple = models.PositiveIntegerField()
    lead_days = models.PositiveIntegerField()
    setup_charge = DecimalField()
    maximum = models.PositiveIntegerField(null=True)
    breaks = EnumField(Breaks)
    even_late = models.BooleanField()
    order_until = models.DateField(null=True)

    class Meta(Row.Meta):
        constraints = [*one_each("code"), *never_negative("setup_charge")]


class PriceBreak(Row):
    """A `kits.catalogue.PriceBreak`."""

    offer = models.TextField()
    from_quantity = models.PositiveIntegerField()
    price = DecimalField()

    class Meta(Row.Meta):
        constraints = [*one_each("offer", "from_quantity"), *never_negative("price")]


class StockLine(Row):
    """A `kits.catalogue.StockLine`."""

    item = models.TextField()
    on_hand = models.PositiveIntegerField()
    value_each = DecimalField()

    class Meta(Row.Meta):
        constraints = [*one_each("item"), *never_negative("value_each")]


class OpenOrder(Row):
    """A `kits.catalogue.OpenOrder`."""

    reference = models.TextField()
    supplier = models.TextField()
    material = models.TextField()
    quantity = models.PositiveIntegerField()
    price = DecimalField()
    due = models.DateField()

    class Meta(Row.Meta):
        constraints = [*one_each("reference", "material", "due"), *never_negative("price")]
