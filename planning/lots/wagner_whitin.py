"""Lots of one material over the periods, exactly: Wagner & Whitin, Management Science 5 (1958), in O(n log n).

Some best plan orders only when nothing is left, so each order meets the needs of a run of periods. Seen from the last
period back, G(t) = min over j > t of setup(t) + c(t) (D(t) - D(j)) + G(j), where D(t) is all need from t on and c(t) what
a unit bought in t and kept to the end costs. For a given t that asks for the lowest of the lines G(j) - c D(j) at c(t),
and their lower envelope answers in O(log n) (Wagelmans, van Hoesel & Kolen, Operations Research 40 (1992), from memory).
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class Way:
    """A way to order in one period: its charge, and the price of one unit. name: of the offer."""

    setup: Fraction
    price: Fraction
    name: str = ""


@dataclass(frozen=True, slots=True)
class Lot:
    """Units ordered in a period, by which way, for the needs up to and without period `until`."""

    period: int
    quantity: int
    way: Way
    until: int


class NoWayError(ValueError):
    """Something is needed before anything can be ordered. period: where."""

    def __init__(self, period: int) -> None:
        super().__init__(period)
        self.period = period


@dataclass(slots=True)
class Envelope:
    """The lowest of some lines value - slope * x; slopes come in rising order."""

    lines: list[tuple[int, Fraction, int]] = field(default_factory=list)

    def add(self, slope: int, value: Fraction, tag: int) -> None:
        """Add a line, and take out those it leaves nowhere lowest."""
        if self.lines and self.lines[-1][0] == slope:
            if self.lines[-1][1] <= value:
                return
            self.lines.pop()
        while len(self.lines) > 1 and self._hides_last(slope, value):
            self.lines.pop()
        self.lines.append((slope, value, tag))

    def _hides_last(self, slope: int, value: Fraction) -> bool:
        (first, low, _), (middle, high, _) = self.lines[-2:]
        return (value - low) * (middle - first) <= (high - low) * (slope - first)

    def lowest(self, x: Fraction) -> tuple[Fraction, int]:
        """Return the lowest value at x, and the tag of its line."""
        left, right = 0, len(self.lines) - 1
        while left < right:
            at = (left + right) // 2
            if self._at(at, x) <= self._at(at + 1, x):
                right = at
            else:
                left = at + 1
        return self._at(left, x), self.lines[left][2]

    def _at(self, line: int, x: Fraction) -> Fraction:
        return self.lines[line][1] - self.lines[line][0] * x


def cheapest_lots(
    needed: Sequence[int], ways: Sequence[Sequence[Way]], storage: Sequence[Fraction]
) -> tuple[Lot, ...]:
    """Return the lots of least cost. storage: of a unit kept to the end of each period.

    A period in which nothing is needed need not order. Raises NoWayError.
    """
    periods = len(needed)
    kept, rest = [Fraction(0)], [0]
    for period in reversed(range(periods)):
        kept.append(kept[-1] + storage[period])
        rest.append(rest[-1] + needed[period])
    kept.reverse()
    rest.reverse()
    first = [Decision(Fraction(0))]
    envelope = Envelope()
    for period in reversed(range(periods)):
        if first[-1].cost is not None:
            envelope.add(rest[period + 1], first[-1].cost, period + 1)
        first.append(
            best_in(period, needed[period], rest[period], kept[period], ways[period], envelope, first[-1])
        )
    first.reverse()
    return tuple(lots_of(first, rest))


@dataclass(frozen=True, slots=True)
class Decision:
    """What is best from a period on. cost: None where nothing can be done; way: None where nothing is ordered."""

    cost: Fraction | None
    way: Way | None = None
    until: int = 0


def best_in(
    period: int,
    needed: int,
    rest: int,
    kept: Fraction,
    ways: Sequence[Way],
    envelope: Envelope,
    later: Decision,
) -> Decision:
    """Weigh every way to order in a period, and ordering nothing where nothing is needed."""
    best = Decision(None if needed else later.cost, None, period + 1)
    for way in ways if envelope.lines else ():
        each = way.price + kept
        lowest, until = envelope.lowest(each)
        cost = way.setup + each * rest + lowest
        if best.cost is None or cost < best.cost:
            best = Decision(cost, way, until)
    return best


def lots_of(first: Sequence[Decision], rest: Sequence[int]) -> list[Lot]:
    """Follow the decisions from the first period on."""
    lots: list[Lot] = []
    period = 0
    while period < len(first) - 1:
        decision = first[period]
        if decision.cost is None:
            raise NoWayError(period)
        if decision.way is not None:
            quantity = rest[period] - rest[decision.until]
            lots.append(Lot(period, quantity, decision.way, decision.until))
        period = decision.until
    return [lot for lot in lots if lot.quantity]
