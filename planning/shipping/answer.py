"""A filling as the step's answer: loads, the crew's days, and what has no day or no service."""

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from itertools import accumulate
from math import floor

from planning.roster import BoxClass
from planning.shipping.columns import Column
from planning.shipping.grid import DAYS_LATE, MISSED, MONEY, Cost, Grid, Lot
from planning.shipping.model import DayLoad, Load, Parcel, ShippingProblem, ShippingResult, Unsendable
from planning.shipping.search import Found, is_best
from planning.shipping.trips import Trips, options_for
from planning.shipping.words import how_it_ended

Money = tuple[int, int, Fraction]  # boxes that miss the promise, days late, the club's money

FINE = Decimal("0.0001")  # of the club's money, to which a bound is told


@dataclass(frozen=True, slots=True)
class Sought:
    """A problem in whole numbers, and what was found. on: the day boxes are to arrive together."""

    columns: tuple[Column, ...]
    trips: Trips
    grid: Grid
    found: Found
    on: date | None = None

    @property
    def cost(self) -> Money:
        """What the filling costs by every aim, in the club's money."""
        return in_money(self.grid, self.grid.total(self.found.filling))

    @property
    def bound(self) -> Money:
        """What no filling costs less than."""
        return in_money(self.grid, self.found.bound)

    @property
    def is_best(self) -> bool:
        """Whether it is proved that no filling is better."""
        return is_best(self.grid, self.found)


def in_money(grid: Grid, cost: Cost) -> Money:
    """Return a cost whose last part is in the club's money."""
    return cost[MISSED], cost[DAYS_LATE], Fraction(cost[MONEY], grid.unit)


def answer(problem: ShippingProblem, sought: Sought) -> ShippingResult:
    """Return the schedule of a filling."""
    grid, found = sought.grid, sought.found
    loads = sorted(loads_of(problem, sought), key=in_order)
    unsendable = tuple(refused(problem, loads))
    days = day_loads(problem, loads, sought)
    paid = sum((load.postage for load in loads), Decimal(0))
    overtime = Fraction(sum((day.overtime for day in days), Decimal(0)) * problem.overtime_cost) / 60
    above = Fraction(grid.total(found.filling)[MONEY] - found.bound[MONEY], grid.unit)
    return ShippingResult(
        loads=tuple(loads),
        days=days,
        unsendable=unsendable,
        least_late=found.bound[MISSED],
        least_cost=rounded_down(Fraction(paid) + overtime - above),
        overtime_cost=problem.overtime_cost,
        together=sought.on,
        ended=how_it_ended(grid, found, all_sent=not unsendable, on=sought.on),
    )


def in_order(load: Load) -> tuple[date, str, date, str]:
    """Put loads by day, service and collection."""
    return load.day, load.service.code, load.collected, load.box_class.name


def rounded_down(amount: Fraction) -> Decimal:
    """Return an amount as a Decimal that is no larger."""
    return Decimal(floor(amount / Fraction(FINE))) * FINE


def loads_of(problem: ShippingProblem, sought: Sought) -> Iterator[Load]:
    """Yield the loads of a filling: one at most for a class and a column."""
    for lot, row in zip(sought.grid.lots, sought.found.filling, strict=True):
        for place, column, boxes in handed_out(lot, row, problem):
            if (trip := sought.trips[place][column]) is not None:
                leg = trip.leg
                yield Load(
                    day=sought.columns[column].day,
                    by=sought.columns[column].by,
                    box_class=problem.parcels[place].box_class,
                    service=leg.service,
                    boxes=boxes,
                    collected=leg.collected,
                    arrives=leg.arrives,
                    late=leg.days_late > 0,
                    postage_each=trip.price,
                )


def handed_out(lot: Lot, row: Sequence[int], problem: ShippingProblem) -> Iterator[tuple[int, int, int]]:
    """Yield parcel, column, boxes: a lot's boxes, class after class, day after day, so that a class stays together."""
    places = ((column, boxes) for column, boxes in enumerate(row[:-1]) if boxes)
    column, free = next(places, (0, 0))
    for place in lot.parcels:
        left = problem.parcels[place].box_class.boxes
        while left and free:
            part = min(left, free)
            yield place, column, part
            left, free = left - part, free - part
            if not free:
                column, free = next(places, (0, 0))


def refused(problem: ShippingProblem, loads: Sequence[Load]) -> Iterator[Unsendable]:
    """Yield the boxes without a load, by class, and why."""
    sent: Counter[BoxClass] = Counter()
    for load in loads:
        sent[load.box_class] += load.boxes
    for parcel in problem.parcels:
        if left := parcel.box_class.boxes - sent[parcel.box_class]:
            yield Unsendable(box_class=parcel.box_class, boxes=left, why=why_not(parcel, problem))


def why_not(parcel: Parcel, problem: ShippingProblem) -> str:
    """Say why boxes of a class have no day or no service."""
    days = [crew for crew in problem.crew if crew.day >= parcel.ready]
    if not options_for(parcel, problem):
        return parcel.refused or f"no service goes to {parcel.box_class.destination}"
    if not days:
        return "no crew is at work on any day"
    if (longest := max(crew.most for crew in days)) < parcel.minutes:
        return (
            f"packing one takes {parcel.minutes.normalize():f} min, and no day has more than {longest:,} min"
        )
    return f"the crew is full on every day to {days[-1].day:%-d %b %Y}"


def day_loads(problem: ShippingProblem, loads: Sequence[Load], sought: Sought) -> tuple[DayLoad, ...]:
    """Set each day's work beside the crew's minutes; days after the last load and the last due work are left out."""
    minutes_each = {parcel.box_class: parcel.minutes for parcel in problem.parcels}
    minutes = {crew.day: Decimal(0) for crew in problem.crew}
    boxes = dict.fromkeys(minutes, 0)
    for load in loads:
        minutes[load.day] += minutes_each[load.box_class] * load.boxes
        boxes[load.day] += load.boxes
    due = due_work(problem, sought)
    last = max((*(load.day for load in loads), *due), default=date.min)
    sums = zip(
        problem.crew,
        accumulate(due[crew.day] for crew in problem.crew),
        accumulate(crew.minutes for crew in problem.crew),
        strict=True,
    )
    return tuple(
        DayLoad(
            day=crew.day,
            minutes=minutes[crew.day],
            capacity=crew.minutes,
            boxes=boxes[crew.day],
            limit=crew.overtime,
            due=due_by,
            had=had,
        )
        for crew, due_by, had in sums
        if crew.day <= last
    )


def due_work(problem: ShippingProblem, sought: Sought) -> defaultdict[date, Decimal]:
    """Return the minutes of work by the last day on which it can be done and be in time."""
    due: defaultdict[date, Decimal] = defaultdict(Decimal)
    for lot in sought.grid.lots:
        in_time = [column for column in lot.columns[:-1] if not lot.cost(column)[MISSED]]
        for place in lot.parcels if in_time else ():
            parcel = problem.parcels[place]
            due[sought.columns[in_time[-1]].day] += parcel.minutes * parcel.box_class.boxes
    return due
