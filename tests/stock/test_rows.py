"""The stock book in the database: entries stand for ever, a form makes one, and receipts move their order on."""

from decimal import Decimal
from uuid import uuid4

import pytest
from django.db import DatabaseError
from django.db.transaction import atomic

from kits.models import Month
from planning import models, ordering, save, stockbook
from planning.orders import OrderStateError, Received, State
from planning.stock import CutLine, Place, StockError
from planning.stockbook import (
    Counted,
    OtherMoneyError,
    book_of,
    holdings,
    post_adjust,
    post_carry,
    post_count,
    post_cut,
)
from tests.stock.small_stock import LANDED_SHORE, faults_of_the_book, small_stock
from tests.web.small_month import SMALL_MONTH

pytestmark = pytest.mark.django_db


@pytest.fixture
def stock() -> tuple[Month, models.PurchaseOrder]:
    return small_stock()


def key() -> str:
    return uuid4().hex


def held(month: Month, place: Place = Place.SHELF) -> dict[str, tuple[int, int]]:
    book = book_of(month)
    assert book is not None
    found: dict[str, tuple[int, int]] = {}
    for one in holdings(book):
        if one.place is place:
            units, value = found.get(one.item, (0, 0))
            found[one.item] = (units + one.quantity, value + one.value)
    return {item: pair for item, pair in found.items() if pair != (0, 0)}


def kept_now(order: models.PurchaseOrder) -> ordering.Kept:
    [one] = ordering.kept([models.PurchaseOrder.objects.select_related("book").get(pk=order.pk)])
    return one


Stock = tuple[Month, models.PurchaseOrder]


def test_it_works(stock: Stock) -> None:
    month, order = stock
    posted = ordering.receive_order(month, order, {1: (25, 0), 2: (0, 3)}, "Bo", key(), "two parcels")
    assert (posted.row.serial, posted.row.by, posted.row.order, posted.is_new) == (
        1,
        "Bo",
        "HERON-2704-1",
        True,
    )
    assert held(month) == {"SHORE": (25, 774)}  # 25/40 of 12.38, half up
    assert held(month, Place.SPOILED) == {"CARTON": (3, 0)}
    assert kept_now(order).state is State.PART_RECEIVED
    ordering.receive_order(month, order, {1: (15, 0), 2: (32, 0)}, "Bo", key())
    assert held(month)["SHORE"] == (40, int(LANDED_SHORE * 100))
    one = kept_now(order)
    assert (one.state, one.row.closed_why) == (State.CLOSED, "all received")
    assert one.received[2] == Received(
        good=32, damaged=3, value=Decimal("8.94")
    )  # 8.58 and two more at 5.36 / 30
    assert faults_of_the_book() == ()


def test_a_form_sent_twice_makes_one_entry(stock: Stock) -> None:
    month, order = stock
    same = key()
    first = ordering.receive_order(month, order, {1: (40, 0), 2: (30, 0)}, "Bo", same)
    again = ordering.receive_order(month, order, {1: (40, 0), 2: (30, 0)}, "Bo", same)
    assert (again.row.pk, again.is_new) == (first.row.pk, False)
    same = key()
    for _ in range(2):
        post_carry(month, [("SHORE", 7)], Place.SHELF, Place.CUTTING, "Bo", same)
    assert held(month)["SHORE"][0] == 33
    same = key()
    entry = models.StockEntry.objects.get(serial=2)
    for _ in range(2):
        stockbook.post_reversal(month, entry, "Bo", same)
    assert held(month)["SHORE"][0] == 40
    assert faults_of_the_book() == ()


def test_the_ticket_books_sheets_good_and_spoiled_pieces(stock: Stock) -> None:
    month, order = stock
    ordering.receive_order(month, order, {1: (40, 0)}, "Bo", key())
    lines = [CutLine(item="TAG", good=110, spoiled=10, share=35)]
    posted = post_cut(month, "SHORE", 10, lines, "Cleo", key(), "ticket 1")
    assert posted.row.kind == "cut"
    assert held(month)["SHORE"][0] == 30
    assert held(month)["TAG"] == (110, 284)  # 10 sheets cost 3.10; 110 of 120 pieces
    assert held(month, Place.SPOILED)["TAG"] == (10, 26)
    assert faults_of_the_book() == ()


def test_counts_and_corrections_say_who_when_and_why(stock: Stock) -> None:
    month, order = stock
    ordering.receive_order(month, order, {1: (40, 0)}, "Bo", key())
    post_count(month, [Counted("SHORE", 38, Decimal(0)), Counted("TAG", 5, Decimal("0.021"))], "Cleo", key())
    post_adjust(month, "SHORE", -3, Decimal(0), Place.SPOILED, "Dana", key(), "coffee")
    assert held(month)["SHORE"][0] == 35
    assert held(month)["TAG"] == (5, 11)
    assert held(month, Place.SPOILED)["SHORE"][0] == 3
    last = models.StockEntry.objects.latest("serial")
    assert (last.by, last.note) == ("Dana", "coffee")
    with pytest.raises(StockError, match="Say why"):
        post_adjust(month, "SHORE", -3, Decimal(0), Place.SPOILED, "Dana", key(), "  ")
    assert faults_of_the_book() == ()


def test_a_refused_entry_leaves_nothing(stock: Stock) -> None:
    month, _ = stock
    with pytest.raises(StockError):
        post_carry(month, [("SHORE", 1)], Place.SHELF, Place.BOXES, "Bo", key())
    assert not models.StockEntry.objects.exists()
    assert faults_of_the_book() == ()


def test_a_receipt_taken_back_opens_its_order_again(stock: Stock) -> None:
    month, order = stock
    posted = ordering.receive_order(month, order, {1: (40, 0), 2: (30, 0)}, "Bo", key())
    assert kept_now(order).state is State.CLOSED
    ordering.take_back(month, posted.row, "Bo", key(), "wrong order")
    assert kept_now(order).state is State.SENT
    with pytest.raises(StockError, match="taken back already, by entry 2"):
        ordering.take_back(month, posted.row, "Bo", key())
    assert faults_of_the_book() == ()


def test_what_stands_in_the_book_is_never_changed(stock: Stock) -> None:
    month, order = stock
    ordering.receive_order(month, order, {1: (40, 0)}, "Bo", key())
    with pytest.raises(DatabaseError, match="never changed"), atomic():
        models.StockEntry.objects.update(note="else")
    with pytest.raises(DatabaseError, match="never changed"), atomic():
        models.StockMove.objects.update(quantity=7)


def test_the_book_belongs_to_the_club_whatever_becomes_of_a_month(stock: Stock) -> None:
    month, order = stock
    ordering.receive_order(month, order, {1: (40, 0)}, "Bo", key())
    save.month(SMALL_MONTH)
    month.delete()
    again = save.month(SMALL_MONTH)
    assert held(again)["SHORE"][0] == 40


def test_a_month_in_other_money_is_refused(stock: Stock) -> None:
    month, _ = stock
    month.currency = "EUR"
    with pytest.raises(OtherMoneyError, match="kept in GBP, and this month is in EUR"):
        post_count(month, [Counted("SHORE", 1, Decimal(1))], "Bo", key())


def test_nothing_is_received_of_an_order_that_is_closed(stock: Stock) -> None:
    month, order = stock
    ordering.close(order, "Bo", "mill shut")
    with pytest.raises(OrderStateError, match="closed"):
        ordering.receive_order(month, order, {1: (1, 0)}, "Bo", key())
