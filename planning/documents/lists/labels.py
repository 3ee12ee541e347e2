"""What a label printer and a carrier's program need of every parcel: one row each, as a sheet and as CSV.

Weights and sides are rounded up, weights with the paper as heavy as it may be: what is declared is never less than what is
posted. What customs asks stands only where a parcel leaves the club's country.
"""

import csv
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from io import StringIO
from operator import attrgetter
from typing import Any

from kits.measures import Currency
from planning.countries import COUNTRIES
from planning.customs import CustomsLine, Declaration, declare
from planning.documents.exceptions import harmless
from planning.documents.listing import Box
from planning.documents.parcels import BoxParcel, parcels_by_contents
from planning.documents.stamp import Stamp
from planning.documents.workbook.pack import height, unit_of_height, unit_of_weight, weight
from planning.documents.workbook.table import Column, Look, Table, Value
from planning.flow import MonthPlan
from planning.month import Month
from planning.names import contents_words, names_of
from planning.problems import customs_facts
from planning.roster import Contents
from planning.shipping import Service

LABELS = "Labels"
ADDRESS = (
    ("name", "Name", 26),
    ("address_1", "Address line 1", 26),
    ("address_2", "Address line 2", 18),
    ("address_3", "Address line 3", 18),
    ("city", "City", 18),
    ("region", "Region", 14),
    ("postcode", "Postcode", 11),
)
SIDES = ("Length", "Width", "Depth")
PLACES = {"g": 0, "lb": 2, "mm": 0, "in": 2}
STAMPED = ("Plan", "Version", "Made at")
LINE: tuple[tuple[str, Look | None, int], ...] = (
    ("what", Look.TEXT, 24),
    ("HS code", Look.TEXT, 11),
    ("origin", Look.TEXT, 7),
    ("pieces", Look.COUNT, 7),
    ("weight ({unit})", None, 9),
    ("value", Look.MONEY, 9),
)
"""The columns of a customs line: head, look, width; figures in the unit of weight have its look."""


@dataclass(frozen=True, slots=True)
class Sending:
    """What the parcels of a file have in common."""

    service: Service
    collected: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What a label says of a parcel, whoever gets it. sides, customs: column by column; value: what all of it is worth."""

    number: int
    among: int
    words: str
    weight: Decimal
    sides: tuple[Value, ...]
    customs: tuple[Value, ...]
    value: Decimal
    lacks: str


@dataclass(frozen=True, slots=True)
class LabelRow:
    """A parcel with its box. leaves: the country it is sent from."""

    box: Box
    told: Told
    leaves: bool


class Labels:
    """The rows of a month's labels and their columns."""

    def __init__(self, month: Month, plan: MonthPlan) -> None:
        self.month, self.plan, self.club = month, plan, month.club
        self.weight_unit, self.side_unit = unit_of_weight(self.club), unit_of_height(self.club)
        parcels = parcels_by_contents(plan)
        declared = declarations(month, plan, parcels)
        self.most_lines = max((len(one.lines) for each in declared.values() for one in each), default=0)
        self.any_missing = any(one.missing for each in declared.values() for one in each)
        names = names_of(month)
        self.told = {
            contents: tuple(
                self.tell(parcel, one, contents_words(contents, names))
                for parcel, one in zip(each, declared[contents], strict=True)
            )
            for contents, each in parcels.items()
        }

    def rows(self, boxes: Iterable[Box]) -> Iterator[LabelRow]:
        """Yield a row for every parcel of some boxes, in their order."""
        for box in boxes:
            leaves = box.subscriber.country != self.club.country
            for told in self.told[box.box_class.contents]:
                yield LabelRow(box, told, leaves)

    def tell(self, parcel: BoxParcel, declared: Declaration, words: str) -> Told:
        """Return what labels say of a parcel."""
        lines = [value for line in declared.lines for value in self.customs_values(line)]
        blank = [None] * (self.most_lines * len(LINE) - len(lines))
        return Told(
            number=parcel.number,
            among=parcel.among,
            words=words,
            weight=self.weighs(parcel.heaviest),
            sides=tuple(self.measures(side) for side in parcel.outside),
            customs=(*lines, *blank),
            value=declared.value,
            lacks=", ".join(declared.missing),
        )

    def customs_values(self, line: CustomsLine) -> tuple[Value, ...]:
        """Return what stands in the columns of a customs line."""
        weighs = self.weighs(line.weight)
        return line.words, line.hs_code, line.origin, line.pieces, weighs, line.value

    def weighs(self, grams: Fraction) -> Decimal:
        """Return a weight as labels have it."""
        return up(weight(grams, self.club), PLACES[self.weight_unit])

    def measures(self, side: int) -> Decimal:
        """Return the length of a side as labels have it."""
        return up(height(Fraction(side), self.club) or Fraction(0), PLACES[self.side_unit])

    def look_of(self, unit: str) -> Look:
        """Return how figures in a unit are shown."""
        return Look.HUNDREDTHS if PLACES[unit] else Look.COUNT

    # --- Columns ---

    def table(self, sending: Sending, says: str) -> Table[LabelRow]:
        """Return the sheet, without its rows."""
        columns = (*self.parcel_columns(sending), *self.customs_columns())
        return Table(name=LABELS, says=says, empty="No parcels here.", rows=(), columns=columns)

    def parcel_columns(self, sending: Sending) -> Iterator[Column[LabelRow]]:
        """Yield what is said of every parcel."""
        col = Column[LabelRow]
        yield col("code", "Box", lambda one: one.box.code, width=20)
        yield col("parcel", "Parcel", lambda one: one.told.number, Look.COUNT, width=7)
        yield col("parcels", "Of parcels", lambda one: one.told.among, Look.COUNT, width=9)
        for field, head, width in ADDRESS:
            yield col(field, head, attrgetter(f"box.subscriber.{field}"), width=width)
        yield col("country", "Country", lambda one: country_name(one.box.subscriber.country), width=20)
        yield col("code of country", "Country code", lambda one: one.box.subscriber.country, width=10)
        yield col("service", "Service", lambda one: sending.service.code, width=14)
        yield col("collected", "Collected on", lambda one: sending.collected, Look.DAY, width=13)
        yield self.weight_column()
        for at, side in enumerate(SIDES):
            look = self.look_of(self.side_unit)
            yield col(side.lower(), f"{side} ({self.side_unit})", side_at(at), look, width=9)
        yield col("contents", "Contents", lambda one: one.told.words, width=34)

    def weight_column(self) -> Column[LabelRow]:
        """Return the column of weights."""
        look, head = self.look_of(self.weight_unit), f"Weight ({self.weight_unit})"
        return Column("weight", head, lambda one: one.told.weight, look, width=10)

    def customs_columns(self) -> Iterator[Column[LabelRow]]:
        """Yield what customs asks, as many lines as the parcel with most has."""
        if not self.most_lines and not self.any_missing:
            return
        col, money = Column[LabelRow], self.club.currency
        yield col("customs value", "Customs value", worth, Look.MONEY, width=10)
        yield col("currency", "Currency", lambda one: money if one.leaves else "", width=8)
        yield col("lacks", "Customs lacks", lacks, needs_you=lambda one: bool(lacks(one)), width=24)
        for at in range(self.most_lines):
            for place, (head, look, width) in enumerate(LINE):
                said = f"Customs {at + 1} {head.format(unit=self.weight_unit)}"
                shown = look or self.look_of(self.weight_unit)
                yield col(said, said, customs_at(at * len(LINE) + place), shown, width=width)


def labels_of(month: Month, plan: MonthPlan) -> Labels:
    """Return the labels of a plan, made once for all its waves while they are written one after the other."""
    if not (_last and _last[0].month is month and _last[0].plan is plan):
        _last[:] = [Labels(month, plan)]
    return _last[0]


_last: list[Labels] = []


def worth(one: LabelRow) -> Value:
    """Return what a parcel that leaves is worth."""
    return one.told.value if one.leaves else None


def lacks(one: LabelRow) -> str:
    """Name what lies in a parcel that leaves and has no row on the sheet Customs."""
    return one.told.lacks if one.leaves else ""


def side_at(at: int) -> Callable[[LabelRow], Value]:
    """Return how a side is read off a row."""
    return lambda one: one.told.sides[at]


def customs_at(at: int) -> Callable[[LabelRow], Value]:
    """Return how a column of customs lines is read off a row."""
    return lambda one: one.told.customs[at] if one.leaves else None


def declarations(
    month: Month, plan: MonthPlan, parcels: Mapping[Contents, tuple[BoxParcel, ...]]
) -> dict[Contents, tuple[Declaration, ...]]:
    """Return what the parcels of every different box declare."""
    facts, exponent = customs_facts(month, plan.cutting), Currency(month.club.currency).exponent
    return {
        contents: tuple(declare(one.lines, facts, exponent) for one in each)
        for contents, each in parcels.items()
    }


def up(value: Fraction, places: int) -> Decimal:
    """Return a figure rounded up."""
    units = -(-value * 10**places // 1)
    return Decimal(units).scaleb(-places)


def country_name(code: str) -> str:
    """Return a country as the last line of an address has it."""
    return COUNTRIES.get(code, code).upper()


def labels_csv(table: Table[LabelRow], rows: Iterable[LabelRow], stamp: Stamp) -> bytes:
    """Return labels as comma-separated values (RFC 4180): UTF-8 with its mark, no text that could be a formula."""
    text = StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow([*(column.head for column in table.columns), *STAMPED])
    plan = (stamp.plan_id, str(stamp.version), stamp.made_at.isoformat())
    figures = [column.figure for column in table.columns]
    writer.writerows([*(in_csv(figure(row)) for figure in figures), *plan] for row in rows)
    return text.getvalue().encode("utf-8-sig")


def in_csv(value: Any) -> str:
    """Return a figure as CSV has it: days as in ISO 8601, numbers without marks for thousands."""
    if value is None:
        return ""
    return harmless(value) if isinstance(value, str) else str(value)
