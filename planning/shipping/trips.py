"""How a box travels when it is packed on a given day: the services that take it, their collections, the best of them."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cache

from planning.calendar import DAY, CalendarError, Weekday, WorkingCalendar
from planning.shipping.model import Parcel, ServiceTerms, ShippingProblem
from planning.shipping.rows import Service
from planning.shipping.weights import charged_weight

LONGEST_WAIT = 60  # days to look ahead for a collection


@dataclass(frozen=True, slots=True)
class Option:
    """A service that takes a parcel: its price, its working days to the door."""

    service: Service
    price: Decimal
    transit: int


@dataclass(frozen=True, slots=True)
class Trip:
    """A box's way from the bench to the door. days_late: from the promise to the arrival, 0 in time."""

    service: Service
    price: Decimal
    collected: date
    arrives: date
    days_late: int


Journey = Callable[[Service, int, date], tuple[date, date]]


def options_for(parcel: Parcel, problem: ShippingProblem) -> tuple[Option, ...]:
    """Return the services that take a parcel, cheapest first, then the quicker."""
    options = (option_of(parcel, terms) for terms in problem.services)
    return tuple(
        sorted((one for one in options if one), key=lambda one: (one.price, one.transit, one.service.code))
    )


def option_of(parcel: Parcel, terms: ServiceTerms) -> Option | None:
    """Price one service for a parcel; None where it does not go, does not take the weight, or never collects."""
    service = terms.service
    zone = dict(parcel.box_class.zones).get(service.carrier)
    if zone is None or not service.collects:
        return None
    transit = terms.transit(zone)
    price = terms.postage(zone, charged_weight(service, parcel.weight, parcel.outside))
    too_heavy = service.max_weight is not None and parcel.weight > service.max_weight
    if transit is None or price is None or too_heavy:
        return None
    return Option(service, price, transit)


def trips_by_day(problem: ShippingProblem) -> tuple[tuple[Trip | None, ...], ...]:
    """Return each parcel's best trip for each day of the crew: in time and cheap, else as little late as it can be.

    None before the parcel's goods are there, on days too short to pack it, and where no service takes it. Later days
    never have a better trip: whatever leaves on a later day could have waited for the same collection.
    Raises CalendarError where a service that is needed collects on no day.
    """
    journey = journeys(problem.carrier_calendar)
    return tuple(
        tuple(
            best_trip(options, crew.day, problem.promised, journey)
            if crew.day >= parcel.ready and crew.minutes >= parcel.minutes
            else None
            for crew in problem.crew
        )
        for parcel in problem.parcels
        for options in [options_for(parcel, problem)]
    )


def journeys(calendar: WorkingCalendar) -> Journey:
    """Return the function that says when a service collects and delivers what is packed on a day."""

    @cache
    def journey(service: Service, transit: int, day: date) -> tuple[date, date]:
        collected = next_collection(service, day, calendar)
        return collected, calendar.after(collected, transit)

    return journey


def best_trip(options: tuple[Option, ...], day: date, promised: date, journey: Journey) -> Trip | None:
    """Return the trip that is least late, then cheapest; the order of the options breaks ties."""
    trips = (trip(option, *journey(option.service, option.transit, day), promised) for option in options)
    return min(trips, key=lambda one: (one.days_late, one.price), default=None)


def trip(option: Option, collected: date, arrives: date, promised: date) -> Trip:
    """Return one way of travelling."""
    late = max((arrives - promised).days, 0)
    return Trip(option.service, option.price, collected, arrives, late)


def next_collection(service: Service, day: date, calendar: WorkingCalendar) -> date:
    """Return the first day from `day` on which the carrier collects. Raises CalendarError if there is none.

    Collection days are the service's own, so a Saturday collection holds though parcels travel Monday to Friday.
    """
    for _ in range(LONGEST_WAIT):
        if Weekday.of(day) in service.collects and day not in calendar.days_off:
            return day
        day += DAY
    raise CalendarError(
        f"{service.name} collects on no day within {LONGEST_WAIT} days of {day - LONGEST_WAIT * DAY}"
    )
