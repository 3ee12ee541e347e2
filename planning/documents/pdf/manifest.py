"""What a collection takes away, to be counted and signed when it is handed over; the parcels one by one are a workbook."""

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction

from reportlab.platypus import Flowable, Spacer

from planning.documents.parcels import BoxParcel, Collection, parcels_by_contents
from planning.documents.pdf.handling import load_cautions
from planning.documents.pdf.look import heading, words
from planning.documents.pdf.page import Letterhead, build
from planning.documents.pdf.tables import Column, Row, facts, side_by_side, table
from planning.documents.pdf.words import count, day, weight
from planning.documents.stamp import Stamp
from planning.flow import MonthPlan
from planning.month import Month
from planning.roster import BoxClass

ZONES = (
    Column("To zone", 60),
    Column("Parcels", 30, number=True),
    Column("Weight, at most", 50, number=True),
    Column("Counted", 40),
)
WAVES = (
    Column("Packed on", 50),
    Column("Waves", 60),
    Column("Boxes", 30, number=True),
    Column("Counted", 40),
)
SIGNED = (Column("", 40), Column("Name", 60), Column("Signature", 60), Column("Date and time", 34))


def manifest(month: Month, plan: MonthPlan, one: Collection, stamp: Stamp) -> bytes:
    """Return the manifest of a collection as a PDF."""
    title = f"Manifest, {one.service.name}, {day(one.day)}"
    head = Letterhead(club=month.club, title=title, stamp=stamp)
    parcels = parcels_of_zones(plan, one)
    story: list[Flowable] = [
        words(title, "title"),
        side_by_side([who(one, head)], [how_much(parcels, one, head)], head.page_width),
        *heading("Parcels by zone"),
        table(ZONES, list(zone_rows(parcels, month.club.paper)), head.page_width),
        *heading("Packed"),
        table(WAVES, list(wave_rows(one)), head.page_width),
        *heading("Handing over"),
        *load_cautions(),
        Spacer(0, 6),
        table(SIGNED, [Row((who, "", "", "")) for who in ("Handed over by", "Taken by")], head.page_width),
    ]
    return build(head, story)


Zoned = dict[str, Counter[BoxParcel]]


def parcels_of_zones(plan: MonthPlan, one: Collection) -> Zoned:
    """Count the parcels of each of the carrier's zones."""
    each = parcels_by_contents(plan)
    zones: Zoned = {}
    for wave in one.waves:
        for part in wave.parts:
            counted = zones.setdefault(zone_of(part.box_class, one), Counter())
            for parcel in each[part.box_class.contents]:
                counted[parcel] += part.boxes
    return dict(sorted(zones.items()))


def zone_of(box_class: BoxClass, one: Collection) -> str:
    """Return where a class goes, as the carrier of the collection calls it."""
    return dict(box_class.zones).get(one.service.carrier, "")


def heaviest(counted: Counter[BoxParcel]) -> Fraction:
    """Return the grams of some parcels at most."""
    return sum((parcel.heaviest * number for parcel, number in counted.items()), Fraction(0))


def who(one: Collection, head: Letterhead) -> Flowable:
    """Return the carrier and the day."""
    pairs = [("Carrier", one.service.carrier), ("Service", one.service.name), ("Collected on", day(one.day))]
    return facts(pairs, head.page_width / 2 - 14)


def how_much(parcels: Zoned, one: Collection, head: Letterhead) -> Flowable:
    """Return what the collection comes to."""
    every = sum(parcels.values(), Counter[BoxParcel]())
    pairs = [
        ("Parcels", f"{every.total():,}"),
        ("Boxes", f"{one.boxes:,}"),
        ("Weight", f"at most {weight(heaviest(every), head.club.paper)}"),
    ]
    return facts(pairs, head.page_width / 2)


def zone_rows(parcels: Zoned, paper: str) -> Iterator[Row]:
    """Yield a row a zone."""
    for zone, counted in parcels.items():
        yield Row((zone, f"{counted.total():,}", weight(heaviest(counted), paper), ""))


def wave_rows(one: Collection) -> Iterator[Row]:
    """Yield a row a packing day."""
    for when in dict.fromkeys(wave.day for wave in one.waves):
        waves = [wave for wave in one.waves if wave.day == when]
        first, last = waves[0].number, waves[-1].number
        which = f"{first} to {last} ({count(len(waves), 'wave')})" if len(waves) > 1 else f"{first}"
        yield Row((day(when), which, f"{sum(wave.boxes for wave in waves):,}", ""))
