"""The rule of postage: zone, charged weight, band, surcharges; and every reason where a service does not take a parcel."""

from collections import Counter
from collections.abc import Iterator, Sequence
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

from kits.measures import round_money
from planning.postage.errors import NoZoneError, PostageError
from planning.postage.limits import limit_faults, size_matters
from planning.postage.model import (
    ParcelPostage,
    PostageProblem,
    PostageResult,
    PostParcel,
    Quote,
    Refused,
    Surcharge,
    Tariff,
    in_force,
)
from planning.postage.tables import band_of, table_on, tariff_faults
from planning.postage.volume import length_and_girth, volume_weight


@lru_cache(maxsize=8)  # other counts of the same parcels, as a cost curve asks for them, cost the same each
def plan_postage(problem: PostageProblem) -> PostageResult:
    """Price every parcel by every service."""
    faults = (
        *(f"two services have the code {code}: rename one" for code in twice(problem.tariffs)),
        *(one for tariff in problem.tariffs for one in tariff_faults(tariff)),
    )
    return PostageResult(parcels=tuple(by_all(parcel, problem) for parcel in problem.parcels), faults=faults)


def twice(tariffs: Sequence[Tariff]) -> list[str]:
    """Return the codes that more than one service has."""
    return sorted(code for code, times in Counter(one.service for one in tariffs).items() if times > 1)


def by_all(parcel: PostParcel, problem: PostageProblem) -> ParcelPostage:
    """Price one parcel by every service, the cheapest first."""
    answers = [by_one(parcel, tariff, problem.exponent) for tariff in problem.tariffs]
    quotes = sorted(
        (one for one in answers if isinstance(one, Quote)), key=lambda one: (one.total, one.service)
    )
    return ParcelPostage(
        parcel=parcel,
        quotes=tuple(quotes),
        refused=tuple(one for one in answers if isinstance(one, Refused)),
    )


def by_one(parcel: PostParcel, tariff: Tariff, exponent: int = 2) -> Quote | Refused:
    """Price one parcel by one service, or say all that stands against it."""
    reasons = list(limit_faults(parcel, tariff.limits))
    try:
        quote = priced(parcel, tariff, zone_of(parcel, tariff), exponent)
    except PostageError as why:
        return Refused(service=tariff.service, reasons=(*reasons, str(why)))
    return Refused(service=tariff.service, reasons=tuple(reasons)) if reasons else quote


def zone_of(parcel: PostParcel, tariff: Tariff) -> str:
    """Return the zone of a service's carrier that a parcel goes to. Raises NoZoneError."""
    zone = dict(parcel.zones).get(tariff.carrier)
    if zone is None:
        raise NoZoneError(f"{tariff.carrier} has no zone for it: add one if {tariff.name} goes there")
    return zone


def priced(parcel: PostParcel, tariff: Tariff, zone: str, exponent: int) -> Quote:
    """Price one parcel to a zone. Raises NoRateError."""
    counted = Fraction(0)
    if tariff.volume is not None and parcel.outside is not None:
        counted = volume_weight(tariff.volume, parcel.outside)
    charged = tariff.billed(max(parcel.weight, counted))
    band = band_of(tariff, table_on(tariff, parcel.day), zone, charged)
    return Quote(
        service=tariff.service,
        zone=zone,
        charged=charged,
        counted=counted,
        up_to=band.up_to,
        postage=band.price,
        surcharges=tuple(added(parcel, tariff, zone, band.price, exponent)),
        notes=tuple(unseen(parcel, tariff)),
    )


def added(
    parcel: PostParcel, tariff: Tariff, zone: str, postage: Decimal, exponent: int
) -> Iterator[tuple[str, Decimal]]:
    """Yield the surcharges that a parcel pays, each rounded to the smallest coin."""
    running = postage
    for one in tariff.surcharges:
        if applies(one, parcel, zone):
            share = Fraction(running if one.on_all else postage) * Fraction(one.percent) / 100
            amount = round_money(Fraction(one.amount) + share, exponent)
            running += amount
            yield one.name, amount


def applies(one: Surcharge, parcel: PostParcel, zone: str) -> bool:
    """Tell whether everything that a surcharge says holds for a parcel."""
    if one.zones and zone not in one.zones:
        return False
    if not in_force(parcel.day, one.first, one.last):
        return False
    return (one.over_weight is None or parcel.weight > one.over_weight) and is_over_size(one, parcel)


def is_over_size(one: Surcharge, parcel: PostParcel) -> bool:
    """Tell whether a parcel is larger than a surcharge says; a size that is not known is not."""
    wanted = (one.over_longest, one.over_second, one.over_length_and_girth)
    if all(over is None for over in wanted):
        return True
    if parcel.outside is None:
        return False
    _, second, longest = sorted(parcel.outside)
    has = longest, second, length_and_girth(parcel.outside)
    return all(over is None or size > over for size, over in zip(has, wanted, strict=True))


def unseen(parcel: PostParcel, tariff: Tariff) -> Iterator[str]:
    """Yield what a quote leaves out because the parcel's size is not known."""
    asks = tariff.volume is not None or size_matters(tariff.limits)
    if parcel.outside is None and (asks or any(has_size(one) for one in tariff.surcharges)):
        yield "its size is not known, so what this service asks and refuses by size is left out"


def has_size(one: Surcharge) -> bool:
    """Tell whether a surcharge asks for a size."""
    return (one.over_longest, one.over_second, one.over_length_and_girth) != (None, None, None)
