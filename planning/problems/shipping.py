"""The shipping step's question: parcels, services, and the crew's days."""

from collections import defaultdict
from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from planning.calendar import DAY, Weekday, WorkingCalendar
from planning.month import Month
from planning.packing import PackingResult
from planning.problems.buying import OFFICE_WEEK
from planning.roster import RosterResult
from planning.shipping import CrewOn, OffFor, Parcel, Rate, ServiceTerms, ShippingProblem, Transit

LAST_RESORT = 400  # days after the promise beyond which a box is called unsendable rather than late


def shipping_problem(month: Month, roster: RosterResult, packing: PackingResult) -> ShippingProblem:
    """Ask for a day and a service for every class of boxes."""
    parcels = []
    for one in roster.classes:
        spec = packing.of(one.contents)
        outside = spec.container.outside if spec.container else None
        parcels.append(Parcel(box_class=one, weight=spec.heaviest, outside=outside, minutes=spec.minutes))
    return ShippingProblem(
        parcels=tuple(parcels),
        services=tuple(services_of(month)),
        crew=tuple(crew_days(month, packing.minutes)),
        carrier_calendar=carrier_calendar(month),
        promised=promised_day(month),
    )


def promised_day(month: Month) -> date:
    """Return the last carrier working day of the promised week."""
    return carrier_calendar(month).on_or_before(month.club.promised.day(Weekday.SUN))


def carrier_calendar(month: Month) -> WorkingCalendar:
    """Return the days on which parcels travel and arrive: Monday to Friday, less the carriers' days off."""
    return WorkingCalendar(
        OFFICE_WEEK, frozenset(row.day for row in month.days_off if row.who is not OffFor.CLUB)
    )


def crew_days(month: Month, minutes: Decimal) -> Iterator[CrewOn]:
    """Yield the crew's days from the first packing day until the promise is past and all work would be done twice over.

    The slack lets boxes that miss the promise find a late day; a day's odd minutes are too few for another box.
    """
    day, promised, left = month.club.packing_starts, promised_day(month), 2 * minutes
    while day <= promised or (left > 0 and (day - promised).days < LAST_RESORT):
        if crew := crew_minutes(month, day):
            left -= crew
            yield CrewOn(day=day, minutes=crew)
        day += DAY


def crew_minutes(month: Month, day: date) -> int:
    """Return the crew's minutes on a date: as set for the date, none on a day off, else as every such weekday."""
    for row in month.crew_days:
        if row.day == day:
            return row.minutes
    if any(row.day == day and row.who is not OffFor.CARRIERS for row in month.days_off):
        return 0
    return sum(row.minutes for row in month.week if row.weekday is Weekday.of(day))


def services_of(month: Month) -> Iterator[ServiceTerms]:
    """Yield each service with its transit days and its rates, rising by weight."""
    transits: defaultdict[str, list[Transit]] = defaultdict(list)
    rates: defaultdict[str, list[Rate]] = defaultdict(list)
    for transit in month.transits:
        transits[transit.service].append(transit)
    for rate in month.rates:
        rates[rate.service].append(rate)
    for service in month.services:
        rising = sorted(rates[service.code], key=lambda row: row.up_to)
        yield ServiceTerms(service=service, transits=tuple(transits[service.code]), rates=tuple(rising))
