"""The stock book in rows. It belongs to a club and runs through all its months; items are named by code.

Entries and moves are written once: the database itself refuses to change them (see the migration that makes them).
"""

from django.db import models
from django.db.models import Index, Q, UniqueConstraint

from kits.models import Month
from planning.stock import EntryKind, Place


class StockBook(models.Model):
    """A club's book. last: serial of its latest entry. Whoever makes an entry locks this row: one after the other."""

    club = models.TextField(unique=True)
    currency = models.TextField()
    last = models.PositiveIntegerField(default=0)

    def __str__(self) -> str:
        return f"Stock book of {self.club}"


class StockEntry(models.Model):
    """A `planning.stock.StockEntry`. key: of the form that made it, so that a form sent twice makes one entry.

    month: for which it was made, written 2027-04.
    """

    book = models.ForeignKey(StockBook, models.PROTECT, related_name="entries", db_index=False)
    serial = models.PositiveIntegerField()
    kind = models.TextField(choices=[(kind.value, kind.value) for kind in EntryKind])
    at = models.DateTimeField()
    by = models.TextField()
    note = models.TextField(blank=True)
    order = models.TextField(blank=True)
    month = models.TextField(blank=True)
    reverses = models.PositiveIntegerField(null=True)
    key = models.TextField()

    class Meta:
        ordering = ["-serial"]
        indexes = [Index(fields=["book", "order"], condition=~Q(order=""), name="entries_of_an_order")]
        constraints = [
            UniqueConstraint(fields=["book", "serial"], name="one_entry_of_a_serial"),
            UniqueConstraint(fields=["book", "key"], name="one_entry_of_a_form"),
            UniqueConstraint(fields=["book", "reverses"], name="one_reversal_of_an_entry"),
        ]

    def __str__(self) -> str:
        return f"Entry {self.serial}, {self.kind}"


class StockMove(models.Model):
    """A `planning.stock.Move`."""

    book = models.ForeignKey(StockBook, models.PROTECT, related_name="moves", db_index=False)
    entry = models.ForeignKey(StockEntry, models.PROTECT, related_name="moves", db_index=False)
    position = models.PositiveIntegerField()
    item = models.TextField()
    place = models.TextField(choices=[(place.value, place.value) for place in Place])
    lot_entry = models.PositiveIntegerField()
    lot_line = models.PositiveIntegerField()
    quantity = models.BigIntegerField()
    value = models.BigIntegerField()
    line = models.PositiveIntegerField(null=True)

    class Meta:
        ordering = ["entry", "position"]
        indexes = [Index(fields=["book", "item", "place"], name="moves_of_an_item")]
        constraints = [UniqueConstraint(fields=["entry", "position"], name="moves_in_order")]

    def __str__(self) -> str:
        return f"{self.quantity} of {self.item}, {self.place}"


class MonthStock(models.Model):
    """When a month took its Stock and Open orders sheets from the book. tables: fingerprint of what they held then."""

    month = models.OneToOneField(Month, models.CASCADE, related_name="stock_taken")
    at = models.DateTimeField()
    by = models.TextField()
    tables = models.TextField()

    def __str__(self) -> str:
        return f"Stock of {self.month}, {self.at}"
