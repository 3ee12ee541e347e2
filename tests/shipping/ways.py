"""Services with what they ask for a box, for tests of schedules."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import NamedTuple

from planning.calendar import Weekday
from planning.shipping import Fare, Parcel, Service, ServiceTerms, Transit

OFFICE = (Weekday.MON, Weekday.TUE, Weekday.WED, Weekday.THU, Weekday.FRI)


class Way(NamedTuple):
    """A service of the carrier Post, and what it asks for a box of any class."""

    terms: ServiceTerms
    fares: tuple[Fare, ...]


def way(
    code: str, price: str, days: int, zones: Sequence[str] = ("Home",), collects: Sequence[Weekday] = OFFICE
) -> Way:
    """Return a service at one price to all its zones."""
    terms = ServiceTerms(
        service=Service(code=code, carrier="Post", name=code.title(), collects=tuple(collects)),
        transits=tuple(Transit(service=code, zone=zone, days=days) for zone in zones),
    )
    return Way(terms, (Fare(service=code, price=Decimal(price)),))


def dearer_until(one: Way, day: date, price: str) -> Way:
    """Return a service that asks another price before a day."""
    code = one.terms.service.code
    before = Fare(service=code, price=Decimal(price), last=date.fromordinal(day.toordinal() - 1))
    return one._replace(fares=(before, *(replace(fare, first=day) for fare in one.fares)))


def priced(parcels: Iterable[Parcel], ways: Iterable[Way]) -> tuple[Parcel, ...]:
    """Return parcels with the fares of all services."""
    fares = tuple(fare for one in ways for fare in one.fares)
    return tuple(replace(one, fares=fares) for one in parcels)
