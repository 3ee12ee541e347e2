"""How a box travels when it is packed on a given day: the services that take it, their collections, the best of them."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cache

from planning.calendar import DAY, CalendarError, Weekday, WorkingCalendar
from planning.shipping.model import Parcel, ServiceTerms, ShippingProblem
from planning.shipping.rows import Service

LONGEST_WAIT = 60  # days to look ahead for a collection


@dataclass(frozen=True, slots=True)
class Option:
    """A service that takes a parcel, and its working days to the door."""

    service: Service
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
    """Return the services that take a parcel, the quicker first."""
    options = (option_of(parcel, terms) for terms in problem.services)
    return tuple(sorted((one for one in options if one), key=lambda one: (one.transit, one.service.code)))


def option_of(parcel: Parcel, terms: ServiceTerms) -> Option | None:
    """Return one service as an option; None where it does not go, takes no such parcel, or never collects."""
    service = terms.service
    zone = dict(parcel.box_class.zones).get(service.carrier)
    transit = None if zone is None else terms.transit(zone)
    takes = any(fare.service == service.code for fare in parcel.fares)
    return Option(service, transit) if transit is not None and takes and service.collects else None


def trips_by_day(problem: ShippingProblem) -> tuple[tuple[Trip | None, ...], ...]:
    """Return each parcel's best trip for each day of the crew: in time and cheap, else as little late as it can be.

    None before the parcel's goods are there, on days too short to pack it, and where no service takes it. Later days
    never have a better trip: whatever leaves on a later day could have waited for the same collection.
    Raises CalendarError where a service that is needed collects on no day.
    """
    journey = journeys(problem.carrier_calendar)
    return tuple(
        tuple(
            best_trip(parcel, options, crew.day, problem.promised, journey)
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


def best_trip(
    parcel: Parcel, options: tuple[Option, ...], day: date, promised: date, journey: Journey
) -> Trip | None:
    """Return the trip that is least late, then cheapest; the order of the options breaks ties.

    A box may wait for another collection only where other rates begin: until then a later one is no better.
    """
    trips = (
        trip(parcel, option, *journey(option.service, option.transit, start), promised)
        for option in options
        for start in (day, *new_rates(parcel, option, day))
    )
    return min(filter(None, trips), key=lambda one: (one.days_late, one.price), default=None)


def new_rates(parcel: Parcel, option: Option, day: date) -> Iterator[date]:
    """Yield the days after a day from which a service asks other prices."""
    for fare in parcel.fares:
        if fare.service == option.service.code and fare.first is not None and fare.first > day:
            yield fare.first


def trip(parcel: Parcel, option: Option, collected: date, arrives: date, promised: date) -> Trip | None:
    """Return one way of travelling, None where no fare holds on the day it is collected."""
    price = parcel.fare(option.service.code, collected)
    late = max((arrives - promised).days, 0)
    return None if price is None else Trip(option.service, price, collected, arrives, late)


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
