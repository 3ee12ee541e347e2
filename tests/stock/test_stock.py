"""The stock book: every entry is double, the oldest goods leave first, and no cent is lost on the way."""

from datetime import UTC, datetime
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planning.stock import (
    Book,
    CutLine,
    EntryKind,
    Holding,
    Lot,
    Move,
    NotEnoughError,
    Place,
    Receipt,
    ReversalError,
    StockEntry,
    StockError,
    balance_faults,
    book_faults,
    carry,
    change,
    cut,
    receive,
    reverse,
)
from tests.support.effort import examples

NOON = datetime(2027, 3, 1, 12, tzinfo=UTC)


class Keeper:
    """Keeps a book as the database does: balances, serials, entries."""

    def __init__(self) -> None:
        self.book = Book()
        self.entries: list[StockEntry] = []

    @property
    def serial(self) -> int:
        return len(self.entries) + 1

    def enter(self, kind: EntryKind, moves: tuple[Move, ...], reverses: int | None = None) -> StockEntry:
        entry = StockEntry(serial=self.serial, kind=kind, moves=moves, at=NOON, by="Ada", reverses=reverses)
        self.entries.append(entry)
        self.book = Book()
        for one in self.entries:
            self.book.add(one.moves)
        return entry

    def receive(self, item: str, good: int, value: int, damaged: int = 0) -> StockEntry:
        one = Receipt(item=item, line=1, good=good, damaged=damaged, value=value)
        return self.enter(EntryKind.RECEIVE, receive(self.serial, [one]))

    def carry(
        self, item: str, quantity: int, origin: Place = Place.SHELF, to: Place = Place.BOXES
    ) -> StockEntry:
        return self.enter(EntryKind.ISSUE, carry(self.fresh(), [(item, quantity)], origin, to))

    def reverse(self, entry: StockEntry) -> StockEntry:
        moves = reverse(self.fresh(), entry)
        return self.enter(EntryKind.REVERSE, moves, reverses=entry.serial)

    def fresh(self) -> Book:
        return Book(self.book.holdings())


@pytest.fixture
def keeper() -> Keeper:
    return Keeper()


# --- Facts of the world ---


def test_first_in_first_out_as_textbooks_have_it(keeper: Keeper) -> None:
    """100 at 10, 200 at 12, 150 at 15; 300 sold (practice of ch. 6, accounting-essentials.pages.dev; sums by hand)."""
    for units, each in ((100, 10), (200, 12), (150, 15)):
        keeper.receive("LAMP", units, units * each * 100)
    keeper.carry("LAMP", 300, to=Place.SHOP)
    assert keeper.book.value("LAMP", Place.SHOP) == 100 * 1000 + 200 * 1200  # 3,400.00
    assert keeper.book.value("LAMP", Place.SHELF) == 150 * 1500  # 2,250.00


def test_first_in_first_out_in_the_middle_of_a_lot(keeper: Keeper) -> None:
    """100 at 50, 125 at 55, 75 at 59; 210 sold cost 11,050, the rest 5,250 (an encyclopedia's example, from memory)."""
    for units, each in ((100, 50), (125, 55), (75, 59)):
        keeper.receive("LAMP", units, units * each)
    keeper.carry("LAMP", 210, to=Place.SHOP)
    assert keeper.book.value("LAMP", Place.SHOP) == 11_050
    assert keeper.book.value("LAMP", Place.SHELF) == 5_250


# --- A small book by hand ---


def test_a_lot_that_leaves_in_thirds_loses_no_cent(keeper: Keeper) -> None:
    """3 for 1.00: 0.33, then half of 0.67 rounded up, then the rest."""
    keeper.receive("BRAD", 3, 100)
    values = [sum(one.value for one in keeper.carry("BRAD", 1).moves if one.value > 0) for _ in range(3)]
    assert values == [33, 34, 33]
    assert list(keeper.book.holdings())[-1] == Holding(
        item="BRAD", place=Place.SUPPLIER, lot=Lot(1, 1), quantity=-3, value=-100
    )


def test_damaged_goods_are_spoiled_and_cost_nothing_yet(keeper: Keeper) -> None:
    keeper.receive("CARD", 8, 400, damaged=2)
    assert keeper.book.quantity("CARD", Place.SHELF) == 8
    assert keeper.book.quantity("CARD", Place.SPOILED) == 2
    assert keeper.book.value("CARD", Place.SPOILED) == 0
    assert keeper.book.quantity("CARD", Place.SUPPLIER) == -10


def test_cut_totals_fetch_sheets_and_share_their_cost_by_area(keeper: Keeper) -> None:
    """10 sheets for 3.00; 4 are at the guillotine, 6 are fetched. 20 mats of 24 sq in, 18 good; 10 tags of 12 sq in, all
    good: 600 sq in in all, so a mat bears 0.12 and a tag 0.06."""
    keeper.receive("CARD", 10, 300)
    keeper.carry("CARD", 4, to=Place.CUTTING)
    lines = [CutLine(item="MAT", good=18, spoiled=2, share=24), CutLine(item="TAG", good=10, share=12)]
    keeper.enter(EntryKind.CUT, cut(keeper.fresh(), keeper.serial, "CARD", 10, lines))
    held = {(one.item, one.place): (one.quantity, one.value) for one in keeper.book.holdings()}
    assert held == {
        ("CARD", Place.SUPPLIER): (-10, -300),
        ("CARD", Place.CUT_UP): (10, 300),
        ("MAT", Place.CUT_UP): (-20, -240),
        ("MAT", Place.SHELF): (18, 216),
        ("MAT", Place.SPOILED): (2, 24),
        ("TAG", Place.CUT_UP): (-10, -60),
        ("TAG", Place.SHELF): (10, 60),
    }
    assert book_faults(keeper.entries) == ()


def test_a_count_finds_and_misses(keeper: Keeper) -> None:
    keeper.receive("CARD", 10, 300)
    keeper.receive("BRAD", 10, 100)
    changes = [("CARD", -2, Fraction(0)), ("BRAD", 3, Fraction(25, 2))]
    keeper.enter(EntryKind.COUNT, change(keeper.fresh(), keeper.serial, changes))
    assert (keeper.book.quantity("CARD", Place.SHELF), keeper.book.value("CARD", Place.DIFFERENCE)) == (8, 60)
    assert (keeper.book.quantity("BRAD", Place.SHELF), keeper.book.value("BRAD", Place.SHELF)) == (13, 138)
    assert book_faults(keeper.entries) == ()


def test_an_entry_taken_back_leaves_the_book_as_it_was(keeper: Keeper) -> None:
    keeper.receive("CARD", 10, 305)
    before = list(keeper.book.holdings())
    keeper.reverse(keeper.carry("CARD", 7))
    assert list(keeper.book.holdings()) == before
    assert book_faults(keeper.entries) == ()


# --- What is refused ---


def test_more_than_there_is_cannot_leave(keeper: Keeper) -> None:
    keeper.receive("CARD", 10, 300)
    with pytest.raises(NotEnoughError, match="11 of CARD are to leave and 10 are on the shelf"):
        keeper.carry("CARD", 11)


def test_the_same_goods_cannot_leave_twice_in_one_entry(keeper: Keeper) -> None:
    keeper.receive("CARD", 10, 300)
    with pytest.raises(NotEnoughError):
        carry(keeper.fresh(), [("CARD", 6), ("CARD", 6)], Place.SHELF, Place.BOXES)


@pytest.mark.parametrize(
    ("origin", "target"),
    [
        (Place.SUPPLIER, Place.SHELF),
        (Place.SPOILED, Place.SHELF),
        (Place.SHELF, Place.SHELF),
        (Place.CUT_UP, Place.SHELF),
    ],
)
def test_goods_go_only_where_they_can(keeper: Keeper, origin: Place, target: Place) -> None:
    with pytest.raises(StockError, match="Nothing is carried"):
        carry(keeper.fresh(), [("CARD", 1)], origin, target)


def test_goods_that_moved_on_cannot_be_taken_back(keeper: Keeper) -> None:
    came = keeper.receive("CARD", 10, 300)
    keeper.carry("CARD", 4)
    with pytest.raises(ReversalError, match="CARD of it has left the shelf since"):
        keeper.reverse(came)


def test_a_reversal_is_not_taken_back(keeper: Keeper) -> None:
    back = keeper.reverse(keeper.receive("CARD", 10, 300))
    with pytest.raises(ReversalError, match="takes back entry 1"):
        keeper.reverse(back)


@pytest.mark.parametrize(
    ("units", "lines"),
    [
        (0, [CutLine(item="MAT", good=1)]),
        (1, []),
        (1, [CutLine(item="MAT", good=0)]),
        (1, [CutLine(item="MAT", good=-1, spoiled=2)]),
        (1, [CutLine(item="MAT", good=1, share=0)]),
    ],
)
def test_cut_totals_that_say_nothing_are_refused(keeper: Keeper, units: int, lines: list[CutLine]) -> None:
    keeper.receive("CARD", 10, 300)
    with pytest.raises(StockError):
        cut(keeper.fresh(), keeper.serial, "CARD", units, lines)


def test_nothing_is_no_entry(keeper: Keeper) -> None:
    with pytest.raises(StockError, match="Nothing came"):
        receive(1, [Receipt(item="CARD")])
    with pytest.raises(StockError, match="Nothing is carried"):
        carry(keeper.fresh(), [], Place.SHELF, Place.BOXES)


# --- Any book at all ---

ITEMS = ("CARD", "MAT")
UNITS = st.integers(1, 12)


@settings(max_examples=examples(300))
@given(st.data())
def test_any_book_balances_and_hands_out_the_oldest_first(data: st.DataObject) -> None:
    keeper = Keeper()
    for _ in range(data.draw(st.integers(1, 14))):
        try:
            act(keeper, data)
        except StockError:
            continue
    assert book_faults(keeper.entries) == ()
    assert balance_faults(keeper.entries, keeper.book.holdings()) == ()
    total = sum(one.value for one in keeper.book.holdings())
    assert total == 0


def act(keeper: Keeper, data: st.DataObject) -> None:
    """Do anything people do, or be refused."""
    item, units = data.draw(st.sampled_from(ITEMS)), data.draw(UNITS)
    what = data.draw(st.sampled_from(("receive", "carry", "cut", "change", "reverse")))
    if what == "receive":
        keeper.receive(item, units, data.draw(st.integers(0, 100)), data.draw(st.integers(0, 2)))
    elif what == "carry":
        origin, target = data.draw(
            st.sampled_from(
                [
                    (Place.SHELF, Place.CUTTING),
                    (Place.SHELF, Place.BOXES),
                    (Place.BOXES, Place.SHELF),
                    (Place.CUTTING, Place.SPOILED),
                ]
            )
        )
        keeper.carry(item, units, origin, target)
    elif what == "cut":
        good, spoiled = data.draw(UNITS), data.draw(st.integers(0, 3))
        line = CutLine(item="MAT", good=good, spoiled=spoiled, share=24)
        keeper.enter(EntryKind.CUT, cut(keeper.fresh(), keeper.serial, "CARD", units, [line]))
    elif what == "change":
        by = data.draw(st.integers(-5, 5))
        moves = change(keeper.fresh(), keeper.serial, [(item, by, Fraction(7, 3))])
        keeper.enter(EntryKind.COUNT, moves)
    elif keeper.entries:
        taken_back = {one.reverses for one in keeper.entries}
        entry = data.draw(st.sampled_from(keeper.entries))
        if entry.serial not in taken_back:
            keeper.reverse(entry)


# --- The checker finds what is wrong ---


def entry_of(
    serial: int, *moves: Move, kind: EntryKind = EntryKind.ISSUE, reverses: int | None = None
) -> StockEntry:
    return StockEntry(serial=serial, kind=kind, moves=moves, at=NOON, by="Ada", reverses=reverses)


FIRST = Lot(1, 1)


def move(place: Place, quantity: int, value: int = 0, lot: Lot = FIRST) -> Move:
    return Move(item="CARD", place=place, lot=lot, quantity=quantity, value=value)


CAME = entry_of(1, move(Place.SUPPLIER, -5, -50), move(Place.SHELF, 5, 50), kind=EntryKind.RECEIVE)
LATER = entry_of(
    2,
    move(Place.SUPPLIER, -5, -50, Lot(2, 1)),
    move(Place.SHELF, 5, 50, Lot(2, 1)),
    kind=EntryKind.RECEIVE,
)


@pytest.mark.parametrize(
    ("entries", "said"),
    [
        ([LATER], "entries are numbered"),
        ([entry_of(1, move(Place.SHELF, 5, 50))], "is off by 5 units and 50 in value"),
        ([entry_of(1)], "moves nothing"),
        ([CAME, entry_of(2, move(Place.SHELF, -6, -50), move(Place.BOXES, 6, 50))], "shelf holds -1 of CARD"),
        (
            [CAME, entry_of(2, move(Place.SHELF, -5, -40), move(Place.BOXES, 5, 40))],
            "shelf holds 0 of CARD, lot 1.1, at 10",
        ),
        (
            [
                CAME,
                LATER,
                entry_of(3, move(Place.SHELF, -1, -10, Lot(2, 1)), move(Place.BOXES, 1, 10, Lot(2, 1))),
            ],
            "left shelf before 1.1",
        ),
        (
            [CAME, entry_of(2, move(Place.SHELF, -4, -40), move(Place.CUT_UP, 4, 40), kind=EntryKind.CUT)],
            "stay between",
        ),
        (
            [
                CAME,
                entry_of(
                    2,
                    move(Place.SHELF, -4, -40),
                    move(Place.SUPPLIER, 4, 40),
                    kind=EntryKind.REVERSE,
                    reverses=1,
                ),
            ],
            "does not mirror entry 1",
        ),
    ],
)
def test_a_book_that_is_wrong_is_told_so(entries: list[StockEntry], said: str) -> None:
    assert said in "; ".join(book_faults(entries))


def test_balances_that_are_not_the_sum_of_the_entries_are_told() -> None:
    assert balance_faults([CAME], []) != ()
