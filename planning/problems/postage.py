"""The postage step's question: the month's different parcels, on the days from which other rates hold."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
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
    Quote,
    RateTable,
    Rounding,
    RoundTo,
    Surcharge,
    Tariff,
    VolumeRule,
    in_force,
)
from planning.postage.dated import Period, periods, turns
from planning.postage.model import Sides
from planning.postage.volume import AS_MEASURED
from planning.roster import BoxClass, RosterResult
from planning.roster.model import Zones
from planning.shipping import Fare, Rate, Service, SurchargeRow

Posted = tuple[Fraction, Sides | None]  # grams at the heaviest, and size


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


def parcels_of(spec: BoxSpec) -> list[Posted]:
    """Return what the carrier sees of a box's parcels."""
    return [(one.heaviest, one.outside) for one in spec.parcels]


def days_of_rates(month: Month) -> list[date]:
    """Return the first day of packing, and every later one on which other rates or surcharges begin to hold."""
    first = month.club.packing_starts
    spans = [*spans_of_rates(month).values(), *((row.valid_from, row.valid_to) for row in month.surcharges)]
    return [first, *(day for day in turns(spans) if day > first)]


def spans_of_rates(month: Month) -> dict[Rate, Period]:
    """Return from when to when each rate holds: one without a last day until other rates to its zone begin."""
    places: defaultdict[tuple[str, str], list[Rate]] = defaultdict(list)
    for row in month.rates:
        places[row.service, row.zone].append(row)
    spans: dict[Rate, Period] = {}
    for rows in places.values():
        ends = dict(periods(rows))
        spans |= {row: (row.valid_from, row.valid_to or ends[row.valid_from]) for row in rows}
    return spans


def tariffs(month: Month) -> Iterator[Tariff]:
    """Yield each service with all it asks."""
    spans = spans_of_rates(month)
    for one in month.services:
        yield Tariff(
            service=one.code,
            carrier=one.carrier,
            name=one.name,
            tables=tuple(tables({row: span for row, span in spans.items() if row.service == one.code})),
            volume=volume_rule(one),
            billed=AS_MEASURED if one.charged_to is None else RoundTo(Rounding.UP, Fraction(one.charged_to)),
            surcharges=tuple(surcharge(row) for row in month.surcharges if row.service == one.code),
            limits=limits(one),
        )


def tables(spans: Mapping[Rate, Period]) -> Iterator[RateTable]:
    """Yield the rates of one service as tables that hold one after the other, each as long as nothing in it changes."""
    starts = [None, *turns(spans.values())]
    for first, after in zip(starts, [*starts[1:], None], strict=True):
        bands = [
            Band(zone=row.zone, up_to=row.up_to, price=row.price, over=row.over)
            for row, span in spans.items()
            if in_force(first or date.min, *span)
        ]
        if bands:
            yield RateTable(bands=tuple(bands), first=first, last=after - DAY if after else None)


def surcharge(row: SurchargeRow) -> Surcharge:
    """Return a surcharge as postage reads it."""
    return Surcharge(
        name=row.name,
        amount=row.amount,
        percent=row.percent,
        on_all=row.on_all,
        zones=row.zones,
        over_weight=row.over_weight,
        over_longest=row.over_longest,
        over_second=row.over_second,
        over_length_and_girth=row.over_girth,
        first=row.valid_from,
        last=row.valid_to,
    )


def limits(one: Service) -> Limits:
    """Return what a service takes at most, and at least."""
    least = None
    if one.min_longest is not None or one.min_second is not None:
        least = (one.min_longest or one.min_second or 1, one.min_second or 1, 1)
    return Limits(
        weight=one.max_weight,
        longest=one.max_longest,
        second=one.max_second,
        shortest=one.max_thickness,
        length_and_girth=one.max_girth,
        least=least,
    )


def volume_rule(service: Service) -> VolumeRule | None:
    """Return how a service counts volumes as weight, None where it does not."""
    if service.divisor is None:
        return None
    return VolumeRule(
        divisor=service.divisor,
        volume=service.volume,
        sides=RoundTo(service.round_sides, Fraction(service.sides_to)),
        above=service.volume_above,
        weight=RoundTo(service.round_weight, Fraction(service.weight_to)),
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

    def quotes(
        self, box_class: BoxClass, spec: BoxSpec, service: str, day: date
    ) -> list[tuple[ParcelPostage, Quote]]:
        """Return what a service asks for each parcel of a box that is collected on a day."""
        found = []
        for posted in parcels_of(spec):
            at = [one for one in self.answers[box_class.zones, posted] if one.parcel.day <= day]
            answer = at[-1] if at else self.answers[box_class.zones, posted][0]
            found += [(answer, quote) for quote in answer.quotes if quote.service == service]
        return found

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
