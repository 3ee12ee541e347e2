"""The checker of the shipping step. It shares no code with the search."""

from collections import Counter, defaultdict
from collections.abc import Iterator
from datetime import date, time, timedelta
from decimal import Decimal
from fractions import Fraction

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
    """No day asks more minutes than crew and overtime have, by any cut-off, or boxes whose goods are not there."""
    minutes = {parcel.box_class: parcel.minutes for parcel in problem.parcels}
    ready = {parcel.box_class: parcel.ready for parcel in problem.parcels}
    asked: defaultdict[tuple[date, time | None], Decimal] = defaultdict(Decimal)
    for load in result.loads:
        if load.day < ready[load.box_class]:
            yield f"{load.box_class.name}: packed on {load.day}, before its goods are there"
        asked[load.day, load.by] += load.boxes * minutes[load.box_class]
    for crew in problem.crew:
        limits = [(None, crew.minutes + crew.overtime), *((one.at, one.minutes) for one in crew.before)]
        for at, most in limits:
            work = sum(
                asked[day, by]
                for day, by in asked
                if day == crew.day and (at is None or (by is not None and by <= at))
            )
            if work > most:
                yield f"{crew.day}: {work - most} minutes more than the crew has{f' by {at:%H:%M}' if at else ''}"
    if strange := {day for day, _ in asked} - {crew.day for crew in problem.crew}:
        yield f"{min(strange)}: nobody packs that day"
    for day in result.days:
        if day.minutes != sum((asked[one] for one in asked if one[0] == day.day), Decimal(0)):
            yield f"{day.day}: its work is not {day.minutes} minutes"


def trip_faults(problem: ShippingProblem, result: ShippingResult) -> Iterator[str]:
    """Every load leaves on a collection it is packed for, takes its transit, and is called late if it is."""
    parcels = {parcel.box_class: parcel for parcel in problem.parcels}
    before = {crew.day: {one.at for one in crew.before} for crew in problem.crew}
    for load in result.loads:
        name, parcel = f"{load.box_class.name} on {load.day}", parcels[load.box_class]
        if Weekday.of(load.collected) not in load.service.collects or load.collected < load.day:
            yield f"{name}: not collected on {load.collected}"
        cut_off = load.service.cut_off
        if cut_off is None or cut_off not in before[load.day]:
            cut_off = time.max
        if load.collected == load.day and (load.by or time.max) > cut_off:
            yield f"{name}: packed after the cut-off of its collection"
        if days_of(problem, parcel, load) != transit(problem, load):
            yield f"{name}: does not arrive on {load.arrives}"
        if load.late != (load.arrives > (result.together or parcel.promised or problem.promised)):
            yield f"{name}: wrongly called {'late' if load.late else 'in time'}"
        if result.together and not load.late and load.arrives != result.together:
            yield f"{name}: arrives on {load.arrives}, not with the others on {result.together}"


def postage_faults(problem: ShippingProblem, result: ShippingResult) -> Iterator[str]:
    """Every load pays what its service asks on the day it is collected."""
    parcels = {parcel.box_class: parcel for parcel in problem.parcels}
    for load in result.loads:
        if load.postage_each not in prices(parcels[load.box_class], load.service.code, load.collected):
            yield f"{load.box_class.name} on {load.day}: postage is not {load.postage_each}"


def unsent_faults(problem: ShippingProblem, result: ShippingResult) -> Iterator[str]:
    """What is not sent has no service, or no day that still has the minutes."""
    parcels = {parcel.box_class: parcel for parcel in problem.parcels}
    free = {crew.day: Decimal(crew.minutes + crew.overtime) for crew in problem.crew}
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
    paid = Fraction(result.postage) + sum(
        Fraction(max(day.minutes - day.capacity, Decimal(0)) * result.overtime_cost) / 60
        for day in result.days
    )
    if result.least_cost > paid:
        yield f"postage and overtime are said to be at least {result.least_cost}, but are {float(paid):.4f}"


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


def days_of(problem: ShippingProblem, parcel: Parcel, load: Load) -> int:
    """Count the destination's working days after the collection up to the arrival; -1 if it arrives on none."""
    calendars = {one.region: one.calendar for one in problem.destinations}
    calendar = calendars.get(parcel.region, problem.carrier_calendar)
    span = (load.arrives - load.collected).days
    if span and not calendar.works(load.arrives):
        return -1
    return sum(calendar.works(load.collected + timedelta(days=i)) for i in range(1, span + 1))
