"""The postage step's question: the month's different parcels, on the days from which other rates hold."""

from collections import defaultdict
from collections.abc import Iterator
from datetime import date
from fractions import Fraction

from kits.measures import Currency
from planning.calendar import DAY
from planning.month import Month
from planning.packing import BoxSpec, PackingResult
from planning.postage import (
    Band,
    Limits,
    ParcelPostage,
    PostageProblem,
    PostageResult,
    PostParcel,
    RateTable,
    RoundTo,
    Tariff,
    VolumeRule,
)
from planning.roster import BoxClass, RosterResult
from planning.roster.model import Zones
from planning.shipping import Fare, Service

Posted = tuple[Fraction, tuple[int, int, int] | None]  # grams at the heaviest, and size


def postage_problem(month: Month, roster: RosterResult, packing: PackingResult) -> PostageProblem:
    """Ask what each different parcel costs, by every service."""
    different = dict.fromkeys(
        (one.zones, posted) for one in roster.classes for posted in parcels_of(packing.of(one.contents))
    )
    return PostageProblem(
        parcels=tuple(
            PostParcel(name=f"Parcel {number}", zones=zones, weight=weight, outside=outside, day=day)
            for number, (zones, (weight, outside)) in enumerate(different, 1)
            for day in days_of_rates(month)
        ),
        tariffs=tuple(tariffs(month)),
        exponent=Currency(month.club.currency).exponent,
    )


def parcels_of(spec: BoxSpec) -> Iterator[Posted]:
    """Yield what the carrier sees of a box."""
    yield spec.heaviest, spec.container.outside if spec.container else None


def days_of_rates(month: Month) -> list[date]:
    """Return the first day of packing, and every later one on which other rates begin to hold."""
    return [month.club.packing_starts]


def tariffs(month: Month) -> Iterator[Tariff]:
    """Yield each service with all it asks."""
    bands: defaultdict[str, list[Band]] = defaultdict(list)
    for row in month.rates:
        bands[row.service].append(Band(zone=row.zone, up_to=row.up_to, price=row.price))
    for one in month.services:
        yield Tariff(
            service=one.code,
            carrier=one.carrier,
            name=one.name,
            tables=(RateTable(bands=tuple(bands[one.code])),),
            volume=volume_rule(one),
            limits=Limits(weight=one.max_weight),
        )


def volume_rule(service: Service) -> VolumeRule | None:
    """Return how a service counts volumes as weight, None where it does not."""
    if service.divisor is None:
        return None
    return VolumeRule(
        divisor=service.divisor,
        volume=service.volume,
        sides=RoundTo(service.round_sides),
        above=service.volume_above,
        weight=RoundTo(service.round_weight),
    )


# --- From quotes to what a box costs ---


class Fares:
    """The quotes of the month's parcels, looked up for boxes."""

    def __init__(self, postage: PostageResult) -> None:
        self.answers: defaultdict[tuple[Zones, Posted], list[ParcelPostage]] = defaultdict(list)
        for one in postage.parcels:
            self.answers[one.parcel.zones, (one.parcel.weight, one.parcel.outside)].append(one)

    def of(self, box_class: BoxClass, spec: BoxSpec) -> tuple[Fare, ...]:
        """Return what each service asks for all parcels of a box, and when."""
        parcels = [self.answers[box_class.zones, posted] for posted in parcels_of(spec)]
        return tuple(fare for at in zip(*parcels, strict=True) for fare in fares_at(at, parcels[0]))

    def refusal(self, box_class: BoxClass, spec: BoxSpec) -> str:
        """Say why no service takes a box."""
        answers = [self.answers[box_class.zones, posted][0] for posted in parcels_of(spec)]
        reasons = dict.fromkeys(
            f"{no.service}: {why}" for one in answers for no in one.refused for why in no.reasons
        )
        return f"no service takes it: {'; '.join(reasons)}" if reasons else ""


def fares_at(at: tuple[ParcelPostage, ...], days: list[ParcelPostage]) -> Iterator[Fare]:
    """Yield the fares of the services that take every parcel of a box on one of the days of rates.

    at: its parcels on that day; days: one of them on all such days.
    """
    starts = [one.parcel.day for one in days]
    number = starts.index(at[0].parcel.day)
    quotes = [{quote.service: quote.total for quote in one.quotes} for one in at]
    for service in quotes[0]:
        prices = [each[service] for each in quotes if service in each]
        if len(prices) == len(at):
            yield Fare(
                service=service,
                price=sum(prices[1:], prices[0]),
                first=starts[number] if number else None,
                last=starts[number + 1] - DAY if number + 1 < len(starts) else None,
            )
