"""Cartons and pallets of every collection: how many of each, how they stand, what to mind when they are moved."""

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction

from reportlab.platypus import Flowable

from planning.documents.parcels import BoxParcel, Collection, collections, parcels_by_contents
from planning.documents.pdf.handling import lifting_cautions, load_cautions
from planning.documents.pdf.look import heading, words
from planning.documents.pdf.page import Letterhead, build
from planning.documents.pdf.tables import Column, Row, notice, table
from planning.documents.pdf.words import count, day, height, size, weight
from planning.documents.stamp import Stamp
from planning.flow import MonthPlan
from planning.month import Month
from planning.packing import Container
from planning.shipping.pallets import Pallet, Stacked, stack_on

COLUMNS = (
    Column("Carton", 46),
    Column("Cartons", 18, number=True),
    Column("Each at most", 24, number=True),
    Column("A layer", 16, number=True),
    Column("Layers", 16, number=True),
    Column("A pallet", 17, number=True),
    Column("Pallets", 17, number=True),
    Column("Heaviest pallet", 28, number=True),
    Column("Ends at", 34),
)
TITLE = "Cartons and pallets"

Kinds = dict[Container, tuple[int, Fraction]]
"""Of each carton how many, and grams of the heaviest."""


def loads(month: Month, plan: MonthPlan, stamp: Stamp) -> bytes:
    """Return the cartons and pallets of a month's collections as a PDF."""
    head = Letterhead(club=month.club, title=TITLE, stamp=stamp)
    club = month.club
    pallet = Pallet(
        length=club.pallet_length, width=club.pallet_width, height=club.pallet_height, load=club.pallet_weight
    )
    parts = [part for one in collections(plan) for part in of_collection(plan, one, pallet, head)]
    story: list[Flowable] = [
        words(TITLE, "title"),
        words(pallet_words(pallet, club.paper)),
        *heading("Before anything is moved"),
        *load_cautions(),
        *(parts or [words("Nothing is collected this month.")]),
    ]
    return build(head, story)


def pallet_words(pallet: Pallet, paper: str) -> str:
    """Say what the figures rest on."""
    return (
        f"Pallet {size(pallet.length, pallet.width)}, loaded to a height of {height(Fraction(pallet.height), paper)} and a "
        f"weight of {weight(pallet.load, paper)} at most. Cartons lie flat, all turned alike, each kind on pallets of its "
        "own; mixed pallets may need fewer. Weights are with the paper as heavy as it may be."
    )


def of_collection(plan: MonthPlan, one: Collection, pallet: Pallet, head: Letterhead) -> Iterator[Flowable]:
    """Yield the part of one collection."""
    kinds = kinds_of(plan, one)
    paper = head.club.paper
    stacked = {kind: stack_on(pallet, kind.outside, grams, number) for kind, (number, grams) in kinds.items()}
    rows = [row(kind, kinds[kind][1], each, paper) for kind, each in stacked.items()]
    pallets = sum(each.pallets for each in stacked.values())
    much = f"{count(one.boxes, 'box', 'boxes')}, {count(pallets, 'pallet')}"
    yield from heading(f"{one.service.name}, collected {day(one.day)}: {much}")
    heaviest = max((grams for _, grams in kinds.values()), default=Fraction(0))
    yield from notice(lifting_cautions(heaviest, paper, "A single carton weighs up to"), head.page_width)
    yield table(COLUMNS, rows, head.page_width)


def kinds_of(plan: MonthPlan, one: Collection) -> Kinds:
    """Count a collection's cartons by kind."""
    each = parcels_by_contents(plan)
    counted: Counter[BoxParcel] = Counter()
    for wave in one.waves:
        for part in wave.parts:
            for parcel in each[part.box_class.contents]:
                counted[parcel] += part.boxes
    kinds: Kinds = {}
    for parcel, number in counted.items():
        before, grams = kinds.get(parcel.container, (0, Fraction(0)))
        kinds[parcel.container] = before + number, max(grams, parcel.heaviest)
    return kinds


def row(kind: Container, grams: Fraction, stacked: Stacked, paper: str) -> Row:
    """Return the line of one kind of carton."""
    full = min(stacked.each, stacked.cartons) * grams
    return Row(
        (
            f"{kind.name}, {size(*kind.outside)}",
            f"{stacked.cartons:,}",
            weight(grams, paper),
            f"{stacked.a_layer:,}",
            f"{stacked.layers:,}",
            f"{stacked.each:,}",
            f"{stacked.pallets:,}",
            weight(full, paper),
            str(stacked.ends),
        ),
        need=not stacked.each,
    )
