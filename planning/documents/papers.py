"""Every paper of the month, in the order in which people take them up: named first, made when asked for."""

import re
import unicodedata
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from functools import partial
from itertools import islice

from planning.buying import SupplierOrder
from planning.curve import CurveResult
from planning.documents.booklet import booklet
from planning.documents.calendar_file import shipping_calendar
from planning.documents.codes import order_number
from planning.documents.exceptions import Held, People, exceptions_csv, exceptions_of
from planning.documents.listing import Box, list_boxes
from planning.documents.lists.manifest import manifest_book
from planning.documents.lists.packing import packing_lists, wave_labels
from planning.documents.paper import Paper
from planning.documents.parcels import collections
from planning.documents.pdf import cutting_tickets, packing_slips, pick_list, purchase_order
from planning.documents.pdf.booklet import booklet_pdf
from planning.documents.pdf.loads import TITLE as LOADS
from planning.documents.pdf.loads import loads
from planning.documents.pdf.manifest import manifest
from planning.documents.pdf.short_picks import TITLE as SHORT_PICKS
from planning.documents.pdf.short_picks import short_picks
from planning.documents.pdf.words import PAPER_SIZES, count, day, material_words
from planning.documents.short_boxes import short_boxes, short_boxes_csv
from planning.documents.stamp import Stamp
from planning.documents.workbook import month_workbook
from planning.documents.workbook.order import order_workbook
from planning.flow import MonthPlan
from planning.month import Month
from planning.orders import draft
from planning.shipping import Wave

# Names that mean a device and not a file on some systems, whatever their ending.
DEVICES = {
    "con",
    "prn",
    "aux",
    "nul",
    *(f"{port}{number}" for port in ("com", "lpt") for number in range(10)),
}
LONGEST_NAME = 60
MOST_LISTED = 10_000  # roster exceptions, and short boxes, in the month workbook; the files of them have all


def papers(month: Month, plan: MonthPlan, stamp: Stamp, curve: CurveResult | None = None) -> Iterator[Paper]:
    """Yield every paper of a month in memory. Each makes its own bytes; the same plan and stamp make the same ones."""
    boxes = list_boxes(month, plan)
    of_wave: defaultdict[int, list[Box]] = defaultdict(list)
    for box in boxes:
        of_wave[box.wave].append(box)
    yield from month_papers(month, plan, Held(month, boxes), stamp, curve)
    for wave in plan.waves:
        yield from wave_papers(month, plan, wave, of_wave[wave.number], stamp)


def month_papers(
    month: Month, plan: MonthPlan, people: People, stamp: Stamp, curve: CurveResult | None = None
) -> Iterator[Paper]:
    """Yield the papers of the month as a whole. month: its book, which need not hold the roster."""

    def workbook() -> bytes:
        found = tuple(islice(exceptions_of(plan, month.club.slips, people), MOST_LISTED))
        short = tuple(islice(short_boxes(plan, people), MOST_LISTED))
        return month_workbook(month, plan, found, stamp, short, curve)

    def exceptions() -> bytes:
        return exceptions_csv(exceptions_of(plan, month.club.slips, people), stamp)

    yield Paper(name="month-workbook.xlsx", title="Month workbook", make=workbook)
    yield from orders(month, plan, stamp)
    if plan.cutting.tickets or plan.cutting.lengths:
        tickets = partial(cutting_tickets, month, plan.cutting, stamp)
        yield Paper(name="cutting-tickets.pdf", title="Cutting tickets", make=tickets)
    yield from booklets(month, stamp)
    calendar = partial(shipping_calendar, month, plan, stamp)
    yield Paper(name="shipping.ics", title="Shipping calendar", make=calendar)
    yield from handing_over(month, plan, people, stamp)
    if plan.allocation.affected:
        picks = partial(short_picks, month, plan, people, stamp)
        yield Paper(name="short-picks.pdf", title=SHORT_PICKS, make=picks)
    yield Paper(name="roster-exceptions.csv", title="Roster exceptions", make=exceptions)
    if plan.allocation.affected:
        yield Paper(
            name="short-boxes.csv",
            title="Boxes that go without something",
            make=lambda: short_boxes_csv(short_boxes(plan, people), stamp),
        )


def handing_over(month: Month, plan: MonthPlan, people: People, stamp: Stamp) -> Iterator[Paper]:
    """Yield what goes with the collections: how the cartons stand, and a manifest for each."""
    if plan.waves:
        yield Paper(name="cartons-and-pallets.pdf", title=LOADS, make=partial(loads, month, plan, stamp))
    for one in collections(plan):
        name = f"collections/{one.day}-{file_name(one.service.code)}"
        title = f"Manifest, {one.service.name}, {day(one.day)}, {count(one.boxes, 'box', 'boxes')}"
        yield Paper(name=f"{name}.pdf", title=title, make=partial(manifest, month, plan, one, stamp))
        book = partial(manifest_book, month, plan, one, people, stamp)
        yield Paper(name=f"{name}.xlsx", title=f"{title}, parcel by parcel", make=book)


def wave_papers(
    month: Month, plan: MonthPlan, wave: Wave, boxes: Sequence[Box], stamp: Stamp
) -> Iterator[Paper]:
    """Yield the papers of one wave. boxes: in the order of their places."""
    digits = max(3, len(str(len(plan.waves))))
    number = f"{wave.number:0{digits}}"
    title = f"wave {wave.number}, {count(wave.boxes, 'box', 'boxes')}"
    slips = partial(packing_slips, month, plan, wave, boxes, stamp)
    yield Paper(name=f"slips/wave-{number}.pdf", title=f"Packing slips, {title}", make=slips)
    lists = partial(packing_lists, month, plan, wave, boxes, stamp)
    yield Paper(name=f"lists/wave-{number}.xlsx", title=f"Packing list and labels, {title}", make=lists)
    labels = partial(wave_labels, month, plan, wave, boxes, stamp)
    yield Paper(name=f"labels/wave-{number}.csv", title=f"Address labels, {title}", make=labels)
    pick = partial(pick_list, month, plan, wave, stamp)
    yield Paper(name=f"picks/wave-{number}.pdf", title=f"Pick list, {title}", make=pick)


def booklets(month: Month, stamp: Stamp) -> Iterator[Paper]:
    """Yield the booklet of a month with recipes, on the club's own paper and then on the other size."""
    club, told = month.club, booklet(month)
    for paper in sorted(PAPER_SIZES, key=lambda size: size != club.paper) if told.chapters else ():
        make = partial(booklet_pdf, told, club, paper, stamp)
        yield Paper(name=f"booklet/{paper.lower()}.pdf", title=f"Booklet for subscribers, {paper}", make=make)


def orders(month: Month, plan: MonthPlan, stamp: Stamp) -> Iterator[Paper]:
    """Yield the purchase orders, each under its supplier's name, to read and to work on."""
    names = file_names(order.supplier.name for order in plan.buying.orders)
    for place, (order, name) in enumerate(zip(plan.buying.orders, names, strict=True), 1):
        number = order_number(month.club.code, month.club.month, place)
        title = f"Purchase order {number}, {order.supplier.name}"
        make = partial(purchase_order, month, order, stamp, number)
        yield Paper(name=f"orders/{name}.pdf", title=title, make=make)
        book = partial(planned_workbook, month, order, stamp, number)
        yield Paper(name=f"orders/{name}.xlsx", title=f"{title}, as a workbook", make=book)


def planned_workbook(month: Month, bought: SupplierOrder, stamp: Stamp, number: str) -> bytes:
    """Return the order that a plan asks for as a workbook."""
    about = {one.code: material_words(one) for one in month.materials}
    return order_workbook(month.club, draft(month.club, bought, number, about), stamp)


def file_names(texts: Iterable[str]) -> tuple[str, ...]:
    """Return a file name for each text, all different."""
    names: list[str] = []
    for text in texts:
        name = first = file_name(text)
        again = 1
        while name in names:
            again += 1
            name = f"{first}-{again}"
        names.append(name)
    return tuple(names)


def file_name(text: str) -> str:
    """Return a text as a name that every file system takes: small Latin letters, digits, single hyphens."""
    letters = unicodedata.normalize("NFKD", text.casefold()).encode("ascii", "ignore").decode()
    name = "-".join(re.findall("[a-z0-9]+", letters))[:LONGEST_NAME].strip("-")
    return f"file-{name}".strip("-") if name in DEVICES | {""} else name
