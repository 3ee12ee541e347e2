"""Contents in as few parcels as can be.

First fit gives a packing: the highest items first, each into the first parcel with room. Where height and weight alone do
not need as many parcels, a search tries with fewer, one after the other from the least on: it gives each line's items to
the parcels in turn, as many as fit first, and takes them back where the rest finds no place. Effort is counted: where it
runs out, the number is not proved too small, and `least` stays at it.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from math import ceil

from planning.packing.cartons.room import Need

STEPS = 20_000
DEEPEST = 500  # lines times parcels: more would go deeper than Python follows

Counts = list[list[int]]  # items of each line (inner) in each parcel


@dataclass(frozen=True, slots=True)
class Units:
    """A line: what one of its items needs, and how many there are."""

    each: Need
    count: int


def fewest(lines: Sequence[Units], fits: Callable[[Need], bool], least: int) -> tuple[Counts, int]:
    """Return a packing into few parcels and the number it is proved to need. Every single item must fit."""
    order = sorted(range(len(lines)), key=lambda at: (-lines[at].each.stack, -lines[at].each.grams, at))
    ordered = [lines[at] for at in order]
    first = first_fit(ordered, fits)
    proved = least
    for parcels in range(least, len(first)):
        if len(lines) * parcels > DEEPEST:
            break
        search = Search(ordered, fits, parcels)
        if search.place(0, 0, ordered[0].count):
            return in_order(search.counts, order), proved
        if search.steps < STEPS and proved == parcels:
            proved = parcels + 1
    return in_order(first, order), proved


def first_fit(lines: Sequence[Units], fits: Callable[[Need], bool]) -> Counts:
    """Put each line's items into the first parcels with room for them, opening new ones as they are needed."""
    counts: Counts = []
    needs: list[Need] = []
    for line, units in enumerate(lines):
        left, parcel = units.count, 0
        while left:
            if parcel == len(needs):
                needs.append(Need())
                counts.append([0] * len(lines))
            some = most_that_fit(units, needs[parcel], left, fits)
            counts[parcel][line] = some
            needs[parcel] = with_more(needs[parcel], units, some)
            left, parcel = left - some, parcel + 1
    return counts


def most_that_fit(units: Units, before: Need, left: int, fits: Callable[[Need], bool]) -> int:
    """Return how many items of a line still fit a parcel: found by halving, since fewer fit wherever more do."""
    low, high = 0, left
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if fits(with_more(before, units, middle)) else (low, middle - 1)
    return low


def with_more(before: Need, units: Units, some: int) -> Need:
    """Return what a parcel needs with some items of a line added."""
    each = units.each
    return before + Need(each.short, each.long, each.stack * some, each.grams * some) if some else before


def in_order(counts: Counts, order: Sequence[int]) -> Counts:
    """Put the lines of a packing back into the order they came in."""
    return [[row[order.index(at)] for at in range(len(order))] for row in counts]


def at_least(total: Need, depth: Fraction, most: Fraction | None) -> int:
    """Return the parcels that height and weight need, whatever goes together."""
    by_height = ceil(total.stack / depth) if depth > 0 else 1
    by_weight = ceil(total.grams / most) if most and most > 0 else 1
    return max(1, by_height, by_weight)


@dataclass(slots=True)
class Search:
    """A packing under way into a given number of parcels."""

    lines: Sequence[Units]
    fits: Callable[[Need], bool]
    parcels: int
    steps: int = 0
    counts: Counts = field(init=False)
    needs: list[Need] = field(init=False)

    def __post_init__(self) -> None:
        self.counts = [[0] * len(self.lines) for _ in range(self.parcels)]
        self.needs = [Need()] * self.parcels

    def place(self, line: int, parcel: int, left: int) -> bool:
        """Find a place for what is left of a line in this parcel and those after it, and for all lines after it."""
        if left == 0:
            after = line + 1
            return after == len(self.lines) or self.place(after, 0, self.lines[after].count)
        if parcel == self.parcels or self.steps >= STEPS:
            return False
        before = self.needs[parcel]
        for some in range(most_that_fit(self.lines[line], before, left, self.fits), -1, -1):
            self.steps += 1
            self.put(line, parcel, some, before)
            if self.place(line, parcel + 1, left - some):
                return True
            if some == 1 and before == Need():
                break  # this parcel and all after it are empty: to leave it so helps nobody
        self.put(line, parcel, 0, before)
        return False

    def put(self, line: int, parcel: int, some: int, before: Need) -> None:
        """Put items of a line into a parcel that held what it held before."""
        self.counts[parcel][line] = some
        self.needs[parcel] = with_more(before, self.lines[line], some)
