"""The checker of the shipping step. It shares no code with the search."""

from collections import Counter
from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal

from planning.calendar import Weekday
from planning.shipping.model import (
    Load,
    Parcel,
    ServiceTerms,
    ShippingProblem,
    ShippingResult,
    Unsendable,
)


def shipping_faults(problem: ShippingProblem, result: ShippingResult) -> tuple[str, ...]:
    """Return every way in which the schedule is not what crew, carriers and roster allow."""
    return (
        *box_faults(problem, result),
        *day_faults(problem, result),
        *trip_faults(problem, result),
        *postage_faults(problem, result),
        *unsent_faults(problem, result),
        *bound_faults(result),
    )


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


def postage_faults(problem: ShippingProblem, result: ShippingResult) -> Iterator[str]:
    """Every load pays what its service asks on the day it is collected."""
    parcels = {parcel.box_class: parcel for parcel in problem.parcels}
    for load in result.loads:
        if load.postage_each not in prices(parcels[load.box_class], load.service.code, load.collected):
            yield f"{load.box_class.name} on {load.day}: postage is not {load.postage_each}"


def unsent_faults(problem: ShippingProblem, result: ShippingResult) -> Iterator[str]:
    """What is not sent has no service, or no day that still has the minutes."""
    parcels = {parcel.box_class: parcel for parcel in problem.parcels}
    free = {crew.day: Decimal(crew.minutes) for crew in problem.crew}
    for load in result.loads:
        free[load.day] -= load.boxes * parcels[load.box_class].minutes
    for one in result.unsendable:
        parcel = parcels[one.box_class]
        if not any(may_travel(parcel, terms) for terms in problem.services):
            continue
        days = [day for day, minutes in free.items() if day >= parcel.ready and minutes >= parcel.minutes]
        if days:
            yield f"{one.box_class.name}: called unsendable, but could be packed on {days[0]}"


def bound_faults(result: ShippingResult) -> Iterator[str]:
    """No bound lies above what was found."""
    late = sum(load.boxes for load in result.late) + sum(one.boxes for one in result.unsendable)
    if result.least_late > late:
        yield f"{result.least_late} boxes are said to be late in any schedule, but here are {late}"
    if result.least_postage > result.postage:
        yield f"postage is said to be at least {result.least_postage}, but is {result.postage}"


def prices(parcel: Parcel, service: str, day: date) -> list[Decimal]:
    """Look up what a service asks for a box on a day; nothing where it does not take it."""
    fares = [one for one in parcel.fares if one.service == service]
    return [one.price for one in fares if (one.first or date.min) <= day <= (one.last or date.max)]


def may_travel(parcel: Parcel, terms: ServiceTerms) -> bool:
    """Tell whether a service takes a box on any day, and goes where it goes."""
    service, zone = terms.service, dict(parcel.box_class.zones).get(terms.service.carrier)
    goes = zone in {row.zone for row in terms.transits}
    return goes and bool(service.collects) and service.code in {one.service for one in parcel.fares}


def transit(problem: ShippingProblem, load: Load) -> int:
    """Look the load's transit days up in the rows."""
    zones = dict(load.box_class.zones)
    rows = [row for terms in problem.services if terms.service == load.service for row in terms.transits]
    return next(row.days for row in rows if row.zone == zones[load.service.carrier])


def carrier_days(problem: ShippingProblem, collected: date, arrives: date) -> int:
    """Count the carrier's working days after the collection up to the arrival."""
    span = (arrives - collected).days
    return sum(problem.carrier_calendar.works(collected + timedelta(days=i)) for i in range(1, span + 1))
