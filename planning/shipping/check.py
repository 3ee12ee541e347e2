"""The checker of the shipping step. It shares no code with the search."""

from collections import Counter
from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal

from planning.calendar import Weekday
from planning.shipping.model import Load, ShippingProblem, ShippingResult, Unsendable


def shipping_faults(problem: ShippingProblem, result: ShippingResult) -> tuple[str, ...]:
    """Return every way in which the schedule is not what crew, carriers and roster allow."""
    return (*box_faults(problem, result), *day_faults(problem, result), *trip_faults(problem, result))


def box_faults(problem: ShippingProblem, result: ShippingResult) -> Iterator[str]:
    """Every box of every class has exactly one place."""
    placed = Counter({parcel.box_class: 0 for parcel in problem.parcels})
    told: list[Load | Unsendable] = [*result.loads, *result.unsendable]
    for one in told:
        placed[one.box_class] += one.boxes
    for box_class, boxes in placed.items():
        if boxes != box_class.boxes:
            yield f"{box_class.name}: {box_class.boxes} boxes, {boxes} of them placed"


def day_faults(problem: ShippingProblem, result: ShippingResult) -> Iterator[str]:
    """No day asks more minutes than the crew has, or boxes whose goods are not there."""
    minutes = {parcel.box_class: parcel.minutes for parcel in problem.parcels}
    ready = {parcel.box_class: parcel.ready for parcel in problem.parcels}
    crew = {one.day: Decimal(one.minutes) for one in problem.crew}
    for load in result.loads:
        if load.day < ready[load.box_class]:
            yield f"{load.box_class.name}: packed on {load.day}, before its goods are there"
        crew[load.day] = crew.get(load.day, Decimal(0)) - load.boxes * minutes[load.box_class]
    for day, free in crew.items():
        if free < 0:
            yield f"{day}: {-free} minutes more than the crew has"


def trip_faults(problem: ShippingProblem, result: ShippingResult) -> Iterator[str]:
    """Every load leaves on a collection, takes its transit, and is called late if it is."""
    for load in result.loads:
        name = f"{load.box_class.name} on {load.day}"
        if Weekday.of(load.collected) not in load.service.collects or load.collected < load.day:
            yield f"{name}: not collected on {load.collected}"
        if carrier_days(problem, load.collected, load.arrives) != transit(problem, load):
            yield f"{name}: does not arrive on {load.arrives}"
        if load.late != (load.arrives > problem.promised):
            yield f"{name}: wrongly called {'late' if load.late else 'in time'}"


def transit(problem: ShippingProblem, load: Load) -> int:
    """Look the load's transit days up in the rows."""
    zones = dict(load.box_class.zones)
    rows = [row for terms in problem.services if terms.service == load.service for row in terms.transits]
    return next(row.days for row in rows if row.zone == zones[load.service.carrier])


def carrier_days(problem: ShippingProblem, collected: date, arrives: date) -> int:
    """Count the carrier's working days after the collection up to the arrival."""
    span = (arrives - collected).days
    return sum(problem.carrier_calendar.works(collected + timedelta(days=i)) for i in range(1, span + 1))
