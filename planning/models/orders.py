"""Orders to suppliers in rows. What each column means is said in `planning.orders.model`."""

from django.db import models
from django.db.models import Q, UniqueConstraint

from kits.models.fields import DecimalField, EnumField
from planning.models.stock import StockBook
from planning.orders import LineKind


class PurchaseOrder(models.Model):
    """An order of a club through all its versions. closed_at: when nothing more was to be received of it."""

    book = models.ForeignKey(StockBook, models.PROTECT, related_name="orders", db_index=False)
    number = models.TextField()
    month = models.TextField()
    supplier = models.TextField()
    closed_at = models.DateTimeField(null=True)
    closed_by = models.TextField(blank=True)
    closed_why = models.TextField(blank=True)

    class Meta:
        ordering = ["-month", "id"]
        constraints = [UniqueConstraint(fields=["book", "number"], name="one_order_of_a_number")]

    def __str__(self) -> str:
        return self.number


class OrderVersion(models.Model):
    """One version; once it is sent, nothing of it changes but the days of delivery.

    plan: id and version of the plan it was drafted from. confirmed_at: when the supplier's word for it was written down.
    edits: how often the draft was saved, to tell a stale form.
    """

    order = models.ForeignKey(PurchaseOrder, models.CASCADE, related_name="versions", db_index=False)
    version = models.PositiveIntegerField()
    supplier_name = models.TextField()
    email = models.TextField(blank=True)
    address = models.TextField(blank=True)
    currency = models.TextField()
    order_by = models.DateField(null=True)
    plan = models.TextField(blank=True)
    edits = models.PositiveIntegerField(default=0)
    made_at = models.DateTimeField()
    made_by = models.TextField()
    sent_at = models.DateTimeField(null=True)
    sent_by = models.TextField(blank=True)
    confirmed_at = models.DateTimeField(null=True)
    confirmed_by = models.TextField(blank=True)

    class Meta:
        ordering = ["version"]
        constraints = [
            UniqueConstraint(fields=["order", "version"], name="one_order_of_a_version"),
            UniqueConstraint(fields=["order"], condition=Q(sent_at=None), name="one_draft_of_an_order"),
        ]

    def __str__(self) -> str:
        return f"{self.order}, version {self.version}"


class OrderLine(models.Model):
    """A `planning.orders.OrderLine`."""

    version = models.ForeignKey(OrderVersion, models.CASCADE, related_name="lines", db_index=False)
    position = models.PositiveIntegerField()
    key = models.PositiveIntegerField()
    kind = EnumField(LineKind)
    material = models.TextField(blank=True)
    name = models.TextField()
    about = models.TextField(blank=True)
    offer = models.TextField(blank=True)
    unit = models.TextField(blank=True)
    pack = models.PositiveIntegerField()
    quantity = models.PositiveIntegerField()
    price = DecimalField()
    amount = DecimalField()
    tax_rate = DecimalField()
    recovered = models.BooleanField()
    need_by = models.DateField(null=True)
    expected = models.DateField(null=True)

    class Meta:
        ordering = ["position"]
        constraints = [
            UniqueConstraint(fields=["version", "position"], name="order_lines_in_order"),
            UniqueConstraint(fields=["version", "key"], name="one_order_line_of_a_key"),
        ]

    def __str__(self) -> str:
        return f"{self.quantity} of {self.name}"
