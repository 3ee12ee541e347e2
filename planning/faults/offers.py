"""Rules for suppliers' offers and what is already ordered.

A larger break may cost as much each as a smaller one, or more: of no use to the buyer, but a price list all
the same, and the plan stays true.
"""

from collections.abc import Iterator
from math import lcm

from planning.faults.book import Book
from planning.faults.model import Fault
from planning.problems.working_days import suppliers_calendar


def offers_without_price(book: Book) -> Iterator[Fault]:
    """Every offer has at least one price."""
    for index, row in enumerate(book.month.offers):
        if row.code.strip() and not book.knows("price_breaks", ("offer",), (row.code,)):
            advice = "Add a row for it to the Price breaks sheet, from quantity 1 if there is only one price."
            yield Fault("offers", index, "code", row.code, "has no price", advice)


def breaks_out_of_order(book: Book) -> Iterator[Fault]:
    """An offer's price breaks are written from the smallest quantity up."""
    last: dict[str, int] = {}
    for index, row in enumerate(book.month.price_breaks):
        before = last.get(row.offer)
        if before is not None and row.from_quantity < before:
            why = f"stands below {before:,}, so the price breaks of {row.offer} fall out of order"
            advice = "Write the breaks of an offer from the smallest quantity up."
            yield Fault("price_breaks", index, "from_quantity", f"{row.from_quantity:,}", why, advice)
        last[row.offer] = row.from_quantity


def orders_overdue(book: Book) -> Iterator[Fault]:
    """What is on order is still to come: a day past says nothing of when it will."""
    planned_on = book.month.club.planned_on
    for index, row in enumerate(book.month.open_orders if book.whole("club") else ()):
        if row.due < planned_on:
            why = f"is before the day the plan is made, {planned_on:%-d %b %Y}"
            advice = "Write the day the goods are expected now, or count them as stock if they are in."
            yield Fault("open_orders", index, "due", f"{row.due:%-d %b %Y}", why, advice)


def nothing_that_can_be_ordered(book: Book) -> Iterator[Fault]:
    """What a supplier sells at most is at least one order: whole packs and multiples, the minimum, the first break."""
    starts: dict[str, int] = {}
    for one in book.month.price_breaks:
        starts[one.offer] = min(one.from_quantity, starts.get(one.offer, one.from_quantity))
    for index, row in enumerate(book.month.offers):
        if row.maximum is None or row.pack < 1 or row.multiple < 1:
            continue
        lot = lcm(row.pack, row.multiple)
        least = -(-max(row.minimum, starts.get(row.code, 1), 1) // lot) * lot
        if row.maximum < least:
            why = f"is less than the smallest order of {row.code}, {least:,}"
            advice = "Correct it, or the pack, the multiple, the minimum or the first price break."
            yield Fault("offers", index, "maximum", f"{row.maximum:,}", why, advice)


def last_days_to_order(book: Book) -> Iterator[Fault]:
    """The last day on which an offer can be ordered is still to come, and a day on which suppliers work."""
    if not book.whole("club", "days_off"):
        return
    planned_on, calendar = book.month.club.planned_on, suppliers_calendar(book.month)
    for index, row in enumerate(book.month.offers):
        if (last := row.order_until) is None:
            continue
        if last < planned_on:
            why = f"is before the day the plan is made, {planned_on:%-d %b %Y}"
            advice = "Ask for the offer anew and write its last day, or take the offer out."
            yield Fault("offers", index, "order_until", f"{last:%-d %b %Y}", why, advice)
        elif not calendar.works(last):
            why = "is a day on which suppliers take no orders"
            advice = f"Write {calendar.on_or_before(last):%-d %b %Y}, the working day before it."
            yield Fault("offers", index, "order_until", f"{last:%-d %b %Y}", why, advice)
