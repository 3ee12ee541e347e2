"""The schedule in whole numbers: lots of like boxes against the crew's days, and what each place costs.

A box packed on a day has one best trip (`trips.py`), so the whole question is how many boxes of each lot are packed on
each day. The last column of the grid is no day at all.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import lcm

from planning.shipping.model import ShippingProblem
from planning.shipping.trips import Trip

# What a place costs by each aim, the first first: 1 if it misses the promise, days late, postage in steps.
Cost = tuple[int, int, int]
Filling = tuple[tuple[int, ...], ...]  # boxes of each lot (rows) in each column

AIMS = range(3)
MISSED, DAYS_LATE, POSTAGE = AIMS


@dataclass(frozen=True, slots=True)
class Lot:
    """Boxes that are alike in all that a schedule asks for: steps of packing time, and the cost of each column.

    costs: None where the box cannot be packed that day; they never fall from one column to the next. parcels: places in
    the problem's parcels.
    """

    boxes: int
    minutes: int
    costs: tuple[Cost | None, ...]
    parcels: tuple[int, ...]

    @property
    def columns(self) -> tuple[int, ...]:
        """Columns a box may stand in, the last of them no day."""
        return tuple(column for column, cost in enumerate(self.costs) if cost is not None)

    def cost(self, column: int) -> Cost:
        """Return what a column it may stand in costs. Raises KeyError for any other."""
        if (cost := self.costs[column]) is None:
            raise KeyError(column)
        return cost

    def least(self, aim: int) -> int:
        """Return the least a box costs by one aim."""
        return min(self.cost(column)[aim] for column in self.columns)


@dataclass(frozen=True, slots=True)
class Grid:
    """Lots against days. room: steps of packing time each day. unit: steps of postage in one of the club's money."""

    lots: tuple[Lot, ...]
    room: tuple[int, ...]
    unit: int

    @property
    def nowhere(self) -> int:
        """The column of boxes without a day."""
        return len(self.room)

    def total(self, filling: Filling) -> Cost:
        """Add up what a filling costs, aim by aim."""
        total = (0, 0, 0)
        for lot, row in zip(self.lots, filling, strict=True):
            for column, boxes in enumerate(row):
                if boxes:
                    missed, days, postage = (boxes * cost for cost in lot.cost(column))
                    total = total[0] + missed, total[1] + days, total[2] + postage
        return total

    def floor(self, aim: int) -> int:
        """Return what no filling costs less than by an aim, however many minutes the crew has."""
        return sum(lot.boxes * lot.least(aim) for lot in self.lots)


def grid_of(problem: ShippingProblem, trips: Sequence[Sequence[Trip | None]]) -> Grid:
    """Put a problem into whole numbers. Parcels that can be packed on no day or sent by no service are left out."""
    minute = steps([parcel.minutes for parcel in problem.parcels])
    unit = steps([one.price for row in trips for one in row if one])
    never = 1 + max((one.days_late for row in trips for one in row if one), default=0)
    alike: defaultdict[tuple[int, tuple[Cost | None, ...]], list[int]] = defaultdict(list)
    for place, (parcel, row) in enumerate(zip(problem.parcels, trips, strict=True)):
        costs = [None if one is None else cost_of(one, unit) for one in row]
        if any(costs) and parcel.box_class.boxes:
            alike[int(parcel.minutes * minute), (*costs, nowhere(costs, never))].append(place)
    lots = (
        Lot(sum(problem.parcels[place].box_class.boxes for place in places), minutes, costs, tuple(places))
        for (minutes, costs), places in alike.items()
    )
    return Grid(tuple(lots), tuple(crew.minutes * minute for crew in problem.crew), unit)


def cost_of(trip: Trip, unit: int) -> Cost:
    """Return what a trip costs by every aim."""
    return int(trip.days_late > 0), trip.days_late, int(trip.price * unit)


def nowhere(costs: Sequence[Cost | None], never: int) -> Cost:
    """Return the cost of having no day: later than any other, at the dearest postage, so that it never pays."""
    return 1, never, max(cost[POSTAGE] for cost in costs if cost)


def steps(amounts: Sequence[Decimal]) -> int:
    """Return into how many steps a unit must be parted for all amounts to be whole."""
    return lcm(*(amount.as_integer_ratio()[1] for amount in amounts))
