"""Filling the crew's days backwards from the promise.

Going back from the last column, each takes, of the boxes that may be packed so late, first those whose goods come last:
earlier days are of no use to them. For boxes that all take equally long this finds a place for each whenever there is one
(the mirror of "earliest due date first", Jackson 1955).
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import zip_longest

from planning.shipping.grid import MISSED, Filling, Grid, Lot

KEPT = 8  # boxes of a column that are chosen for how they fill it
TRIED, COPIES = 600, 4  # boxes to choose these from, and how many of a lot

Wanted = tuple[int, int, int]  # a lot, the last column some of its boxes may be packed in, how many


def first_filling(grid: Grid) -> Filling:
    """Return the better of two plain schedules without overtime: by the cheapest services or by the latest days first."""
    return min((Sheet(grid).finished(order) for order in (cheapest_first, latest_first)), key=grid.total)


def settled(grid: Grid, filling: Filling) -> Filling:
    """Move boxes back from the promise where that costs nothing, since goods then have longest to come.

    Never worse than the filling given, which is kept where odd minutes leave a box without a place as good as it had;
    boxes without a day are packed as early as there is time. Of a filling that asks too much of a day, what fits stays.
    """
    overtime = overtime_of(grid, filling)
    moved, kept = Sheet(grid, overtime), Sheet(grid, overtime)
    moved.fill_back(wanted(grid, filling))
    for place, row in enumerate(filling):
        for column, boxes in enumerate(row[:-1]):
            kept.put(place, column, boxes)
    return min((moved.finished(cheapest_first), kept.finished(cheapest_first)), key=grid.total)


def overtime_of(grid: Grid, filling: Filling) -> list[int]:
    """Return each day's steps of overtime."""
    used = [0] * len(grid.days)
    for lot, row in zip(grid.lots, filling, strict=True):
        for column, boxes in enumerate(row[:-1]):
            if boxes:
                used[grid.day_of[column]] += boxes * lot.steps
    return [
        min(max(steps, day.room), day.most) - day.room for day, steps in zip(grid.days, used, strict=True)
    ]


def wanted(grid: Grid, filling: Filling) -> Iterator[Wanted]:
    """Yield, for the boxes of a filling, the last columns that cost no more than those they have."""
    for place, (lot, row) in enumerate(zip(grid.lots, filling, strict=True)):
        for column, boxes in enumerate(row[:-1]):
            if boxes:
                yield place, last_as_good(lot, column), boxes


def last_as_good(lot: Lot, column: int) -> int:
    """Return the last column that costs a box no more than a given one."""
    return max(last for cost, last in lot.lasts if cost <= lot.cost(column))


class Sheet:
    """A filling under way: steps used by column, boxes left by lot. overtime: steps of it that are allowed each day."""

    def __init__(self, grid: Grid, overtime: Sequence[int] | None = None) -> None:
        self.grid = grid
        allowed = overtime or [0] * len(grid.days)
        self.most = [day.room + more for day, more in zip(grid.days, allowed, strict=True)]
        self.used = [0] * grid.nowhere
        self.left = [lot.boxes for lot in grid.lots]
        self.rows = [[0] * grid.nowhere for _ in grid.lots]
        self.instant = any(not lot.steps for lot in grid.lots)  # boxes that take no time

    def free(self, column: int) -> int:
        """Return the steps there still are in a column: no cut-off of its day is passed by what comes before."""
        place = self.grid.day_of[column]
        day = self.grid.days[place]
        done = sum(self.used[day.first : column])
        free = self.most[place]
        for later in range(column, day.last + 1):
            done += self.used[later]
            until = day.until[later - day.first] if later < day.last else self.most[place]
            free = min(free, until - done)
        return free

    def put(self, place: int, column: int, boxes: int) -> int:
        """Pack at most so many boxes of a lot in a column; return how many."""
        lot = self.grid.lots[place]
        if lot.costs[column] is None or not self.left[place]:
            return 0
        boxes = min(boxes, self.left[place], self.free(column) // lot.steps if lot.steps else boxes)
        self.used[column] += boxes * lot.steps
        self.left[place] -= boxes
        self.rows[place][column] += boxes
        return boxes

    def own(self, column: int) -> int:
        """Return the steps there still are after the cut-off before a column: what is earlier may be needed for it."""
        place = self.grid.day_of[column]
        day = self.grid.days[place]
        before = min(day.until[column - 1 - day.first], self.most[place]) if column > day.first else 0
        return self.most[place] - before - sum(self.used[column : day.last + 1])

    def fill_back(self, wanted: Iterable[Wanted]) -> list[Wanted]:
        """Fill the columns from the last to the first with boxes that may be packed that late, the longest first.

        Return what finds no room.
        """
        lots = self.grid.lots
        order = sorted(wanted, key=lambda one: (-lots[one[0]].columns[0], -lots[one[0]].steps, *one))
        waiting = [[*one] for one in order if one[2]]
        column = max((one[1] for one in waiting), default=-1)
        while waiting and column >= 0:
            self.fill(column, [one for one in waiting if column <= one[1] and lots[one[0]].costs[column]])
            waiting = [one for one in waiting if one[2]]
            column -= 1
        return [(place, last, boxes) for place, last, boxes in waiting]

    def fill(self, column: int, waiting: Sequence[list[int]]) -> None:
        """Fill one column, the first first; the last boxes are chosen so that as little time as can be is left over."""
        longest = max((self.grid.lots[one[0]].steps for one in waiting), default=0)
        free = self.free(column)
        own = min(self.own(column), free)
        if longest * KEPT < own:
            used = self.take(column, waiting, own - KEPT * longest, free)
            own, free = own - used, free - used
        chosen = self.fitting(waiting, own)
        for one in chosen:
            self.pack(one, column, 1)
        used = sum(self.grid.lots[one[0]].steps for one in chosen)
        self.take(column, waiting, own - used, free - used)

    def take(self, column: int, waiting: Sequence[list[int]], own: int, free: int) -> int:
        """Pack boxes, the first first, until so many steps are used, of the last box's time perhaps a part beyond."""
        used = 0
        for one in waiting:
            steps = self.grid.lots[one[0]].steps
            if not steps or used < own:
                most = min(-(-(own - used) // steps), (free - used) // steps) if steps else one[2]
                used += steps * self.pack(one, column, min(one[2], most))
            elif not self.instant:
                break
        return used

    def pack(self, one: list[int], column: int, boxes: int) -> int:
        """Pack so many of what is wanted."""
        place = one[0]
        boxes = max(min(boxes, self.left[place]), 0)
        one[2] -= boxes
        self.used[column] += boxes * self.grid.lots[place].steps
        self.left[place] -= boxes
        self.rows[place][column] += boxes
        return boxes

    def fitting(self, waiting: Sequence[list[int]], room: int) -> list[list[int]]:
        """Return those of which boxes fill a room best, none where there is room for all."""
        some = [
            one
            for one in waiting
            if self.grid.lots[one[0]].steps
            for _ in range(min(one[2], self.left[one[0]], COPIES))
        ][:TRIED]
        return [some[place] for place in best_sum([self.grid.lots[one[0]].steps for one in some], room)]

    def finished(self, order: Callable[[Lot], list[int]]) -> Filling:
        """Fill back rank after rank: each lot's first choice of a column, its second ...; the rest as early as can be."""
        lots = enumerate(self.grid.lots)
        choices = ([(place, column) for column in order(lot)] for place, lot in lots if self.left[place])
        for rank in zip_longest(*choices):
            self.fill_back((place, column, self.left[place]) for place, column in filter(None, rank))
        for place, left in enumerate(self.left):
            for column in range(self.grid.nowhere if left else 0):
                self.put(place, column, left)
        return tuple((*row, left) for row, left in zip(self.rows, self.left, strict=True))


def best_sum(sizes: Sequence[int], room: int) -> list[int]:
    """Return places of sizes that add up to as much of a room as any do, the first ones where there is a choice."""
    if room <= 0 or sum(sizes) <= room:
        return []
    reached = [1]  # whether a sum is reached is the bit of its number
    for size in sizes:
        reached.append(reached[-1] | reached[-1] << size & (1 << room + 1) - 1)
    left, chosen = reached[-1].bit_length() - 1, []
    for place in reversed(range(len(sizes))):
        if not reached[place] >> left & 1:
            chosen.append(place)
            left -= sizes[place]
    return chosen[::-1]


def cheapest_first(lot: Lot) -> list[int]:
    """Return the last column of each cost in time, the lowest first; where none is in time, of the least late."""
    in_time = [column for cost, column in lot.lasts if not cost[MISSED]]
    return in_time or [column for _, column in lot.lasts[:1]]


def latest_first(lot: Lot) -> list[int]:
    """Return the last column in time; where none is, the last of the least late."""
    return cheapest_first(lot)[-1:]
