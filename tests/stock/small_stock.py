"""A month with an order that is sent, for the tests of the stock book in the database."""

from dataclasses import replace
from decimal import Decimal

from kits.models import Month
from planning import models, ordering, save
from planning.ordering.rows import write_version
from planning.orders import Order, OrderLine
from planning.stockbook import writing
from tests.orders.test_orders import BRADS, CARD, FREIGHT, ORDER, SETUP
from tests.web.small_month import SMALL_MONTH

SHORE: OrderLine = replace(CARD, material="SHORE", name="Shore White", offer="MILL-SHORE", pack=1)
CARTON: OrderLine = replace(BRADS, material="CARTON", name="Flat Carton", offer="MILL-CARTON")
MILL: Order = replace(
    ORDER, number="HERON-2704-1", lines=(SHORE, CARTON, replace(SETUP, material="CARTON"), FREIGHT)
)
LANDED_SHORE = Decimal("12.38")  # worked out in tests/orders


def small_stock() -> tuple[Month, models.PurchaseOrder]:
    """Return a month that is kept, and an order of 40 sheets and 30 cartons that is sent."""
    month = save.month(SMALL_MONTH)
    with writing(month) as book:
        order = models.PurchaseOrder.objects.create(
            book=book, number=MILL.number, month=MILL.month, supplier=MILL.supplier
        )
        version = write_version(order, MILL, "Ada", "")
    assert ordering.send(order, version.version, version.edits, "Ada")
    order.refresh_from_db()
    return month, order


def faults_of_the_book() -> tuple[str, ...]:
    """Return what the checkers say of every book, its balances as the database adds them up."""
    from planning.stock import balance_faults, book_faults
    from planning.stockbook import holdings, whole_book

    found: list[str] = []
    for book in models.StockBook.objects.all():
        entries = whole_book(book)
        found += book_faults(entries)
        found += balance_faults(entries, holdings(book))
        if book.last != len(entries):
            found.append(f"the book says {book.last} entries and holds {len(entries)}")
    return tuple(found)
