"""The entries of the stock book: each function returns the moves of one, or raises StockError and nothing is entered.

Every entry is double: what leaves one place enters another, unit by unit, cent by cent, lot by lot.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from kits.measures import split_count
from planning.stock.book import Book, StockError
from planning.stock.model import KEPT, Holding, Lot, Move, Place, StockEntry

ROUTES: dict[Place, tuple[Place, ...]] = {
    Place.SHELF: (Place.CUTTING, Place.BOXES, Place.SHOP, Place.SPOILED, Place.SUPPLIER),
    Place.CUTTING: (Place.SHELF, Place.SPOILED),
    Place.BOXES: (Place.SHELF, Place.SPOILED),
    Place.SHOP: (Place.SHELF, Place.SPOILED),
}
"""Where goods may be carried from and to; anything else is a count, a cut or a reversal."""


class ReversalError(StockError):
    """An entry that cannot be taken back."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Receipt:
    """What came of one line of an order. value: landed cost of the good units, in smallest units; damaged ones cost nothing
    until the supplier is paid for them."""

    item: str
    line: int | None = None
    good: int = 0
    damaged: int = 0
    value: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class CutLine:
    """What became of one size on a cutting ticket, in pieces. share: of the sheet's cost that one piece bears, its area."""

    item: str
    good: int
    spoiled: int = 0
    share: int = 1


def receive(serial: int, receipts: Iterable[Receipt]) -> tuple[Move, ...]:
    """Enter what a supplier brought: good units on the shelf, damaged ones spoiled, each line a lot of its own."""
    moves: list[Move] = []
    for number, one in enumerate(receipts, 1):
        if one.good < 0 or one.damaged < 0 or one.value < 0:
            raise StockError(f"{one.item}: what came is counted from 0")
        lot = Lot(serial, number)
        for place, quantity, value in (
            (Place.SHELF, one.good, one.value),
            (Place.SPOILED, one.damaged, 0),
        ):
            if quantity:
                moves += pair(one.item, Place.SUPPLIER, place, lot, quantity, value, one.line)
    return entered(moves, "Nothing came: enter at least one unit")


def carry(book: Book, goods: Iterable[tuple[str, int]], origin: Place, target: Place) -> tuple[Move, ...]:
    """Carry goods from one place to another, first in first out."""
    if target not in ROUTES.get(origin, ()):
        raise StockError(f"Nothing is carried from {origin} to {target}")
    moves: list[Move] = []
    for item, quantity in goods:
        if quantity < 0:
            raise StockError(f"{item}: {quantity} cannot be carried")
        added = carried(book.first_in(item, origin, quantity), target)
        book.add(added)
        moves += added
    return entered(moves, "Nothing is carried: enter at least one unit")


def cut(book: Book, serial: int, source: str, units: int, lines: Sequence[CutLine]) -> tuple[Move, ...]:
    """Enter a cutting ticket's totals: sheets cut up, good pieces on the shelf, spoiled ones beside them.

    Sheets at the guillotine are used first, the rest is fetched from the shelf. What the sheets cost is shared by area
    among all pieces, good and spoiled, by largest remainder; offcuts bear nothing.
    """
    if units <= 0 or any(one.good < 0 or one.spoiled < 0 or one.share <= 0 for one in lines):
        raise StockError(f"{source}: enter how many were cut, and pieces counted from 0")
    parts = [(one, place) for one in lines for place in (Place.SHELF, Place.SPOILED)]
    counts = [one.good if place is Place.SHELF else one.spoiled for one, place in parts]
    if not any(counts):
        raise StockError(f"{source}: enter what became of the pieces, good or spoiled")
    moves = list(fetched(book, source, units))
    ready = book.first_in(source, Place.CUTTING, units)
    moves += carried(ready, Place.CUT_UP)
    cost = sum(one.value for one in ready)
    weights = [count * one.share for count, (one, _) in zip(counts, parts, strict=True)]
    values = split_count(cost, weights)
    lots = {one.item: Lot(serial, number) for number, one in enumerate(lines, 1)}
    for (one, place), quantity, value in zip(parts, counts, values, strict=True):
        if quantity:
            moves += pair(one.item, Place.CUT_UP, place, lots[one.item], quantity, value)
    return tuple(moves)


def fetched(book: Book, source: str, units: int) -> tuple[Move, ...]:
    """Bring from the shelf to the guillotine what is not there yet."""
    lacking = max(0, units - book.quantity(source, Place.CUTTING))
    moves = tuple(carried(book.first_in(source, Place.SHELF, lacking), Place.CUTTING))
    book.add(moves)
    return moves


def change(
    book: Book, serial: int, changes: Iterable[tuple[str, int, Fraction]], other: Place = Place.DIFFERENCE
) -> tuple[Move, ...]:
    """Enter that the shelf holds more or fewer than the book says: (item, by how many, cost of one in smallest units).

    The cost counts only for what is found. What is missing leaves first in first out, to `other`.
    """
    moves: list[Move] = []
    for number, (item, by, each) in enumerate(changes, 1):
        if by < 0:
            added = carried(book.first_in(item, Place.SHELF, -by), other)
            book.add(added)
            moves += added
        elif by > 0:
            value = int(by * each + Fraction(1, 2))
            moves += pair(item, Place.DIFFERENCE, Place.SHELF, Lot(serial, number), by, value)
    return tuple(moves)


def reverse(book: Book, entry: StockEntry) -> tuple[Move, ...]:
    """Take an entry back: every move mirrored. Raises ReversalError where its goods have moved on since."""
    if entry.reverses is not None:
        raise ReversalError(
            f"Entry {entry.serial} takes back entry {entry.reverses}: enter what is right anew"
        )
    if not entry.moves:
        raise ReversalError(f"Entry {entry.serial} moves nothing, so there is nothing to take back")
    moves = tuple(
        Move(
            item=one.item,
            place=one.place,
            lot=one.lot,
            quantity=-one.quantity,
            value=-one.value,
            line=one.line,
        )
        for one in entry.moves
    )
    book.add(moves)
    for one in moves:
        quantity, value = book.of_lot(one.item, one.place, one.lot)
        if one.place in KEPT and (quantity < 0 or value < 0 or (quantity == 0 and value)):
            raise ReversalError(
                f"Entry {entry.serial} cannot be taken back: {one.item} of it has left the {one.place} since. "
                "Take the later entries back first"
            )
    return moves


def carried(goods: Iterable[Holding], target: Place) -> tuple[Move, ...]:
    """Return the moves of goods into another place."""
    return tuple(
        move for one in goods for move in pair(one.item, one.place, target, one.lot, one.quantity, one.value)
    )


def pair(
    item: str, origin: Place, target: Place, lot: Lot, quantity: int, value: int, line: int | None = None
) -> Iterator[Move]:
    """Yield both sides of a movement."""
    yield Move(item=item, place=origin, lot=lot, quantity=-quantity, value=-value, line=line)
    yield Move(item=item, place=target, lot=lot, quantity=quantity, value=value, line=line)


def entered(moves: Iterable[Move], empty: str) -> tuple[Move, ...]:
    """Return moves, those alike added up, or refuse an entry without any."""
    sums: dict[tuple[str, Place, Lot, int | None], tuple[int, int]] = defaultdict(lambda: (0, 0))
    for one in moves:
        quantity, value = sums[one.item, one.place, one.lot, one.line]
        sums[one.item, one.place, one.lot, one.line] = (quantity + one.quantity, value + one.value)
    if not sums:
        raise StockError(empty)
    return tuple(
        Move(item=item, place=place, lot=lot, quantity=quantity, value=value, line=line)
        for (item, place, lot, line), (quantity, value) in sums.items()
    )
