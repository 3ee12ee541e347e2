"""After packing: a box pulled, goods booked, a slip printed again, an address changed; the rest of the plan undisturbed."""

from decimal import Decimal
from io import BytesIO
from uuid import uuid4

import pytest
from pypdf import PdfReader

from planning import stockbook
from planning.at_bench.boxes import read_box
from planning.at_bench.desk import ADDRESS, Asked, DeskError, change_address, do_at_desk, now_at, reprint
from planning.models import BoxAct, BoxWork, StockEntry, Subscriber, TrackingList, TrackingNumber
from planning.packed import Act, Status
from planning.stock import Place
from planning.stockbook import Counted, post_carry, post_count
from tests.at_bench.conftest import AtBench, lines

pytestmark = pytest.mark.django_db


def asked(act: Act, **more: object) -> Asked:
    return Asked(key=uuid4().hex, act=act, who="desk", **more)  # type: ignore[arg-type]


def with_the_carrier(anna: AtBench, serial: int) -> None:
    listed = TrackingList.objects.create(
        month=anna.month, name="x", at=anna.bench.seen_at, by="", s10=True, rows=[]
    )
    TrackingNumber.objects.create(
        month=anna.month, box=anna.code(serial), number="RR473124829GB", listed=listed
    )


def test_a_pulled_box_leaves_every_other_as_it_is(anna: AtBench) -> None:
    anna.pack(1)
    anna.pack(2)
    pull = asked(Act.PULL, note="moved abroad")
    for _ in range(2):  # the form sent twice
        do_at_desk(anna.released, 1, pull)
    assert "pulled from its wave: moved abroad" in anna.do(Act.TAKE, code=anna.code(1)).answer.said
    assert BoxWork.objects.get(serial=2).status == Status.CLOSED
    assert BoxAct.objects.filter(act=Act.PULL).count() == 1
    do_at_desk(anna.released, 1, asked(Act.RESTORE))
    anna.pack(1)


def test_a_box_with_the_carrier_stays(anna: AtBench) -> None:
    anna.pack(1)
    with_the_carrier(anna, 1)
    with pytest.raises(DeskError, match="tracking number already"):
        do_at_desk(anna.released, 1, asked(Act.PULL, note="too late"))
    assert "with the carrier" in anna.do(Act.UNDO, 1).answer.said


def quantity(anna: AtBench, item: str, place: Place) -> int:
    held = stockbook.balances(stockbook.book_of(anna.month))
    return sum(one.quantity for one in held if (one.item, one.place) == (item, place))


def test_damaged_goods_are_spoiled_and_missing_ones_leave_the_book(anna: AtBench) -> None:
    """Of 10 tags on the shelf 4 were issued to the benches; 1 is damaged, then 3 and 2 are missing."""
    post_count(anna.month, [Counted("TAG", 10, Decimal("0.05"))], "desk", uuid4().hex)
    post_carry(anna.month, [("TAG", 4)], Place.SHELF, Place.BOXES, "desk", uuid4().hex)
    damaged = asked(Act.DAMAGED, item="piece:TAG")
    said = [do_at_desk(anna.released, 1, damaged).said for _ in range(2)]
    assert said == ["Entry 3 in the stock book: spoiled."] * 2
    assert quantity(anna, "TAG", Place.SPOILED) == 1
    anna.do(Act.TAKE, code=anna.code(1))
    assert anna.do(Act.MISSING, 1, item="piece:TAG", count=3).answer.done
    do_at_desk(anna.released, 1, asked(Act.MISSING, item="piece:TAG", count=2))
    left = [quantity(anna, "TAG", place) for place in (Place.BOXES, Place.SHELF, Place.DIFFERENCE)]
    assert left == [0, 4, -10 + 3 + 2]


def test_what_the_book_does_not_hold_is_noted_all_the_same(anna: AtBench) -> None:
    assert "never counted" in do_at_desk(anna.released, 1, asked(Act.DAMAGED, item="piece:TAG")).said
    post_count(anna.month, [Counted("TAG", 1, Decimal("0.05"))], "desk", uuid4().hex)
    entries = StockEntry.objects.count()
    said = do_at_desk(anna.released, 1, asked(Act.DAMAGED, item="piece:TAG", count=9)).said
    assert said.startswith("Not in the stock book")
    length = next(line.item for line in lines(anna.released, 1) if line.item.startswith("length:"))
    assert "whole rolls" in do_at_desk(anna.released, 1, asked(Act.MISSING, item=length)).said
    assert StockEntry.objects.count() == entries
    assert BoxAct.objects.count() == 3


def test_an_address_changes_for_the_box_and_not_in_the_roster(anna: AtBench) -> None:
    before = read_box(anna.released, 1)[0].subscriber
    there = {name: getattr(before, name) for name in ADDRESS} | {"address_1": "9 Weir Row", "city": "Frome"}
    change_address(anna.released, 1, asked(Act.ADDRESS), there)
    after = now_at(anna.month.pk, before)
    assert (after.address_1, after.city, after.name) == ("9 Weir Row", "Frome", before.name)
    assert Subscriber.objects.get(reference="S1").address_1 == "1 Mill Lane"
    with pytest.raises(DeskError, match="Nothing is changed"):
        change_address(anna.released, 1, asked(Act.ADDRESS), there)
    with pytest.raises(DeskError, match="Fill in city"):
        change_address(anna.released, 1, asked(Act.ADDRESS), there | {"city": ""})
    with_the_carrier(anna, 1)
    with pytest.raises(DeskError, match="ask the carrier"):
        change_address(anna.released, 1, asked(Act.ADDRESS), there | {"city": "Bath"})


def test_a_slip_printed_again_says_so_and_shows_the_new_address(anna: AtBench) -> None:
    before = read_box(anna.released, 1)[0].subscriber
    there = {name: getattr(before, name) for name in ADDRESS} | {"address_1": "9 Weir Row"}
    change_address(anna.released, 1, asked(Act.ADDRESS), there)
    reprint(anna.released, 1, asked(Act.REPRINT))
    [page] = PdfReader(BytesIO(reprint(anna.released, 1, asked(Act.REPRINT)))).pages
    said = page.extract_text()
    for words in ("REPRINT 2: Heron Lane Paper Club", "Reprint 2, ", "version 1", "9 Weir Row", anna.code(1)):
        assert words in said
