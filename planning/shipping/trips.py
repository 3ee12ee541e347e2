"""How a box travels when it is packed on a given day: the services that take it, their collections, the best of them."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cache
from itertools import pairwise
from typing import NamedTuple

from planning.calendar import DAY, CalendarError, Weekday, WorkingCalendar
from planning.shipping.columns import Column, catches
from planning.shipping.model import Fare, Parcel, ServiceTerms, ShippingProblem
from planning.shipping.rows import Service

LONGEST_WAIT = 60  # days to look ahead for a collection


@dataclass(frozen=True, slots=True)
class Option:
    """A service that takes a parcel, its working days to the door, and whose days they are."""

    service: Service
    transit: int
    region: str


class Leg(NamedTuple):
    """A box's way from the bench to the door. days_late: from the promise to the arrival, 0 in time."""

    service: Service
    collected: date
    arrives: date
    days_late: int


class Trip(NamedTuple):
    """A way and its price."""

    price: Decimal
    leg: Leg

    @property
    def days_late(self) -> int:
        """Days from the promise to the arrival, 0 in time."""
        return self.leg.days_late


Journey = Callable[[Option, date], tuple[date, date]]
TripRow = tuple[Trip | None, ...]  # of one parcel, by column
Trips = tuple[TripRow, ...]
Route = tuple[
    tuple[tuple[Leg, ...], ...], tuple[int, ...]
]  # legs by column and option; columns where lateness changes


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
    known = transit is not None and takes and service.collects
    return Option(service, transit or 0, parcel.region) if known else None


def trips_of(problem: ShippingProblem, columns: Sequence[Column], on: date | None = None) -> Trips:
    """Return each parcel's best trip for each column: in time and cheap, else as little late as it can be.

    on: the day boxes are to arrive together; none is brought before it, and later is late. None before the parcel's goods
    are there, in columns too short to pack it, and where no service takes it. Later columns never have a better trip:
    whatever leaves on a later day could have waited for the same collection.
    Raises CalendarError where a service that is needed collects on no day.
    """
    planner = Planner(problem, columns, on)
    return tuple(planner.row(parcel) for parcel in problem.parcels)


class Planner:
    """Looks the trips of one parcel after the other up; what many have in common is worked out once."""

    def __init__(self, problem: ShippingProblem, columns: Sequence[Column], on: date | None) -> None:
        self.problem, self.columns, self.on = problem, columns, on
        self.journey = journeys(problem)
        self.routes: dict[tuple[tuple[Option, ...], date], Route] = {}
        self.rows: dict[tuple[tuple[Fare, ...], tuple[Option, ...], date], TripRow] = {}

    def row(self, parcel: Parcel) -> TripRow:
        """Return the best trips of a parcel by column."""
        options = options_for(parcel, self.problem)
        if not options:
            return (None,) * len(self.columns)
        return tuple(
            trip if column.day >= parcel.ready and column.until >= parcel.minutes else None
            for column, trip in zip(self.columns, self.trips(parcel, options), strict=True)
        )

    def trips(self, parcel: Parcel, options: tuple[Option, ...]) -> TripRow:
        """Return the best trips of a parcel by column, whenever it is ready. Parcels with the same fares travel alike."""
        alike = parcel.fares, options, self.problem.due(parcel)
        if alike not in self.rows:
            dated = any(fare.first or fare.last for fare in parcel.fares)
            trips = self.by_rates(parcel, options) if dated else self.by_lateness(parcel, options)
            self.rows[alike] = tuple(trips)
        return self.rows[alike]

    def by_lateness(self, parcel: Parcel, options: tuple[Option, ...]) -> Iterator[Trip | None]:
        """Yield the best trip of each column where prices always hold: the same option until one comes later."""
        legs, changes = self.route(options, self.on or self.problem.due(parcel))
        asked = {fare.service: fare.price for fare in parcel.fares}
        prices = [asked[option.service.code] for option in options]
        for first, end in pairwise((*changes, len(self.columns))):
            late = [leg.days_late for leg in legs[first]]
            _, price, best = min(zip(late, prices, range(len(prices)), strict=True))
            for column in range(first, end):
                yield Trip(price, legs[column][best])

    def route(self, options: tuple[Option, ...], due: date) -> Route:
        """Return the legs of each column by option, and the columns from which any of them is later than before."""
        if (options, due) not in self.routes:
            legs = tuple(
                tuple(self.leg(option, start, due) for option, start in starts_of(options, one, self.problem))
                for one in self.columns
            )
            late = [[leg.days_late for leg in row] for row in legs]
            changes = tuple(at for at in range(len(late)) if not at or late[at] != late[at - 1])
            self.routes[options, due] = legs, changes
        return self.routes[options, due]

    def leg(self, option: Option, start: date, due: date) -> Leg:
        """Return the first leg of a service that may collect from a day on."""
        collected, arrives = not_before(self.on, option, start, self.journey)
        return Leg(option.service, collected, arrives, max((arrives - due).days, 0))

    def by_rates(self, parcel: Parcel, options: tuple[Option, ...]) -> Iterator[Trip | None]:
        """Yield the best trip of each column where prices change: a box may wait for a better one."""
        due = self.on or self.problem.due(parcel)
        for column in self.columns:
            starts = starts_of(options, column, self.problem)
            yield best_trip(parcel, starts, due, self.journey, self.on)


def starts_of(
    options: Sequence[Option], column: Column, problem: ShippingProblem
) -> Iterator[tuple[Option, date]]:
    """Yield each option with the first day on which it may collect what is packed in a column."""
    crew = problem.crew[column.place]
    for option in options:
        yield option, column.day if catches(option.service, column, crew) else column.day + DAY


def journeys(problem: ShippingProblem) -> Journey:
    """Return the function that says when a service collects and delivers what waits for it from a day on."""
    home = problem.carrier_calendar
    calendars = {one.region: one.calendar for one in problem.destinations}

    @cache
    def journey(option: Option, day: date) -> tuple[date, date]:
        collected = next_collection(option.service, day, home)
        return collected, calendars.get(option.region, home).after(collected, option.transit)

    return journey


def best_trip(
    parcel: Parcel,
    starts: Iterator[tuple[Option, date]],
    due: date,
    journey: Journey,
    on: date | None = None,
) -> Trip | None:
    """Return the trip that is least late, then cheapest; the order of the options breaks ties.

    A box may wait for another collection only where other rates begin, or where it would arrive before the others: until
    then a later one is no better.
    """
    trips = (
        trip(parcel, option, *not_before(on, option, start, journey), due)
        for option, first in starts
        for start in (first, *new_rates(parcel, option, first))
    )
    return min(filter(None, trips), key=lambda one: (one.days_late, one.price), default=None)


def not_before(on: date | None, option: Option, start: date, journey: Journey) -> tuple[date, date]:
    """Return the first journey from a day on that does not arrive before another."""
    collected, arrives = journey(option, start)
    while on is not None and arrives < on:
        collected, arrives = journey(option, collected + DAY)
    return collected, arrives


def new_rates(parcel: Parcel, option: Option, day: date) -> Iterator[date]:
    """Yield the days after a day from which a service asks other prices."""
    for fare in parcel.fares:
        if fare.service == option.service.code and fare.first is not None and fare.first > day:
            yield fare.first


def trip(parcel: Parcel, option: Option, collected: date, arrives: date, due: date) -> Trip | None:
    """Return one way of travelling, None where no fare holds on the day it is collected."""
    price = parcel.fare(option.service.code, collected)
    leg = Leg(option.service, collected, arrives, max((arrives - due).days, 0))
    return None if price is None else Trip(price, leg)


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
