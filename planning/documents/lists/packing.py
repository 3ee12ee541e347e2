"""What the crew and the label printer need of every box of a wave, one row each, in packing order."""

from collections.abc import Iterable, Mapping
from io import BytesIO
from operator import attrgetter
from typing import Any

from planning.countries import COUNTRIES
from planning.documents.listing import Box
from planning.documents.lists.write import Listed, write_lists
from planning.documents.pdf.words import contents_words, count, day
from planning.documents.stamp import Stamp
from planning.documents.workbook import binding_of
from planning.documents.workbook.cells import decimal
from planning.documents.workbook.pack import unit_of_weight, weight
from planning.documents.workbook.table import Column, Look, Table
from planning.flow import MonthPlan
from planning.month import Club, Month
from planning.packing import BoxSpec
from planning.roster import Contents
from planning.shipping import Wave

PACKING, LABELS = "Packing list", "Labels"

Specs = Mapping[Contents, BoxSpec]


def packing_lists(month: Month, plan: MonthPlan, wave: Wave, boxes: Iterable[Box], stamp: Stamp) -> bytes:
    """Return a wave's lists as a workbook: a sheet to pack by and one to print labels from."""
    of_wave = tuple(boxes)
    specs = {spec.contents: spec for spec in plan.packing.boxes}
    file = BytesIO()
    sheets = (
        Listed(packing_table(month, specs, wave), of_wave),
        Listed(labels_table(month.club, specs, wave), of_wave),
    )
    write_lists(sheets, binding_of(month.club, stamp), file)
    return file.getvalue()


def packing_table(month: Month, specs: Specs, wave: Wave) -> Table[Box]:
    """Return the sheet to pack by."""
    words = {contents: contents_words(contents, month) for contents in specs}
    cartons = {
        contents: spec.container.name if spec.container else "none" for contents, spec in specs.items()
    }
    col = Column[Box]
    return Table(
        name=PACKING,
        says=f"{of_wave(wave)} In packing order.",
        empty="No boxes in this wave.",
        rows=(),
        frozen=2,
        columns=(
            col("place", "Place", lambda box: box.place, Look.COUNT, width=7),
            col("code", "Box", lambda box: box.code, width=20),
            col("name", "Name", lambda box: box.subscriber.name, width=26),
            col("country", "Country", lambda box: box.subscriber.country, width=9),
            col("contents", "Contents", lambda box: words[box.box_class.contents], width=34),
            col("lines", "Lines", lambda box: len(specs[box.box_class.contents].lines), Look.COUNT, width=7),
            col("carton", "Carton", lambda box: cartons[box.box_class.contents], width=20),
            weight_column(month.club, specs),
            col("reference", "Subscriber", lambda box: box.subscriber.reference, width=14),
        ),
    )


def labels_table(club: Club, specs: Specs, wave: Wave) -> Table[Box]:
    """Return the sheet to print labels from, each part of an address in a column of its own."""
    col = Column[Box]
    return Table(
        name=LABELS,
        says=f"{of_wave(wave)} A row a label, as a label printer takes it.",
        empty="No boxes in this wave.",
        rows=(),
        columns=(
            col("code", "Box", lambda box: box.code, width=20),
            *(
                col(field, head, subscriber_text(field), width=width)
                for field, head, width in (
                    ("name", "Name", 26),
                    ("address_1", "Address line 1", 26),
                    ("address_2", "Address line 2", 18),
                    ("address_3", "Address line 3", 18),
                    ("city", "City", 18),
                    ("region", "Region", 14),
                    ("postcode", "Postcode", 11),
                )
            ),
            col("country", "Country", lambda box: country_name(box.subscriber.country), width=20),
            col("code of country", "Code", lambda box: box.subscriber.country, width=6),
            weight_column(club, specs),
        ),
    )


def subscriber_text(field: str) -> Any:
    """Return how a text of the roster is read off a box."""
    return attrgetter(f"subscriber.{field}")


def country_name(code: str) -> str:
    """Return a country as the last line of an address has it."""
    return COUNTRIES.get(code, code).upper()


def weight_column(club: Club, specs: Specs) -> Column[Box]:
    """Return the column of the boxes' weights, carton and wrapping included."""
    unit = unit_of_weight(club)
    weights = {contents: decimal(weight(spec.weight, club)) for contents, spec in specs.items()}
    look = Look.HUNDREDTHS if unit == "lb" else Look.TENTHS
    return Column("weight", f"Weight ({unit})", lambda box: weights[box.box_class.contents], look, width=10)


def of_wave(wave: Wave) -> str:
    """Say which wave it is."""
    boxes, service = count(wave.boxes, "box", "boxes"), f"{wave.service.carrier}, {wave.service.name}"
    return (
        f"Wave {wave.number}: {boxes}, packed {day(wave.day)}, collected {day(wave.collected)} by {service}."
    )
