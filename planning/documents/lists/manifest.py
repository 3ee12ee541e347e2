"""The manifest of a collection: every parcel handed to a carrier on a day, in the order in which it was packed."""

from collections.abc import Iterable, Iterator, Mapping
from io import BytesIO
from itertools import groupby, islice

from planning.documents.exceptions import People
from planning.documents.lists.labels import PLACES, Labels, up
from planning.documents.lists.write import Listed, write_lists
from planning.documents.parcels import BoxParcel, Collection, LabelParcel, each_parcel
from planning.documents.pdf.words import count, day
from planning.documents.stamp import Stamp
from planning.documents.workbook import binding_of
from planning.documents.workbook.pack import unit_of_weight, weight
from planning.documents.workbook.table import Column, Look, Table
from planning.flow import MonthPlan
from planning.month import Month
from planning.roster import Contents
from planning.shipping import Wave

MANIFEST = "Manifest"
AT_ONCE = 20  # waves in memory


def manifest_book(month: Month, plan: MonthPlan, one: Collection, people: People, stamp: Stamp) -> bytes:
    """Return the manifest of a collection as a workbook."""
    labels = Labels(month, plan)
    file = BytesIO()
    rows = parcels_collected(one, people, labels.parcels)
    write_lists([Listed(manifest_table(labels, one), rows)], binding_of(month.club, stamp), file)
    return file.getvalue()


def parcels_collected(
    one: Collection, people: People, parcels: Mapping[Contents, tuple[BoxParcel, ...]]
) -> Iterator[LabelParcel]:
    """Yield the parcels of a collection, wave by wave."""
    for some in runs(one.waves):
        boxes = people.boxes(some)
        yield from each_parcel(sorted(boxes, key=lambda box: (box.wave, box.place)), parcels)


def runs(waves: Iterable[Wave]) -> Iterator[range]:
    """Yield the numbers of waves as spans without a gap, some waves at a time."""
    numbered = enumerate(wave.number for wave in waves)
    for _, together in groupby(numbered, key=lambda each: each[1] - each[0]):
        numbers = (number for _, number in together)
        while some := list(islice(numbers, AT_ONCE)):
            yield range(some[0], some[-1] + 1)


def manifest_table(labels: Labels, one: Collection) -> Table[LabelParcel]:
    """Return the sheet, without its rows."""
    col, unit = Column[LabelParcel], unit_of_weight(labels.club)
    weights = labels.of_parcel(lambda parcel: up(weight(parcel.heaviest, labels.club), PLACES[unit]))
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
            col("parcel", "Parcel", lambda row: row.parcel.number, Look.COUNT, width=7),
            col("parcels", "Of parcels", lambda row: row.parcel.among, Look.COUNT, width=9),
            col("name", "Name", lambda row: row.box.subscriber.name, width=26),
            col("postcode", "Postcode", lambda row: row.box.subscriber.postcode, width=11),
            col("country", "Country code", lambda row: row.box.subscriber.country, width=8),
            col(
                "weight",
                f"Weight ({unit})",
                weights,
                Look.HUNDREDTHS if unit == "lb" else Look.COUNT,
                width=10,
            ),
            col("customs", f"Customs value ({labels.club.currency})", labels.total, Look.MONEY, width=12),
        ),
    )
