"""A month of a club: its settings, and the owner of every other row."""

from typing import Any

from django.db import models

from kits.models.fields import DecimalField, FractionField, LengthField


class Month(models.Model):
    """The club's settings for one month, as `planning.month.Club` describes them, and what is known of the whole book.

    month is written 2027-04 and promised 2027-W14. fingerprint: a short hash of all rows; equal rows, equal fingerprint.
    digests: of each table, from which the fingerprint is made.
    """

    name = models.TextField()
    code = models.TextField()
    month = models.TextField()
    kit_name = models.TextField()
    currency = models.TextField()
    country = models.TextField()
    address = models.TextField(blank=True)
    ruler = models.TextField()
    planned_on = models.DateField()
    promised = models.TextField()
    packing_starts = models.DateField()
    goods_in_days = models.PositiveIntegerField()
    cutting_days = models.PositiveIntegerField()
    crew_cost_per_hour = DecimalField()
    minutes_per_box = DecimalField()
    minutes_per_line = DecimalField()
    cart_boxes = models.PositiveIntegerField()
    shelf_boxes = models.PositiveIntegerField()
    wave_fills = models.TextField()
    minutes_per_parcel = DecimalField()
    overtime_cost_per_hour = DecimalField()
    arrive_together = models.BooleanField(default=False)
    piece_overs_percent = DecimalField()
    piece_overs_fixed = models.PositiveIntegerField()
    flat_clearance = LengthField()
    weight_tolerance = DecimalField()
    just_over = DecimalField()
    order_cost = DecimalField()
    holding_percent = DecimalField()
    leftover_percent = DecimalField()
    leftover_months = DecimalField()
    short_goods = models.TextField()
    pallet_length = LengthField()
    pallet_width = LengthField()
    pallet_height = LengthField()
    pallet_weight = FractionField()
    paper = models.TextField()
    slips = models.TextField()
    note = models.TextField(blank=True)

    fingerprint = models.TextField()
    digests: Any = models.JSONField(default=dict)
    saved_at = models.DateTimeField(auto_now=True)

    class Meta:
        ordering = ["-month", "code"]
        constraints = [
            models.UniqueConstraint(fields=["code", "month"], name="one_month_of_a_club"),
        ]

    def __str__(self) -> str:
        return f"{self.code} {self.month}"
