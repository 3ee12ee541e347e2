"""A month, looked up: rows by code, codes that exist, and how far the absence of a row can be trusted."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from operator import attrgetter
from typing import Any, TypeVar

from kits.catalogue import Material
from kits.kit import ItemKind, KitLine, PreCut, Tier
from kits.measures import LengthUnit, UnknownRulerError, format_exact, ruler
from kits.recipe import CutBy, PaperRole, RecipePiece
from planning.month import Month
from planning.postage import PostageError, ZoneChart
from planning.problems.destinations import zone_row
from planning.recipes import designed_pieces, designed_roles, is_designed, reading
from planning.shipping.rows import Zone

Unread = Mapping[str, Sequence[Mapping[str, object]]]
"""Of each table, the rows that could not be read, as far as they were: field -> value; {} if not at all."""

Key = tuple[object, ...]
K = TypeVar("K")
R = TypeVar("R")


class Book:
    """A month under examination.

    month: with the paper roles and pieces that come out of texts behind those that are rows; written: without them.

    Rules that say "there is no such row" ask `knows` or `whole`, so that a row spoilt by one bad cell is not
    reported as missing as well.
    """

    def __init__(self, month: Month, unread: Unread) -> None:
        self.written = month
        self.month = with_designed_rows(month)
        self.unread = unread
        self._keys: dict[tuple[str, tuple[str, ...]], frozenset[Key]] = {}

    def rows(self, table: str) -> tuple[Any, ...]:
        """Return the rows of a table, or the club as the only row of its own."""
        rows: tuple[Any, ...] = (self.month.club,) if table == "club" else getattr(self.month, table)
        return rows

    def whole(self, *tables: str) -> bool:
        """Tell whether every row of the tables could be read."""
        return not any(self.unread.get(table) for table in tables)

    def keys(self, table: str, *fields: str) -> frozenset[Key]:
        """Return the values of some fields over all rows of a table, those of rows half read included."""
        at = table, fields
        if at not in self._keys:
            read = {key_of(row, fields) for row in self.rows(table)}
            half = {tuple(row.get(field) for field in fields) for row in self.unread.get(table, ())}
            self._keys[at] = frozenset(read | half)
        return self._keys[at]

    def knows(self, table: str, fields: Sequence[str], key: Key) -> bool:
        """Tell whether a row with the key exists, or might among those that could not be read."""
        return key in self.keys(table, *fields) or self.blurred(table, fields)

    def blurred(self, table: str, fields: Sequence[str]) -> bool:
        """Tell whether a row is left out of which not even these fields are known."""
        return any(field not in row for row in self.unread.get(table, ()) for field in fields)

    @cached_property
    def materials(self) -> dict[str, Material]:
        """Materials by code; of a code used twice, the first."""
        return first_by(self.month.materials, lambda row: row.code)

    @cached_property
    def pre_cuts(self) -> dict[str, PreCut]:
        """Pre-cuts by code."""
        return first_by(self.month.pre_cuts, lambda row: row.code)

    @cached_property
    def roles(self) -> dict[tuple[str, str], PaperRole]:
        """Paper roles by recipe and role."""
        return first_by(self.month.roles, lambda row: (row.recipe, row.role))

    @cached_property
    def club_pieces(self) -> dict[str, RecipePiece]:
        """The recipes' pieces that the club cuts, by the code they have on the shelf: recipe/piece."""
        cut = (row for row in self.month.pieces if row.cut_by is CutBy.CLUB)
        return first_by(cut, lambda row: f"{row.recipe}/{row.piece}")

    @cached_property
    def used_recipes(self) -> frozenset[str]:
        """Codes of the recipes this month's kit uses."""
        return frozenset(line.item for line in self.month.kit_lines if line.kind is ItemKind.RECIPE)

    @cached_property
    def half_known_recipes(self) -> frozenset[str]:
        """Codes of the recipes that may have more paper roles and pieces than could be read."""
        half = {str(row.get("code")) for row in self.unread.get("recipes", ())}
        broken = {one.code for one in self.month.recipes if is_designed(one) and reading(one.text).problems}
        return frozenset(half | broken)

    @cached_property
    def services_by_carrier(self) -> dict[str, tuple[str, ...]]:
        """Codes of each carrier's services."""
        carriers: dict[str, tuple[str, ...]] = {}
        for row in self.month.services:
            carriers[row.carrier] = (*carriers.get(row.carrier, ()), row.code)
        return carriers

    @cached_property
    def zones(self) -> ZoneChart:
        """The carriers' zones, of the rows that can be."""
        return ZoneChart(zone_row(row) for row in self.month.zones if is_area(row))

    @cached_property
    def told_apart(self) -> dict[str, int]:
        """How many letters of a postcode the zones go by in each country that has zones."""
        most: dict[str, int] = {}
        for (_, country), length in self.zones.longest.items():
            most[country] = max(length, most.get(country, 0))
        return most

    def lines_for(self, tier: Tier) -> tuple[KitLine, ...]:
        """Return the lines of the kit that go to a tier."""
        return tuple(line for line in self.month.kit_lines if not line.tiers or tier.code in line.tiers)

    def length(self, length: int) -> str:
        """Return a length in the club's unit, even one that cannot be."""
        return format_exact(length, self._unit) if length >= 0 else f"-{format_exact(-length, self._unit)}"

    def size(self, width: int, height: int) -> str:
        """Return a width and a height in the club's unit."""
        return f"{self.length(width)} x {self.length(height)}"

    @cached_property
    def _unit(self) -> LengthUnit:
        try:
            return ruler(self.month.club.ruler).unit
        except UnknownRulerError:
            return LengthUnit.INCH


def is_area(row: Zone) -> bool:
    """Tell whether a zone's country and postcodes can be."""
    try:
        zone_row(row)
    except PostageError:
        return False
    return True


def with_designed_rows(month: Month) -> Month:
    """Return a month whose designed recipes have rows too; what the sheets say already stays as it is."""
    roles = {(row.recipe, row.role) for row in month.roles}
    pieces = {(row.recipe, row.piece, row.page) for row in month.pieces}
    new_roles = (row for one in month.recipes for row in designed_roles(one))
    new_pieces = (row for one in month.recipes for row in designed_pieces(one))
    return replace(
        month,
        roles=(*month.roles, *(row for row in new_roles if (row.recipe, row.role) not in roles)),
        pieces=(
            *month.pieces,
            *(row for row in new_pieces if (row.recipe, row.piece, row.page) not in pieces),
        ),
    )


def key_of(row: object, fields: Sequence[str]) -> Key:
    """Return some fields of a row as a tuple."""
    values = attrgetter(*fields)(row)
    return tuple(values) if len(fields) > 1 else (values,)


def first_by(rows: Iterable[R], key: Callable[[R], K]) -> dict[K, R]:
    """Index rows; of those with the same key the first is kept."""
    index: dict[K, R] = {}
    for row in rows:
        index.setdefault(key(row), row)
    return index
