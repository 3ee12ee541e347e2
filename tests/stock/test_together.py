"""Several people at once: no entry is lost, none is doubled, and nobody gets what another has taken."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier
from uuid import uuid4

import pytest
from django.db import connection

from planning import models, ordering
from planning.stock import Place, StockError
from planning.stockbook import book_of, holdings, post_carry
from tests.stock.small_stock import faults_of_the_book, small_stock

pytestmark = pytest.mark.django_db(transaction=True)
PEOPLE = 4


def at_once(does: Callable[[int], object]) -> list[object]:
    """Let everybody do it at the same moment, each on a connection of their own; return what came of it, errors too."""
    together = Barrier(PEOPLE)

    def one(number: int) -> object:
        try:
            together.wait(timeout=30)
            return does(number)
        except (StockError, ValueError) as error:
            return error
        finally:
            connection.close()

    with ThreadPoolExecutor(PEOPLE) as people:
        return list(people.map(one, range(PEOPLE)))


def test_entries_made_at_once_are_all_kept_one_after_the_other() -> None:
    month, order = small_stock()
    ordering.receive_order(month, order, {1: (40, 0)}, "Bo", uuid4().hex)

    def three_issues(number: int) -> None:
        for _ in range(3):
            post_carry(month, [("SHORE", 2)], Place.SHELF, Place.BOXES, f"Person {number}", uuid4().hex)

    assert at_once(three_issues) == [None] * PEOPLE
    assert models.StockEntry.objects.count() == 1 + 3 * PEOPLE
    assert faults_of_the_book() == ()


def test_the_last_of_it_goes_to_one() -> None:
    month, order = small_stock()
    ordering.receive_order(month, order, {1: (5, 0)}, "Bo", uuid4().hex)
    got = at_once(
        lambda number: post_carry(month, [("SHORE", 4)], Place.SHELF, Place.BOXES, f"P{number}", uuid4().hex)
    )
    assert sum(isinstance(one, StockError) for one in got) == PEOPLE - 1
    book = book_of(month)
    assert book is not None
    assert {one.place: one.quantity for one in holdings(book, ["SHORE"])} == {
        Place.SUPPLIER: -5,
        Place.SHELF: 1,
        Place.BOXES: 4,
    }
    assert faults_of_the_book() == ()


def test_one_form_sent_at_once_makes_one_entry() -> None:
    month, order = small_stock()
    same = uuid4().hex
    got = at_once(
        lambda number: ordering.receive_order(month, order, {1: (40, 0), 2: (30, 0)}, "Bo", same).is_new
    )
    assert sorted(map(bool, got)) == [False, False, False, True]
    assert models.StockEntry.objects.count() == 1
    assert faults_of_the_book() == ()


def test_an_order_sent_at_once_is_sent_once() -> None:
    _, order = small_stock()
    ordering.amend(order, "Ada")
    [one] = ordering.kept(models.PurchaseOrder.objects.select_related("book"))
    assert one.drafted is not None
    more = one.drafted.lines[0]
    from dataclasses import replace

    asked = replace(one.drafted, lines=(replace(more, quantity=50), *one.drafted.lines[1:]))
    ordering.edit(order, asked, 0, "Ada")
    got = at_once(lambda number: ordering.send(order, 2, 1, f"P{number}"))
    assert got.count(True) == 1
    assert models.OrderVersion.objects.filter(sent_at__isnull=False).count() == 2


def test_the_first_entry_of_a_club_can_be_made_by_everybody() -> None:
    from decimal import Decimal

    from planning import save
    from planning.stockbook import Counted, post_count
    from tests.web.small_month import SMALL_MONTH

    month = save.month(SMALL_MONTH)
    at_once(lambda number: post_count(month, [Counted(f"ITEM{number}", 1, Decimal(1))], "Bo", uuid4().hex))
    assert models.StockEntry.objects.count() == PEOPLE
    assert faults_of_the_book() == ()
