"""The schedule in whole numbers: lots of like boxes against the stretches of the crew's days, and what each place costs.

A box packed in a column has one best trip (`trips.py`), so the whole question is how many boxes of each lot are packed in
each. The last column of the grid is no day at all. Work is counted in steps, the largest time that goes whole into every
packing time: what is left of a day after its last whole step is of no use to any box.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cached_property
from math import gcd, lcm

from planning.shipping.columns import Column
from planning.shipping.model import CrewOn, ShippingProblem
from planning.shipping.trips import Trip, Trips

# What a place costs by each aim, the first first: 1 if it misses the promise, days late, money in units.
Cost = tuple[int, int, int]
Filling = tuple[tuple[int, ...], ...]  # boxes of each lot (rows) in each column

DUST = 1_000  # parts of the club's money, below which no difference is sought

AIMS = range(3)
MISSED, DAYS_LATE, MONEY = AIMS


@dataclass(frozen=True)
class Lot:
    """Boxes that are alike in all that a schedule asks for: steps of packing time, and the cost of each column.

    costs: None where the box cannot be packed then; they never fall from one column to the next. parcels: places in the
    problem's parcels.
    """

    boxes: int
    steps: int
    costs: tuple[Cost | None, ...]
    parcels: tuple[int, ...]

    @cached_property
    def columns(self) -> tuple[int, ...]:
        """Columns a box may stand in, the last of them no day."""
        return tuple(column for column, cost in enumerate(self.costs) if cost is not None)

    @cached_property
    def lasts(self) -> tuple[tuple[Cost, int], ...]:
        """Each cost with the last column that has it, the cheapest first; no day is left out."""
        found: dict[Cost, int] = {}
        for column in self.columns[:-1]:
            found[self.cost(column)] = column
        return tuple(found.items())

    @cached_property
    def leasts(self) -> Cost:
        """The least a box costs by each aim."""
        costs = {cost for cost in self.costs if cost is not None}
        missed, days, money = (min(cost[aim] for cost in costs) for aim in AIMS)
        return missed, days, money

    def cost(self, column: int) -> Cost:
        """Return what a column it may stand in costs. Raises KeyError for any other."""
        if (cost := self.costs[column]) is None:
            raise KeyError(column)
        return cost


@dataclass(frozen=True, slots=True)
class Day:
    """A day's steps. first, last: its columns; room: steps of the crew's own; until: steps there may be by each one's end.

    Overtime costs `odd` for the first step, of which the crew's odd minutes are a part, and `each` for all others.
    """

    first: int
    last: int
    room: int
    until: tuple[int, ...]
    odd: int
    each: int

    @property
    def most(self) -> int:
        """All steps there may be, overtime included."""
        return self.until[-1]

    def overtime(self, used: int) -> int:
        """Return what so many steps cost in overtime."""
        over = used - self.room
        return self.odd + (over - 1) * self.each if over > 0 else 0


@dataclass(frozen=True, slots=True)
class Grid:
    """Lots against columns. unit: units of money in one of the club's money; finest: the least two totals may differ by."""

    lots: tuple[Lot, ...]
    days: tuple[Day, ...]
    day_of: tuple[int, ...]  # of each column
    unit: int
    finest: int

    @property
    def dust(self) -> int:
        """Units of money below which no difference is sought: a thousandth of one of the club's money."""
        return self.unit // DUST if self.finest * DUST < self.unit else 0

    @property
    def nowhere(self) -> int:
        """The column of boxes without a day."""
        return len(self.day_of)

    def total(self, filling: Filling) -> Cost:
        """Add up what a filling costs, aim by aim."""
        total = [0, 0, 0]
        used = [0] * len(self.days)
        for lot, row in zip(self.lots, filling, strict=True):
            for column, boxes in enumerate(row):
                if boxes:
                    for aim, cost in enumerate(lot.cost(column)):
                        total[aim] += boxes * cost
                    if column != self.nowhere:
                        used[self.day_of[column]] += boxes * lot.steps
        paid = sum(day.overtime(steps) for day, steps in zip(self.days, used, strict=True))
        return total[MISSED], total[DAYS_LATE], total[MONEY] + paid

    def floor(self, aim: int) -> int:
        """Return what no filling costs less than by an aim, however many minutes the crew has."""
        return sum(lot.boxes * lot.leasts[aim] for lot in self.lots)


def grid_of(problem: ShippingProblem, columns: Sequence[Column], trips: Trips) -> Grid:
    """Put a problem into whole numbers. Parcels that can be packed on no day or sent by no service are left out."""
    sent = [
        place
        for place, (parcel, row) in enumerate(zip(problem.parcels, trips, strict=True))
        if parcel.box_class.boxes and any(row)
    ]
    step = common(problem.parcels[place].minutes for place in sent)
    rate = Fraction(problem.overtime_cost) / 60
    odd = [rate * (step - crew.minutes % step) for crew in problem.crew]
    priced = Priced([one.price for place in sent for one in trips[place] if one], (*odd, rate * step))
    lots = lots_of(problem, trips, sent, step, priced)
    days = tuple(
        day_of(place, crew, columns, step, priced.whole(cost), priced.whole(rate * step))
        for place, (crew, cost) in enumerate(zip(problem.crew, odd, strict=True))
    )
    return Grid(lots, days, tuple(column.place for column in columns), priced.unit, finest(lots, days))


class Priced:
    """Amounts as whole units. unit: units in one of the club's money."""

    def __init__(self, prices: Sequence[Decimal], overtime: Iterable[Fraction]) -> None:
        amounts = {*map(Fraction, set(prices)), *overtime}
        self.unit = lcm(*(amount.denominator for amount in amounts))

    def whole(self, amount: Decimal | Fraction) -> int:
        """Return an amount in units."""
        return int(Fraction(amount) * self.unit)

    def costs(self, row: Sequence[Trip | None]) -> list[Cost | None]:
        """Return what the trips of a row cost by every aim."""
        known: dict[tuple[Decimal, int], Cost] = {}
        costs: list[Cost | None] = []
        for trip in row:
            if trip is None:
                costs.append(None)
                continue
            key = trip.price, trip.leg.days_late
            if key not in known:
                known[key] = int(key[1] > 0), key[1], self.whole(key[0])
            costs.append(known[key])
        return costs


def lots_of(
    problem: ShippingProblem, trips: Trips, sent: Sequence[int], step: Fraction, priced: Priced
) -> tuple[Lot, ...]:
    """Put parcels together that take as long and cost as much in every column."""
    never = 1 + max((one.days_late for place in sent for one in trips[place] if one), default=0)
    alike: defaultdict[tuple[int, tuple[Cost | None, ...]], list[int]] = defaultdict(list)
    for place in sent:
        costs = priced.costs(trips[place])
        steps = int(Fraction(problem.parcels[place].minutes) / step)
        alike[steps, (*costs, nowhere(costs, never))].append(place)
    return tuple(
        Lot(sum(problem.parcels[place].box_class.boxes for place in places), steps, costs, tuple(places))
        for (steps, costs), places in alike.items()
    )


def nowhere(costs: Sequence[Cost | None], never: int) -> Cost:
    """Return the cost of having no day: later than any other, at the dearest postage, so that it never pays."""
    return 1, never, max(cost[MONEY] for cost in costs if cost)


def day_of(place: int, crew: CrewOn, columns: Sequence[Column], step: Fraction, odd: int, each: int) -> Day:
    """Return a day in steps."""
    own = [number for number, column in enumerate(columns) if column.place == place]
    until = tuple(int(columns[number].until // step) for number in own)
    return Day(own[0], own[-1], int(crew.minutes // step), until, odd, each)


def common(minutes: Iterable[Decimal]) -> Fraction:
    """Return the largest time that goes whole into all; a minute where none takes any."""
    times = [Fraction(one) for one in set(minutes) if one]
    below = lcm(*(one.denominator for one in times))
    return Fraction(gcd(*(int(one * below) for one in times)), below) if times else Fraction(1)


def finest(lots: Sequence[Lot], days: Sequence[Day]) -> int:
    """Return the largest amount of money into which all differences of cost go whole; 1 where there are none."""
    apart = {cost[MONEY] - lot.leasts[MONEY] for lot in lots for cost, _ in lot.lasts}
    apart |= {lot.cost(lot.columns[-1])[MONEY] - lot.leasts[MONEY] for lot in lots}
    return gcd(*apart, *(cost for day in days if day.most > day.room for cost in (day.odd, day.each))) or 1
