"""The rule of the shipping step: what each box costs on each day, and the schedule that costs least.

A box packed on a day goes by the cheapest service that is then in time, else by the one that is least late. Of all
schedules the crew has the minutes for, one is sought in which fewest boxes miss the promise; of those, one with the fewest
days of lateness in all; of those, one with the least postage. Boxes are then packed as late as that allows.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date
from decimal import Decimal

from planning.roster import BoxClass
from planning.shipping.fill import first_filling
from planning.shipping.grid import MISSED, POSTAGE, Filling, Grid, Lot, grid_of
from planning.shipping.model import DayLoad, Load, Parcel, ShippingProblem, ShippingResult, Unsendable
from planning.shipping.search import NODES, Found, plain, search
from planning.shipping.trips import Trip, options_for, trips_by_day
from planning.shipping.words import how_it_ended

Trips = Sequence[Sequence[Trip | None]]  # of each parcel, by day of the crew


def plan_shipping(problem: ShippingProblem, nodes: int = NODES) -> ShippingResult:
    """Give every box a day and a service; late ones and unsendable ones are told apart.

    nodes: the most effort to put into the proof that nothing is better. Raises CalendarError where a service collects on
    no day for months.
    """
    trips = trips_by_day(problem)
    grid = grid_of(problem, trips)
    return scheduled(problem, trips, grid, search(grid, first_filling(grid), nodes))


def pack_plainly(problem: ShippingProblem) -> ShippingResult:
    """Give every box a day and a service by the better of two plain rules, without a search. Errors as above."""
    trips = trips_by_day(problem)
    grid = grid_of(problem, trips)
    return scheduled(problem, trips, grid, plain(grid, first_filling(grid)))


def scheduled(problem: ShippingProblem, trips: Trips, grid: Grid, found: Found) -> ShippingResult:
    """Return the schedule of a filling."""
    loads = sorted(
        loads_of(grid, found.filling, trips, problem),
        key=lambda load: (load.day, load.service.code, load.box_class.name),
    )
    unsendable = tuple(refused(problem, loads))
    above = Decimal(grid.total(found.filling)[POSTAGE] - found.bound[POSTAGE]) / grid.unit
    return ShippingResult(
        loads=tuple(loads),
        days=day_loads(problem, loads),
        unsendable=unsendable,
        least_late=found.bound[MISSED],
        least_postage=sum((load.postage for load in loads), Decimal(0)) - above,
        ended=how_it_ended(grid, found, all_sent=not unsendable),
    )


def loads_of(grid: Grid, filling: Filling, trips: Trips, problem: ShippingProblem) -> Iterator[Load]:
    """Yield the loads of a filling: one at most for a class and a day."""
    for lot, row in zip(grid.lots, filling, strict=True):
        for place, day, boxes in handed_out(lot, row, problem):
            if (trip := trips[place][day]) is not None:
                yield Load(
                    day=problem.crew[day].day,
                    box_class=problem.parcels[place].box_class,
                    service=trip.service,
                    boxes=boxes,
                    collected=trip.collected,
                    arrives=trip.arrives,
                    late=trip.days_late > 0,
                    postage_each=trip.price,
                )


def handed_out(lot: Lot, row: Sequence[int], problem: ShippingProblem) -> Iterator[tuple[int, int, int]]:
    """Yield parcel, day and boxes: a lot's boxes, class after class, day after day, so that a class stays together."""
    days = ((day, boxes) for day, boxes in enumerate(row[:-1]) if boxes)
    day, free = next(days, (0, 0))
    for place in lot.parcels:
        left = problem.parcels[place].box_class.boxes
        while left and free:
            part = min(left, free)
            yield place, day, part
            left, free = left - part, free - part
            if not free:
                day, free = next(days, (0, 0))


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
    if (longest := max(crew.minutes for crew in days)) < parcel.minutes:
        return (
            f"packing one takes {parcel.minutes.normalize():f} min, and no day has more than {longest:,} min"
        )
    return f"the crew is full on every day to {days[-1].day:%-d %b %Y}"


def day_loads(problem: ShippingProblem, loads: Sequence[Load]) -> tuple[DayLoad, ...]:
    """Set each day's work beside the crew's minutes; days after the last load are left out."""
    minutes_each = {parcel.box_class: parcel.minutes for parcel in problem.parcels}
    minutes = {crew.day: Decimal(0) for crew in problem.crew}
    boxes = dict.fromkeys(minutes, 0)
    for load in loads:
        minutes[load.day] += minutes_each[load.box_class] * load.boxes
        boxes[load.day] += load.boxes
    last = max((load.day for load in loads), default=date.min)
    return tuple(
        DayLoad(day=crew.day, minutes=minutes[crew.day], capacity=crew.minutes, boxes=boxes[crew.day])
        for crew in problem.crew
        if crew.day <= last
    )
