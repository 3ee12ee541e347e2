"""What all rows of a month's book have in common."""

from collections.abc import Sequence
from itertools import chain, combinations

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


def one_each(*columns: str, or_none: Sequence[str] = ()) -> list[BaseConstraint]:
    """Return a row's constraints when no two rows of a month may hold the same in all these columns.

    or_none: more of them, which may be missing. To a database no missing value is like another, so each case of missing
    ones has a constraint of the rest.
    """
    cases = chain.from_iterable(combinations(or_none, count) for count in range(len(or_none) + 1))
    return [IN_ORDER, *(once([*columns, *or_none], missing) for missing in cases)]


def once(columns: Sequence[str], missing: Sequence[str]) -> UniqueConstraint:
    """Return the constraint of a key's columns for rows in which some of them are missing."""
    return UniqueConstraint(
        fields=["month", *(column for column in columns if column not in missing)],
        condition=Q(**{f"{column}__isnull": True for column in missing}) if missing else None,
        name="_".join(["%(app_label)s_%(class)s_once", *(f"no_{column}" for column in missing)]),
    )


def never_negative(*columns: str) -> list[BaseConstraint]:
    """Return constraints for decimal columns; a whole number's column refuses a negative by its type."""
    return [
        CheckConstraint(
            condition=~Q(**{f"{column}__startswith": "-"}),
            name=f"%(app_label)s_%(class)s_{column}_not_negative",
        )
        for column in columns
    ]
