"""Balances by item, place and lot: the sum of all moves, and who leaves first."""

from collections import defaultdict
from collections.abc import Iterable, Iterator

from planning.stock.model import Holding, Lot, Move, Place


class StockError(ValueError):
    """An entry that cannot be made; the message says why and what to do."""


class NotEnoughError(StockError):
    """More is taken from a place than it holds."""

    def __init__(self, item: str, place: Place, wanted: int, held: int) -> None:
        there = "on the shelf" if place is Place.SHELF else f"in {place}"
        super().__init__(
            f"{wanted:,} of {item} are to leave and {held:,} are {there}: count it again, or enter fewer"
        )
        self.item, self.place, self.wanted, self.held = item, place, wanted, held


class Book:
    """The balances that an entry starts from. They change as moves are added."""

    def __init__(self, holdings: Iterable[Holding] = ()) -> None:
        self._lots: dict[tuple[str, Place], dict[Lot, tuple[int, int]]] = defaultdict(dict)
        for one in holdings:
            self._lots[one.item, one.place][one.lot] = (one.quantity, one.value)

    def add(self, moves: Iterable[Move]) -> None:
        """Add moves to the balances."""
        for move in moves:
            lots = self._lots[move.item, move.place]
            quantity, value = lots.get(move.lot, (0, 0))
            lots[move.lot] = (quantity + move.quantity, value + move.value)

    def quantity(self, item: str, place: Place) -> int:
        """Return how many of an item a place holds."""
        return sum(quantity for quantity, _ in self._lots[item, place].values())

    def value(self, item: str, place: Place) -> int:
        """Return what they cost, in smallest units."""
        return sum(value for _, value in self._lots[item, place].values())

    def of_lot(self, item: str, place: Place, lot: Lot) -> tuple[int, int]:
        """Return quantity and value of one lot in a place."""
        return self._lots[item, place].get(lot, (0, 0))

    def holdings(self) -> Iterator[Holding]:
        """Yield all that is not nothing, by item and place, the oldest lot first."""
        for (item, place), lots in sorted(self._lots.items()):
            for lot, (quantity, value) in sorted(lots.items()):
                if quantity or value:
                    yield Holding(item=item, place=place, lot=lot, quantity=quantity, value=value)

    def first_in(self, item: str, place: Place, wanted: int) -> tuple[Holding, ...]:
        """Return which units leave when `wanted` are taken: of the oldest lots, each at its lot's cost.

        First in, first out (IAS 2, paragraphs 25 and 27). Of a lot that leaves in parts each takes its share of what is
        left of the cost, half up, and the last all the rest: no cent is lost. Raises NotEnoughError.
        """
        held, left = self.quantity(item, place), wanted
        if wanted > held:
            raise NotEnoughError(item, place, wanted, held)
        taken = []
        for lot, (quantity, value) in sorted(self._lots[item, place].items()):
            part = min(left, quantity)
            if part > 0:
                share = value if part == quantity else (2 * value * part + quantity) // (2 * quantity)
                taken.append(Holding(item=item, place=place, lot=lot, quantity=part, value=share))
                left -= part
        return tuple(taken)
