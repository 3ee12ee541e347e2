"""Filling the crew's days backwards from the promise.

Going back from the last day, each day takes, of the boxes that may be packed so late, first those whose goods come
last: earlier days are of no use to them. For boxes that all take equally long this finds a place for each whenever
there is one (the mirror of "earliest due date first", Jackson 1955).
"""

from collections.abc import Callable, Iterable, Iterator
from itertools import pairwise, zip_longest

from planning.shipping.grid import MISSED, Filling, Grid, Lot

Wanted = tuple[int, int, int]  # a lot, the last day some of its boxes may be packed, how many


def first_filling(grid: Grid) -> Filling:
    """Return the better of two plain schedules: by the cheapest services first, or by the latest days first."""
    return min((Sheet(grid).finished(order) for order in (cheapest_first, latest_first)), key=grid.total)


def settled(grid: Grid, filling: Filling) -> Filling:
    """Move boxes back from the promise where that costs nothing, since goods then have longest to come.

    Never worse than the filling given, which is kept where odd minutes leave a box without a place as good as it had;
    boxes without a day are packed as early as there is time. Of a filling that asks too much of a day, what fits stays.
    """
    moved, kept = Sheet(grid), Sheet(grid)
    moved.fill_back(wanted(grid, filling))
    for place, row in enumerate(filling):
        for day, boxes in enumerate(row[:-1]):
            kept.put(place, day, boxes)
    return min((moved.finished(cheapest_first), kept.finished(cheapest_first)), key=grid.total)


def wanted(grid: Grid, filling: Filling) -> Iterator[Wanted]:
    """Yield, for the boxes of a filling, the last days that cost no more than the days they have."""
    for place, (lot, row) in enumerate(zip(grid.lots, filling, strict=True)):
        for column, boxes in enumerate(row[:-1]):
            if boxes:
                yield place, last_as_good(lot, column), boxes


def last_as_good(lot: Lot, column: int) -> int:
    """Return the last day that costs a box no more than a given one."""
    return max(day for day in lot.columns[:-1] if lot.cost(day) <= lot.cost(column))


class Sheet:
    """A filling under way: steps free by day, boxes left by lot."""

    def __init__(self, grid: Grid) -> None:
        self.grid = grid
        self.free = list(grid.room)
        self.left = [lot.boxes for lot in grid.lots]
        self.rows = [[0] * grid.nowhere for _ in grid.lots]

    def put(self, place: int, day: int, boxes: int) -> int:
        """Pack at most so many boxes of a lot on a day; return how many."""
        lot = self.grid.lots[place]
        if lot.costs[day] is None:
            return 0
        boxes = min(boxes, self.left[place], self.free[day] // lot.minutes if lot.minutes else boxes)
        self.free[day] -= boxes * lot.minutes
        self.left[place] -= boxes
        self.rows[place][day] += boxes
        return boxes

    def fill_back(self, wanted: Iterable[Wanted]) -> None:
        """Fill the days from the last to the first with boxes that may be packed that late."""
        lots = self.grid.lots
        waiting = [[*one] for one in sorted(wanted, key=lambda one: (-lots[one[0]].columns[0], *one))]
        for day in reversed(range(self.grid.nowhere)):
            for one in waiting:
                if day <= one[1]:
                    one[2] -= self.put(one[0], day, one[2])

    def finished(self, order: Callable[[Lot], list[int]]) -> Filling:
        """Fill back rank after rank: each lot's first choice of a last day, its second ...; the rest as early as can be."""
        choices = ([(place, day) for day in order(lot)] for place, lot in enumerate(self.grid.lots))
        for rank in zip_longest(*choices):
            self.fill_back((place, day, self.left[place]) for place, day in filter(None, rank))
        for day in range(self.grid.nowhere):
            for place, left in enumerate(self.left):
                self.put(place, day, left)
        return tuple((*row, left) for row, left in zip(self.rows, self.left, strict=True))


def cheapest_first(lot: Lot) -> list[int]:
    """Return the last day of each cost in time, the lowest first; where none is in time, of the least late."""
    days = list(last_days(lot))
    return [day for day in days if not lot.cost(day)[MISSED]] or days[:1]


def latest_first(lot: Lot) -> list[int]:
    """Return the last day in time; where none is, the last of the least late."""
    return cheapest_first(lot)[-1:]


def last_days(lot: Lot) -> Iterator[int]:
    """Yield the last day of each cost."""
    for day, after in pairwise(lot.columns):
        if lot.cost(after) != lot.cost(day):
            yield day
