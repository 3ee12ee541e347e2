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
from planning.documents.parcels import BoxParcel, LabelParcel, parcels_by_contents
from planning.documents.stamp import Stamp
from planning.documents.workbook.pack import height, unit_of_height, unit_of_weight, weight
from planning.documents.workbook.table import Column, Look, Table, Value
from planning.flow import MonthPlan
from planning.month import Club, Month
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

Declared = Mapping[Contents, tuple[Declaration, ...]]
"""What each parcel of a box declares."""
Columns = tuple[Column[LabelParcel], ...]


@dataclass(frozen=True, slots=True)
class Sending:
    """What the parcels of a file have in common."""

    service: Service
    collected: date


class Labels:
    """The rows of labels of a month: its parcels, what each declares, and the columns."""

    def __init__(self, month: Month, plan: MonthPlan) -> None:
        self.month, self.club = month, month.club
        self.parcels = parcels_by_contents(plan)
        self.declared = declarations(month, plan, self.parcels)
        every = [one for each in self.declared.values() for one in each]
        self.most_lines = max((len(one.lines) for one in every), default=0)
        self.any_missing = any(one.missing for one in every)

    def table(self, sending: Sending, says: str) -> Table[LabelParcel]:
        """Return the sheet, without its rows."""
        columns = (*self.parcel_columns(sending), *self.customs_columns())
        return Table(name=LABELS, says=says, empty="No parcels here.", rows=(), columns=columns)

    def parcel_columns(self, sending: Sending) -> Iterator[Column[LabelParcel]]:
        """Yield what is said of every parcel."""
        names = names_of(self.month)
        col, words = Column[LabelParcel], {one: contents_words(one, names) for one in self.parcels}
        yield col("code", "Box", lambda one: one.box.code, width=20)
        yield col("parcel", "Parcel", lambda one: one.parcel.number, Look.COUNT, width=7)
        yield col("parcels", "Of parcels", lambda one: one.parcel.among, Look.COUNT, width=9)
        for field, head, width in ADDRESS:
            yield col(field, head, attrgetter(f"box.subscriber.{field}"), width=width)
        yield col("country", "Country", lambda one: country_name(one.box.subscriber.country), width=20)
        yield col("code of country", "Country code", lambda one: one.box.subscriber.country, width=8)
        yield col("service", "Service", lambda one: sending.service.code, width=14)
        yield col("collected", "Collected on", lambda one: sending.collected, Look.DAY, width=13)
        yield from self.measures()
        yield col("contents", "Contents", lambda one: words[one.box.box_class.contents], width=34)

    def measures(self) -> Iterator[Column[LabelParcel]]:
        """Yield weight and sides in the club's kind of unit."""
        club = self.club
        grams, long = unit_of_weight(club), unit_of_height(club)
        weights = self.of_parcel(lambda one: up(weight(one.heaviest, club), PLACES[grams]))
        look = Look.HUNDREDTHS if grams == "lb" else Look.COUNT
        yield Column("weight", f"Weight ({grams})", weights, look, width=10)
        for at, side in enumerate(SIDES):
            sides = self.of_parcel(side_of(at, club, PLACES[long]))
            look = Look.HUNDREDTHS if long == "in" else Look.COUNT
            yield Column(side.lower(), f"{side} ({long})", sides, look, width=9)

    def of_parcel(self, figure: Callable[[BoxParcel], Value]) -> Callable[[LabelParcel], Value]:
        """Return a figure that all boxes of the same contents share, worked out once."""
        figures = {contents: tuple(map(figure, each)) for contents, each in self.parcels.items()}
        return lambda one: figures[one.box.box_class.contents][one.parcel.number - 1]

    def customs_columns(self) -> Iterator[Column[LabelParcel]]:
        """Yield what customs asks, as many lines as the parcel with most has."""
        col, money = Column[LabelParcel], self.club.currency
        if not self.most_lines and not self.any_missing:
            return
        yield col("customs value", "Customs value", self.total, Look.MONEY, width=10)
        yield col("currency", "Currency", lambda one: money if self.leaves(one) else "", width=8)
        yield col("lacks", "Customs lacks", self.lacks, needs_you=lambda one: bool(self.lacks(one)), width=24)
        unit = unit_of_weight(self.club)
        for at in range(self.most_lines):
            for key, head, figure, look, width in line_columns(self.club, unit):
                yield col(
                    f"{key} {at + 1}", f"Customs {at + 1} {head}", self.of_line(at, figure), look, width=width
                )

    def leaves(self, one: LabelParcel) -> bool:
        """Tell whether a parcel leaves the country."""
        return one.box.subscriber.country != self.club.country

    def declaration(self, one: LabelParcel) -> Declaration | None:
        """Return what a parcel declares, None where it stays in the country."""
        return self.declared[one.box.box_class.contents][one.parcel.number - 1] if self.leaves(one) else None

    def total(self, one: LabelParcel) -> Value:
        """Return what a parcel is worth."""
        declared = self.declaration(one)
        return declared.value if declared else None

    def lacks(self, one: LabelParcel) -> str:
        """Name what lies in a parcel and has no row on the sheet Customs."""
        declared = self.declaration(one)
        return ", ".join(declared.missing) if declared else ""

    def of_line(self, at: int, figure: Callable[[CustomsLine], Value]) -> Callable[[LabelParcel], Value]:
        """Return a figure of a parcel's line at a place, nothing where it has none there."""

        def found(one: LabelParcel) -> Value:
            declared = self.declaration(one)
            return figure(declared.lines[at]) if declared and at < len(declared.lines) else None

        return found


def line_columns(
    club: Club, unit: str
) -> Iterator[tuple[str, str, Callable[[CustomsLine], Value], Look, int]]:
    """Yield key, head, figure, look and width of each column of a customs line."""
    look = Look.HUNDREDTHS if unit == "lb" else Look.COUNT
    yield "words", "what", lambda line: line.words, Look.TEXT, 24
    yield "hs", "HS code", lambda line: line.hs_code, Look.TEXT, 11
    yield "origin", "origin", lambda line: line.origin, Look.TEXT, 7
    yield "pieces", "pieces", lambda line: line.pieces, Look.COUNT, 7
    yield "grams", f"weight ({unit})", lambda line: up(weight(line.weight, club), PLACES[unit]), look, 9
    yield "worth", "value", lambda line: line.value, Look.MONEY, 9


def declarations(
    month: Month, plan: MonthPlan, parcels: Mapping[Contents, tuple[BoxParcel, ...]]
) -> dict[Contents, tuple[Declaration, ...]]:
    """Return what the parcels of every different box declare."""
    facts, exponent = customs_facts(month, plan.cutting), Currency(month.club.currency).exponent
    return {
        contents: tuple(declare(one.lines, facts, exponent) for one in each)
        for contents, each in parcels.items()
    }


def side_of(at: int, club: Club, places: int) -> Callable[[BoxParcel], Value]:
    """Return how a side of a parcel is told."""
    return lambda one: up(height(Fraction(one.outside[at]), club) or Fraction(0), places)


def up(value: Fraction, places: int) -> Decimal:
    """Return a figure rounded up."""
    units = -(-value * 10**places // 1)
    return Decimal(units).scaleb(-places)


def country_name(code: str) -> str:
    """Return a country as the last line of an address has it."""
    return COUNTRIES.get(code, code).upper()


def labels_csv(table: Table[LabelParcel], rows: Iterable[LabelParcel], stamp: Stamp) -> bytes:
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
