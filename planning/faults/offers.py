"""Rules for suppliers' offers and what is already ordered.

A larger break may cost as much each as a smaller one, or more: of no use to the buyer, but a price list all
the same, and the plan stays true.
"""

from collections.abc import Iterator

from planning.faults.book import Book
from planning.faults.model import Fault


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
