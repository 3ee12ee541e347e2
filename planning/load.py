"""Rows -> plain data: the month's book as the flow takes it, and plans as they were made."""

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import fields, replace
from functools import cache, lru_cache
from typing import Any, get_args, get_type_hints

from django.db import connection
from pydantic import TypeAdapter, ValidationError

from kits import models as kits
from planning import roster
from planning.allocation import Rule
from planning.calendar import IsoWeek, YearMonth
from planning.models import OneOffOrder, Plan
from planning.models.tables import TABLES
from planning.month import Club, Month, SlipFormat, WaveFills
from planning.run import Planned

PEOPLE = frozenset(
    ("subscribers", "orders")
)  # all else of a book is as small in a large club as in a small one
ROW_TYPES = {table: get_args(hint)[0] for table, hint in get_type_hints(Month).items() if table in TABLES}


def month(pk: int) -> Month:
    """Return a month's whole book, every table in its order. Raises kits.models.Month.DoesNotExist."""
    row = kits.Month.objects.get(pk=pk)
    return Month(club=club(row), **{table: tuple(rows(table, row)) for table in TABLES})


def without_people(row: kits.Month) -> Month:
    """Return a month's book without its roster and one-off orders."""
    if not connection.in_atomic_block:  # within one the rows may be ahead of the fingerprint
        with suppress(_ChangedError):
            return _without_people(row.pk, row.fingerprint)
    return _read_without_people(row)


class _ChangedError(Exception):
    """The month was changed while it was read."""


@lru_cache(maxsize=4)  # every page of a month asks for the same rows, and they follow from the fingerprint
def _without_people(pk: int, fingerprint: str) -> Month:
    book = _read_without_people(kits.Month.objects.get(pk=pk))
    if kits.Month.objects.values_list("fingerprint", flat=True).get(pk=pk) != fingerprint:
        raise _ChangedError
    return book


def _read_without_people(row: kits.Month) -> Month:
    return Month(
        club=club(row), **{table: tuple(rows(table, row)) for table in TABLES if table not in PEOPLE}
    )


def to_plan_by(row: kits.Month) -> Month:
    """Return a month's book without its people, but with one order for each thing ordered once.

    With the roster's count that is all planning must know of them.
    """
    ordered = OneOffOrder.objects.filter(month=row).values_list("item", flat=True).distinct().order_by("item")
    orders = tuple(roster.OneOffOrder(reference="", subscriber="", item=item) for item in ordered)
    return replace(without_people(row), orders=orders)


def club(row: kits.Month) -> Club:
    """Return the settings a month was saved with."""
    values: dict[str, Any] = {each.name: getattr(row, each.name) for each in fields(Club)}
    return Club(
        **values
        | {
            "month": YearMonth.parse(row.month),
            "promised": IsoWeek.parse(row.promised),
            "short_goods": Rule(row.short_goods),
            "wave_fills": WaveFills(row.wave_fills),
            "slips": SlipFormat(row.slips),
        }
    )


def rows(table: str, owner: kits.Month) -> Iterator[Any]:
    """Yield the rows of one table as plain data."""
    row_type = ROW_TYPES[table]
    names = [each.name for each in fields(row_type)]
    kept = TABLES[table].objects.filter(month=owner).order_by("position").values_list(*names)
    return (row_type(**dict(zip(names, values, strict=True))) for values in kept.iterator())


@cache
def plan_json() -> TypeAdapter[Planned]:
    """Return what writes a plan as JSON and reads it; made when it is first wanted, since most commands never do."""
    return TypeAdapter(Planned)


class EarlierPlanError(ValueError):
    """A plan was made by another version of the program, which knew other things of it."""


def planned(row: Plan) -> Planned:
    """Return a plan as it was made. Raises EarlierPlanError."""
    try:
        made = _planned(row.answers)
        return replace(made, gaps=(*made.gaps, row.unprinted)) if row.unprinted else made
    except ValidationError:
        said = f"Version {row.version} was planned by another version of this program: plan the month again."
        raise EarlierPlanError(said) from None


@lru_cache(maxsize=4)  # a plan never changes, and every page of a month asks for the same one
def _planned(answers: str) -> Planned:
    return plan_json().validate_json(answers)
