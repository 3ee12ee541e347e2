"""The stock book in the app: begun, counted, issued, cut, set right, taken back; and a month planned from it."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import connection
from django.test import Client

from planning import load
from planning.models import MonthStock, Plan, PurchaseOrder, StockEntry
from planning.requirements import Kind, code_of, item
from planning.stock import Place
from planning.stockbook import book_of, holdings
from planning.views.stock_issue import coded
from tests.stock.small_stock import faults_of_the_book
from tests.web.planned import plan_of
from tests.web.test_orders import Desk, hidden, text


@pytest.fixture
def keeper(desk: Client, plan: Plan) -> Desk:
    return Desk(desk, plan)


@pytest.fixture
def stocked(keeper: Desk) -> Desk:
    """The keeper with everything received that the plan buys, and the month's own stock in the book."""
    keeper.send("stock")
    for number in keeper.draft():
        keeper.send("order-check", number)
        lines = keeper.kept(number).order.goods
        keeper.send("receive", number, **{f"good-{line.key}": line.quantity for line in lines})
    return keeper


def units(keeper: Desk, code: str, place: Place = Place.SHELF) -> int:
    book = book_of(keeper.month)
    assert book is not None
    return sum(one.quantity for one in holdings(book, [code]) if one.place is place)


def test_it_works(keeper: Desk) -> None:
    assert "The book is empty" in keeper.see("stock")
    assert keeper.send("stock") == "The book begins with entry 1."
    assert (units(keeper, "SHORE"), units(keeper, "TAG")) == (3, 2)
    page = keeper.see("stock")
    assert "Shore White 3" in page
    assert "Begin the book" not in page
    assert faults_of_the_book() == ()


def test_goods_go_where_the_plan_uses_them(stocked: Desk) -> None:
    form = hidden(stocked.client.get(stocked.url("stock-issue") + "?to=cutting&plan=yes").content.decode())
    needs = {line.need.material: line.need for line in load.planned(stocked.plan).plan.buying.lines}
    assert form[f"units-{coded('SHORE')}"] == str(needs["SHORE"].in_cutting)
    assert stocked.client.post(stocked.url("stock-issue"), form).status_code == 302
    assert units(stocked, "SHORE", Place.CUTTING) == needs["SHORE"].in_cutting
    again = hidden(stocked.client.get(stocked.url("stock-issue") + "?to=cutting&plan=yes").content.decode())
    assert again[f"units-{coded('SHORE')}"] == ""
    stocked.send("stock-issue", **{"target": "boxes", f"units-{coded('CARTON')}": 2})
    assert units(stocked, "CARTON", Place.BOXES) == 2
    assert faults_of_the_book() == ()


def test_goods_are_brought_back(stocked: Desk) -> None:
    before = units(stocked, "CARTON")
    stocked.send("stock-issue", **{"target": "boxes", f"units-{coded('CARTON')}": 2})
    url = stocked.url("stock-issue") + "?origin=boxes"
    form = hidden(stocked.client.get(url).content.decode())
    assert (
        stocked.client.post(url, form | {f"units-{coded('CARTON')}": "2", "target": "shelf"}).status_code
        == 302
    )
    assert units(stocked, "CARTON") == before
    assert stocked.client.get(stocked.url("stock-issue") + "?origin=supplier").status_code == 404


def test_more_than_there_is_cannot_be_issued(stocked: Desk) -> None:
    answer = stocked.client.post(
        stocked.url("stock-issue"), {"target": "boxes", f"units-{coded('CARTON')}": "9999", "key": "a" * 32}
    )
    assert answer.status_code == 422
    assert "9,999 of CARTON are to leave" in text(answer)


def test_cut_totals_of_a_ticket_are_booked(stocked: Desk) -> None:
    tickets = load.planned(stocked.plan).plan.cutting.all
    at = next(number for number, one in enumerate(tickets, 1) if item(Kind.PIECE, "TAG") in one.items)
    ticket = tickets[at - 1]
    url = stocked.url("stock-cut") + f"?ticket={at}"
    assert "Tag 2 1/2 × 3 1/2" in text(stocked.client.get(stocked.url("stock-cut")))
    form = hidden(stocked.client.get(url).content.decode())
    made = {code_of(one): ticket.made_of(one) for one in ticket.items}
    before = {code: units(stocked, code) for code in (*made, "SHORE")}
    good = {f"good-{coded(code)}": str(many - 1) for code, many in made.items()}
    filled = form | good | {f"spoiled-{coded('TAG')}": "1", "units": str(ticket.units)}
    for _ in range(2):
        assert stocked.client.post(url, filled).status_code == 302
    assert units(stocked, "SHORE") == before["SHORE"] - ticket.units
    for code, many in made.items():
        assert units(stocked, code) == before[code] + many - 1
    assert units(stocked, "TAG", Place.SPOILED) == 1
    assert StockEntry.objects.latest("serial").note == f"Ticket {at}"
    assert faults_of_the_book() == ()
    answer = stocked.client.post(url, filled | {"units": "1", "key": "b" * 32, f"good-{coded('TAG')}": "999"})
    assert answer.status_code == 422
    assert "pieces at most" in text(answer)
    plan_of(stocked.month)
    answer = stocked.client.post(url, filled | {"key": "d" * 32})
    assert answer.status_code == 422
    assert "planned again since" in text(answer)


def test_a_count_and_a_correction(stocked: Desk) -> None:
    shore = units(stocked, "SHORE")
    counted = {f"counted-{coded('SHORE')}": shore - 2, f"counted-{coded('TAG')}": 7}
    stocked.send("stock-count", **counted, **{f"each-{coded('TAG')}": "0.04"})
    assert (units(stocked, "SHORE"), units(stocked, "TAG")) == (shore - 2, 7)
    stocked.send("stock-adjust", item="SHORE", by="-1", place="spoiled", reason="torn")
    assert units(stocked, "SHORE", Place.SPOILED) == 1
    page = stocked.see("stock-entries")
    assert "torn" in page
    assert "Counted 2" in page  # the beginning, and this count
    assert faults_of_the_book() == ()


CORRECTIONS: list[tuple[dict[str, str], str]] = [
    ({"by": "0", "reason": "why"}, "Nothing is changed by 0."),
    ({"by": "x", "reason": "why"}, "is not a count"),
    ({"by": "-1", "reason": ""}, "Say why"),
    ({"by": "-1", "reason": "why", "item": "NOTHING"}, "Choose one."),
    ({"by": "-1", "reason": "why", "place": "shelf"}, "Choose one."),
    ({"by": "-99999", "reason": "why"}, "are on the shelf"),
    ({"by": "-1", "reason": "w" * 501}, "Use at most 500"),
]


def test_a_correction_that_says_too_little_is_refused(stocked: Desk) -> None:
    before = StockEntry.objects.count()
    for fields, said in CORRECTIONS:
        assert said in stocked.refused("stock-adjust", **({"item": "SHORE", "place": "spoiled"} | fields))
    assert StockEntry.objects.count() == before


def test_a_count_of_nothing_is_refused(stocked: Desk) -> None:
    assert "Nothing was counted" in stocked.refused("stock-count")


def test_an_entry_is_taken_back_once_and_its_order_is_open_again(stocked: Desk) -> None:
    entry = StockEntry.objects.get(serial=2)
    url = f"/months/{stocked.month.pk}/stock-entry?entry=2"
    form = hidden(stocked.client.get(url).content.decode())
    assert stocked.client.post(url, form | {"note": "wrong parcel"}).status_code == 302
    assert PurchaseOrder.objects.get(number=entry.order).closed_at is None
    assert "Taken back by" in text(stocked.client.get(url))
    answer = stocked.client.post(url, {"key": "c" * 32}, follow=True)
    assert "taken back already" in text(answer)
    assert faults_of_the_book() == ()


def test_lots_of_an_item_stand_oldest_first(stocked: Desk) -> None:
    page = text(stocked.client.get(f"/months/{stocked.month.pk}/stock-item?item=SHORE"))
    assert page.index("1.1 Shelf") < page.index("2.1 Shelf")
    assert stocked.client.get(f"/months/{stocked.month.pk}/stock-item?item=NOTHING").status_code == 404


def test_a_month_is_planned_from_the_book_and_counts_on_its_own_orders(keeper: Desk) -> None:
    keeper.send("stock")
    [number, _] = keeper.draft()
    keeper.send("order-check", number)
    shore = next(line for line in keeper.kept(number).order.goods if line.material == "SHORE")
    keeper.send("receive", number, **{f"good-{shore.key}": 20})
    keeper.send("stock-issue", **{"target": "boxes", f"units-{coded('SHORE')}": 8})
    keeper.send("stock-take")
    stock = {one.item: one for one in load.rows("stock", keeper.month)}
    assert stock["SHORE"].on_hand == 3 + 20  # 8 of them are in boxes of this very month
    assert stock["TAG"].value_each == Decimal("0.05")
    coming = [one for one in load.rows("open_orders", keeper.month) if one.reference == number]
    assert {one.material: one.quantity for one in coming}["SHORE"] == shore.quantity - 20
    assert [one.reference for one in load.rows("open_orders", keeper.month) if one.reference == "PO-7"]
    taken = MonthStock.objects.get()
    MonthStock.objects.update(at=load.planned(keeper.plan).stamp.made_at + timedelta(days=1))
    assert "asks for something else" not in keeper.see(
        "order", number
    )  # the plan is older, and counts on none of it
    taken.save()
    again = load.planned(plan_of(keeper.month))
    bought = {line.need.material: line.quantity for line in again.plan.buying.lines}
    assert bought["SHORE"] == 0
    assert "asks for something else" not in keeper.see("order", number)


def test_a_book_in_other_money_is_told_in_its_own(stocked: Desk) -> None:
    stocked.month.currency = "JPY"
    stocked.month.save()
    page = stocked.see("stock")
    assert "The book is kept in GBP, and this month is not." in page
    assert "GBP on the shelf" in page
    refused = stocked.refused("stock-count", **{f"counted-{coded('SHORE')}": 1})
    assert "enter it from a month in the same currency" in refused


def test_entries_are_paged_and_told_by_kind(stocked: Desk) -> None:
    page = f"/months/{stocked.month.pk}/stock-entries"
    assert "Counted" in text(stocked.client.get(f"{page}?kind=count"))
    assert stocked.client.get(f"{page}?page=99").status_code == 404


def test_the_book_is_checked_by_other_code_than_enters_it(stocked: Desk) -> None:
    assert "3 entries checked: none is missing" in stocked.see("stock-check")
    last = StockEntry.objects.get(serial=3)
    with no_guard():
        last.moves.filter(place=Place.SHELF).delete()
    assert "Something is wrong with the book" in stocked.see("stock-check")


@contextmanager
def no_guard() -> Iterator[None]:
    """Let a test do what the database refuses to everybody else."""
    if connection.vendor != "postgresql":
        yield
        return
    with connection.cursor() as cursor:
        cursor.execute("SET session_replication_role = replica")  # no trigger fires
        yield
        cursor.execute("SET session_replication_role = origin")
