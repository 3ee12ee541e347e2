"""The question and the answer of postage: parcels, what services ask, what each parcel costs by each."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from planning.postage.errors import PostageError
from planning.postage.volume import AS_MEASURED, RoundTo, VolumeRule

Sides = tuple[int, int, int]
Zones = tuple[tuple[str, str], ...]  # (carrier, zone) pairs


def in_force(day: date, first: date | None, last: date | None) -> bool:
    """Tell whether something holds on a day: both dates are included, none is without end."""
    return (first is None or first <= day) and (last is None or day <= last)


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """Postage of one parcel to a zone, above `over` grams up to and including `up_to`.

    over: None begins where the lighter band ends. Exact, as 2 lb are 907.18474 g.
    """

    zone: str
    up_to: int | Fraction
    price: Decimal
    over: int | Fraction | None = None

    def __post_init__(self) -> None:
        if self.up_to <= (self.over or 0):
            raise PostageError(
                f"zone {self.zone}: no weight is above {self.over or 0} g and up to {self.up_to} g"
            )
        if self.price < 0:
            raise PostageError(f"zone {self.zone} up to {self.up_to} g: postage cannot be {self.price}")


@dataclass(frozen=True, slots=True, kw_only=True)
class RateTable:
    """The bands of a service from one day to another, both included; None is without end."""

    bands: tuple[Band, ...]
    first: date | None = None
    last: date | None = None

    def __post_init__(self) -> None:
        if self.first and self.last and self.first > self.last:
            raise PostageError(f"a rate table cannot hold from {self.first} to {self.last}: swap the dates")


@dataclass(frozen=True, slots=True, kw_only=True)
class Surcharge:
    """What a service adds: an amount, and percent of the postage.

    It is asked where everything said holds; what is not said does not matter. over_...: more than this much, in grams and
    lengths. on_all: the percentage is of postage and the surcharges in the rows before.
    """

    name: str
    amount: Decimal = Decimal(0)
    percent: Decimal = Decimal(0)
    on_all: bool = False
    zones: tuple[str, ...] = ()
    over_weight: int | Fraction | None = None
    over_longest: int | None = None
    over_second: int | None = None
    over_length_and_girth: int | None = None
    first: date | None = None
    last: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What a service takes at most: grams and lengths, None without limit.

    longest, second, shortest: sides by their length. least: the smallest size it takes, any way round.
    """

    weight: int | Fraction | None = None
    longest: int | None = None
    second: int | None = None
    shortest: int | None = None
    length_and_girth: int | None = None
    least: Sides | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tariff:
    """A service of a carrier, and all it asks.

    billed: rounding in grams of the larger of weight and volume weight, before the band is looked up.
    """

    service: str
    carrier: str
    name: str
    tables: tuple[RateTable, ...]
    volume: VolumeRule | None = None
    billed: RoundTo = AS_MEASURED
    surcharges: tuple[Surcharge, ...] = ()
    limits: Limits = Limits()


@dataclass(frozen=True, slots=True, kw_only=True)
class PostParcel:
    """A parcel to be posted on a day.

    zones: where each carrier counts its destination to. weight: grams, the heaviest it may be. outside: None where no size
    is known.
    """

    name: str
    zones: Zones
    weight: Fraction
    day: date
    outside: Sides | None = None

    def __post_init__(self) -> None:
        if self.weight < 0 or any(side <= 0 for side in self.outside or ()):
            raise PostageError(f"{self.name}: weight and sides of a parcel are above zero")


@dataclass(frozen=True, slots=True, kw_only=True)
class PostageProblem:
    """Parcels and services. exponent: decimals of the money's smallest unit."""

    parcels: tuple[PostParcel, ...]
    tariffs: tuple[Tariff, ...]
    exponent: int = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Quote:
    """What a service asks for a parcel.

    charged: grams looked up in the bands. counted: grams that the volume counts as, 0 where it does not. up_to: grams to
    which its band goes. surcharges: names and amounts in the order of the rows. notes: what was not looked at.
    """

    service: str
    zone: str
    charged: Fraction
    counted: Fraction
    up_to: int | Fraction
    postage: Decimal
    surcharges: tuple[tuple[str, Decimal], ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def total(self) -> Decimal:
        """Postage and surcharges."""
        return sum((amount for _, amount in self.surcharges), self.postage)


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused:
    """A service that does not take a parcel, and every reason."""

    service: str
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ParcelPostage:
    """One parcel by every service: quotes from the cheapest on, and who does not take it."""

    parcel: PostParcel
    quotes: tuple[Quote, ...]
    refused: tuple[Refused, ...]

    @property
    def cheapest(self) -> Quote | None:
        """The least postage, None where no service takes it."""
        return self.quotes[0] if self.quotes else None


@dataclass(frozen=True, slots=True, kw_only=True)
class PostageResult:
    """Every parcel's postage, and what is wrong with the tables themselves, in words."""

    parcels: tuple[ParcelPostage, ...]
    faults: tuple[str, ...]

    def unposted(self) -> Iterator[str]:
        """Yield every parcel that no service takes, with the reasons."""
        for one in self.parcels:
            if not one.quotes:
                reasons: Sequence[str] = [f"{no.service}: {why}" for no in one.refused for why in no.reasons]
                yield f"{one.parcel.name}: {'; '.join(reasons) or 'there is no service'}"
