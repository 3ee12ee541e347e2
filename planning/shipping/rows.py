"""Carriers in rows: services, where their zones lie, how long they take, what they charge."""

from dataclasses import dataclass
from datetime import date, time
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from planning.calendar import Weekday
from planning.postage.volume import Rounding, Volume

__all__ = [
    "CrewDay",
    "DayOff",
    "DeliveryWeek",
    "OffFor",
    "Rate",
    "Rounding",
    "Service",
    "SurchargeRow",
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

    collects: weekdays on which it takes parcels away. cut_off: the time by which a parcel must be packed to go that day,
    None: by the end of work. max_weight in grams, exact, None without limit.
    divisor, volume, round_sides, volume_above, round_weight: the dimensional-weight rule; no divisor, no such rule.
    volume_above: only parcels of more than this many cm3 or in3 are charged by volume. sides_to, weight_to: steps that sides
    and volume weight are rounded to, in cm and kg or inches and pounds. charged_to: grams that what is charged is rounded up
    to, None as it is. max_longest, max_second, max_thickness: the most of the sides by their length; max_girth: of the
    longest and the girth together; min_longest, min_second: the least it takes. All lengths, None without limit.
    """

    code: str
    carrier: str
    name: str
    collects: tuple[Weekday, ...]
    cut_off: time | None = None
    max_weight: int | Fraction | None = None
    divisor: Decimal | None = None
    volume: Volume = Volume.CM3_PER_KG
    round_sides: Rounding = Rounding.NONE
    volume_above: Decimal = Decimal(0)
    round_weight: Rounding = Rounding.NONE
    sides_to: Decimal = Decimal(1)
    weight_to: Decimal = Decimal(1)
    charged_to: int | Fraction | None = None
    max_longest: int | None = None
    max_second: int | None = None
    max_thickness: int | None = None
    max_girth: int | None = None
    min_longest: int | None = None
    min_second: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """The zone a carrier counts a country to.

    prefix: only its postcodes that begin so, or with last: those that begin with what lies from one to the other.
    """

    carrier: str
    country: str
    zone: str
    prefix: str = ""
    last: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Transit:
    """Working days from collection to the door."""

    service: str
    zone: str
    days: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Rate:
    """Postage of one parcel up to and including a weight in grams: exact, as 2 lb are 907.18474 g.

    over: the weight above which it holds, None where the lighter band ends. valid_from, valid_to: days of collection on
    which it holds, both included; None is without end.
    """

    service: str
    zone: str
    up_to: int | Fraction
    price: Decimal
    over: int | Fraction | None = None
    valid_from: date | None = None
    valid_to: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SurchargeRow:
    """What a service adds to its postage: an amount, and percent of it, where all that is said here holds.

    on_all: the percentage is of postage and the surcharges in the rows before. zones: none named, all. over_...: more than
    this, in grams and lengths; over_girth: the longest side and the girth together.
    """

    service: str
    name: str
    amount: Decimal = Decimal(0)
    percent: Decimal = Decimal(0)
    on_all: bool = False
    zones: tuple[str, ...] = ()
    over_weight: int | Fraction | None = None
    over_longest: int | None = None
    over_second: int | None = None
    over_girth: int | None = None
    valid_from: date | None = None
    valid_to: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekdayCrew:
    """Packing minutes of the crew, or of some of it, on a weekday; none means the club is closed.

    who: whose, where not everyone works alike. starts, ends: their hours, which tell how much is packed by a cut-off; None,
    everything. overtime: minutes they may work after that, at a price. country: whose days off they keep, "" the club's.
    """

    weekday: Weekday
    minutes: int
    who: str = ""
    starts: time | None = None
    ends: time | None = None
    overtime: int = 0
    country: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DayOff:
    """A day on which the club, the carriers or everyone rests. country: where, "" everywhere."""

    day: date
    name: str
    who: OffFor = OffFor.EVERYONE
    country: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewDay:
    """Packing minutes of the whole crew on one date, and overtime there may be, instead of the weekday's."""

    day: date
    minutes: int
    reason: str = ""
    overtime: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class DeliveryWeek:
    """The weekdays on which parcels move and arrive in a country, where these are not Monday to Friday."""

    country: str
    weekdays: tuple[Weekday, ...]
