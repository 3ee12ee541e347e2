"""The manifest of a collection: every parcel handed to a carrier on a day, in the order in which it was packed."""

from collections.abc import Iterable, Iterator
from io import BytesIO
from itertools import groupby, islice

from planning.documents.exceptions import People
from planning.documents.lists.labels import LabelRow, Labels, labels_of, worth
from planning.documents.lists.write import Listed, write_lists
from planning.documents.parcels import Collection
from planning.documents.pdf.words import count, day
from planning.documents.stamp import Stamp
from planning.documents.workbook import binding_of
from planning.documents.workbook.table import Column, Look, Table
from planning.flow import MonthPlan
from planning.month import Month
from planning.shipping import Wave

MANIFEST = "Manifest"
AT_ONCE = 20  # waves in memory


def manifest_book(month: Month, plan: MonthPlan, one: Collection, people: People, stamp: Stamp) -> bytes:
    """Return the manifest of a collection as a workbook."""
    labels = labels_of(month, plan)
    file = BytesIO()
    rows = parcels_collected(one, people, labels)
    write_lists([Listed(manifest_table(labels, one), rows)], binding_of(month.club, stamp), file)
    return file.getvalue()


def parcels_collected(one: Collection, people: People, labels: Labels) -> Iterator[LabelRow]:
    """Yield the parcels of a collection, wave by wave."""
    for some in runs(one.waves):
        boxes = people.boxes(some)
        yield from labels.rows(sorted(boxes, key=lambda box: (box.wave, box.place)))


def runs(waves: Iterable[Wave]) -> Iterator[range]:
    """Yield the numbers of waves as spans without a gap, some waves at a time."""
    numbered = enumerate(wave.number for wave in waves)
    for _, together in groupby(numbered, key=lambda each: each[1] - each[0]):
        numbers = (number for _, number in together)
        while some := list(islice(numbers, AT_ONCE)):
            yield range(some[0], some[-1] + 1)


def manifest_table(labels: Labels, one: Collection) -> Table[LabelRow]:
    """Return the sheet, without its rows."""
    col = Column[LabelRow]
    boxes = count(one.boxes, "box", "boxes")
    return Table(
        name=MANIFEST,
        says=f"{one.service.carrier}, {one.service.name}, collected {day(one.day)}: {boxes}.",
        empty="No parcels in this collection.",
        rows=(),
        frozen=2,
        columns=(
            col("wave", "Wave", lambda row: row.box.wave, Look.COUNT, width=7),
            col("place", "Place", lambda row: row.box.place, Look.COUNT, width=7),
            col("code", "Box", lambda row: row.box.code, width=20),
            col("parcel", "Parcel", lambda row: row.told.number, Look.COUNT, width=7),
            col("parcels", "Of parcels", lambda row: row.told.among, Look.COUNT, width=9),
            col("name", "Name", lambda row: row.box.subscriber.name, width=26),
            col("postcode", "Postcode", lambda row: row.box.subscriber.postcode, width=11),
            col("country", "Country code", lambda row: row.box.subscriber.country, width=10),
            labels.weight_column(),
            col("customs", f"Customs value ({labels.club.currency})", worth, Look.MONEY, width=12),
        ),
    )
