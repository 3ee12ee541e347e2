"""What the crew and the label printer need of every box of a wave, one row each, in packing order."""

from collections.abc import Iterable, Mapping
from io import BytesIO

from planning.documents.listing import Box
from planning.documents.lists.labels import Sending, labels_csv, labels_of
from planning.documents.lists.write import Listed, write_lists
from planning.documents.pdf.words import count, day
from planning.documents.stamp import Stamp
from planning.documents.workbook import binding_of
from planning.documents.workbook.cells import decimal
from planning.documents.workbook.pack import unit_of_weight, weight
from planning.documents.workbook.table import Column, Look, Table
from planning.flow import MonthPlan
from planning.month import Club, Month
from planning.names import contents_words, names_of
from planning.packing import BoxSpec
from planning.roster import Contents
from planning.shipping import Wave

PACKING = "Packing list"
LABELS_SAY = "A row a parcel, as a label printer takes it."

Specs = Mapping[Contents, BoxSpec]


def packing_lists(month: Month, plan: MonthPlan, wave: Wave, boxes: Iterable[Box], stamp: Stamp) -> bytes:
    """Return a wave's lists as a workbook: a sheet to pack by and one to print labels from."""
    in_wave = tuple(boxes)
    specs = {spec.contents: spec for spec in plan.packing.boxes}
    labels = labels_of(month, plan)
    table = labels.table(Sending(wave.service, wave.collected), f"{of_wave(wave)} {LABELS_SAY}")
    file = BytesIO()
    sheets = (
        Listed(packing_table(month, specs, wave), in_wave),
        Listed(table, labels.rows(in_wave)),
    )
    write_lists(sheets, binding_of(month.club, stamp), file)
    return file.getvalue()


def wave_labels(month: Month, plan: MonthPlan, wave: Wave, boxes: Iterable[Box], stamp: Stamp) -> bytes:
    """Return a wave's labels as CSV."""
    labels = labels_of(month, plan)
    table = labels.table(Sending(wave.service, wave.collected), LABELS_SAY)
    return labels_csv(table, labels.rows(boxes), stamp)


def packing_table(month: Month, specs: Specs, wave: Wave) -> Table[Box]:
    """Return the sheet to pack by."""
    names = names_of(month)
    words = {contents: contents_words(contents, names) for contents in specs}
    cartons = {contents: spec.packed_in or "none" for contents, spec in specs.items()}
    parcels = {contents: len(spec.parcels) for contents, spec in specs.items()}
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
            col("parcels", "Parcels", lambda box: parcels[box.box_class.contents], Look.COUNT, width=8),
            col("carton", "Carton", lambda box: cartons[box.box_class.contents], width=20),
            weight_column(month.club, specs),
            col("reference", "Subscriber", lambda box: box.subscriber.reference, width=14),
        ),
    )


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
