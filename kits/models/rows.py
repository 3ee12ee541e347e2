"""What all rows of a month's book have in common."""

from django.db import models
from django.db.models import BaseConstraint, CheckConstraint, Q, UniqueConstraint

from kits.models.month import Month

IN_ORDER = UniqueConstraint(fields=["month", "position"], name="%(app_label)s_%(class)s_in_order")


class Row(models.Model):
    """A row that belongs to one month and keeps its place among the others.

    Its columns are named as the fields of the plain data it holds, so that `planning.load` and `planning.save`
    copy them one for one. Rows name each other by code, as they do in the month file.
    """

    month = models.ForeignKey(Month, models.CASCADE, related_name="+", db_index=False)
    position = models.PositiveIntegerField()

    objects = models.Manager()

    class Meta:
        abstract = True
        constraints = [IN_ORDER]


def one_each(*columns: str) -> list[BaseConstraint]:
    """Return a row's constraints when no two rows of a month may hold the same in all these columns."""
    once = UniqueConstraint(fields=["month", *columns], name="%(app_label)s_%(class)s_once")
    return [IN_ORDER, once]


def never_negative(*columns: str) -> list[BaseConstraint]:
    """Return constraints for decimal columns; a whole number's column refuses a negative by its type."""
    return [
        CheckConstraint(
            condition=~Q(**{f"{column}__startswith": "-"}),
            name=f"%(app_label)s_%(class)s_{column}_not_negative",
        )
        for column in columns
    ]
