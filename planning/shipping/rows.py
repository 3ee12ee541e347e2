"""Carriers in rows: services, where their zones lie, how long they take, what they charge."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from planning.calendar import Weekday
from planning.postage.volume import Rounding, Volume

__all__ = [
    "CrewDay",
    "DayOff",
    "OffFor",
    "Rate",
    "Rounding",
    "Service",
    "Transit",
    "Volume",
    "WeekdayCrew",
    "Zone",
]


class OffFor(StrEnum):
    """Whom a day off stops."""

    EVERYONE = "everyone"
    CLUB = "club"
    CARRIERS = "carriers"


@dataclass(frozen=True, slots=True, kw_only=True)
class Service:
    """One service of a carrier.

    collects: weekdays on which it takes parcels away. max_weight in grams, exact, None without limit.
    divisor, volume, round_sides, volume_above, round_weight: the dimensional-weight rule; no divisor, no such rule.
    volume_above: only parcels of more than this many cm3 or in3 are charged by volume.
    """

    code: str
    carrier: str
    name: str
    collects: tuple[Weekday, ...]
    max_weight: int | Fraction | None = None
    divisor: Decimal | None = None
    volume: Volume = Volume.CM3_PER_KG
    round_sides: Rounding = Rounding.NONE
    volume_above: Decimal = Decimal(0)
    round_weight: Rounding = Rounding.NONE


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """The zone a carrier counts a country to."""

    carrier: str
    country: str
    zone: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Transit:
    """Working days from collection to the door."""

    service: str
    zone: str
    days: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Rate:
    """Postage of one parcel up to and including a weight in grams: exact, as 2 lb are 907.18474 g."""

    service: str
    zone: str
    up_to: int | Fraction
    price: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekdayCrew:
    """Packing minutes the crew has on a weekday; none means the club is closed."""

    weekday: Weekday
    minutes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class DayOff:
    """A day on which the club, the carriers or everyone rests."""

    day: date
    name: str
    who: OffFor = OffFor.EVERYONE


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewDay:
    """Packing minutes on one date, instead of the weekday's."""

    day: date
    minutes: int
    reason: str = ""
