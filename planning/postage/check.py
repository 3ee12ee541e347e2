"""The checker of postage. It shares no code with the rule: weights, bands and sums are worked out anew."""

from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Decimal, localcontext
from fractions import Fraction
from math import ceil, floor

from planning.postage.model import PostageProblem, PostageResult, PostParcel, Quote, Surcharge, Tariff
from planning.postage.volume import Rounding, RoundTo, Volume

POUND, INCH, CM = Fraction(45359237, 100000), 203_200, 80_000


def postage_faults(problem: PostageProblem, result: PostageResult) -> tuple[str, ...]:
    """Return every quote that does not follow from the rows."""
    return tuple(all_faults(problem, result))


def all_faults(problem: PostageProblem, result: PostageResult) -> Iterator[str]:
    """Yield the faults parcel by parcel."""
    if tuple(one.parcel for one in result.parcels) != problem.parcels:
        yield "the parcels answered for are not the parcels asked for"
    tariffs = {tariff.service: tariff for tariff in problem.tariffs}
    for one in result.parcels:
        told = sorted([*(quote.service for quote in one.quotes), *(no.service for no in one.refused)])
        if told != sorted(tariffs):
            yield f"{one.parcel.name}: services answered are {told}"
        if [quote.total for quote in one.quotes] != sorted(quote.total for quote in one.quotes):
            yield f"{one.parcel.name}: the cheapest is not first"
        for quote in one.quotes:
            for fault in quote_faults(problem, one.parcel, tariffs[quote.service], quote):
                yield f"{one.parcel.name} by {quote.service}: {fault}"
        for no in one.refused:
            if not no.reasons or takes(one.parcel, tariffs[no.service]):
                yield f"{one.parcel.name} by {no.service}: refused without a reason"


def quote_faults(problem: PostageProblem, parcel: PostParcel, tariff: Tariff, quote: Quote) -> Iterator[str]:
    """Yield what is wrong with one quote."""
    if (tariff.carrier, quote.zone) not in parcel.zones:
        yield f"its zone is not {quote.zone}"
    if quote.charged != charged(parcel, tariff):
        yield f"it is not charged as {quote.charged} g"
    if quote.postage not in prices(parcel, tariff, quote.zone):
        yield f"no band in force asks {quote.postage}"
    if list(quote.surcharges) != surcharges(problem, parcel, tariff, quote):
        yield f"its surcharges are not {quote.surcharges}"
    if beyond(parcel, tariff):
        yield "the service does not take it"


def takes(parcel: PostParcel, tariff: Tariff) -> bool:
    """Tell whether a service has a zone and a price for a parcel, and no limit against it."""
    zones = [zone for carrier, zone in parcel.zones if carrier == tariff.carrier]
    return any(prices(parcel, tariff, zone) for zone in zones) and not beyond(parcel, tariff)


def charged(parcel: PostParcel, tariff: Tariff) -> Fraction:
    """Work the charged weight out in kilograms or pounds."""
    grams = parcel.weight
    rule = tariff.volume
    if rule is not None and parcel.outside is not None:
        unit, gram = (CM, Fraction(1000)) if rule.volume is Volume.CM3_PER_KG else (INCH, POUND)
        volume = Fraction(1)
        for side in parcel.outside:
            volume *= steps(Fraction(side) / unit, rule.sides)
        if volume > Fraction(rule.above):
            grams = max(grams, gram * steps(volume / Fraction(rule.divisor), rule.weight))
    return steps(grams, tariff.billed)


def steps(value: Fraction, to: RoundTo) -> Fraction:
    """Round by counting whole steps."""
    whole = floor(value / to.step)
    rest = value - whole * to.step
    if to.how is Rounding.NONE:
        return value
    if to.how is Rounding.UP:
        return ceil(value / to.step) * to.step
    return (whole + (to.how is Rounding.NEAREST and 2 * rest >= to.step)) * to.step


def prices(parcel: PostParcel, tariff: Tariff, zone: str) -> set[Decimal]:
    """Return what the tables in force ask for the weight; at most one price where tables have no faults."""
    found, grams = set(), charged(parcel, tariff)
    for table in tariff.tables:
        if (table.first and parcel.day < table.first) or (table.last and parcel.day > table.last):
            continue
        bands = [one for one in table.bands if one.zone == zone and one.up_to >= grams]
        lightest = min((one.up_to for one in bands), default=None)
        for one in bands:
            if one.up_to == lightest if one.over is None else one.over < grams or one.over == grams == 0:
                found.add(one.price)
    return found


def surcharges(
    problem: PostageProblem, parcel: PostParcel, tariff: Tariff, quote: Quote
) -> list[tuple[str, Decimal]]:
    """Add the surcharges up again."""
    added: list[tuple[str, Decimal]] = []
    coin = Decimal(1).scaleb(-problem.exponent)
    for one in tariff.surcharges:
        if not wanted(one, parcel, quote.zone):
            continue
        with localcontext() as context:
            context.prec = 60
            base = quote.postage + (sum((amount for _, amount in added), Decimal(0)) if one.on_all else 0)
            added.append((one.name, (one.amount + base * one.percent / 100).quantize(coin, ROUND_HALF_UP)))
    return added


def wanted(one: Surcharge, parcel: PostParcel, zone: str) -> bool:
    """Tell whether no condition speaks against a surcharge."""
    sides = sorted(parcel.outside) if parcel.outside else None
    over = (
        (one.over_weight, parcel.weight),
        (one.over_longest, sides[2] if sides else 0),
        (one.over_second, sides[1] if sides else 0),
        (one.over_length_and_girth, sides[2] + 2 * sides[0] + 2 * sides[1] if sides else 0),
    )
    against = [limit is not None and has <= limit for limit, has in over]
    against.append(bool(one.zones) and zone not in one.zones)
    against.append(one.first is not None and parcel.day < one.first)
    against.append(one.last is not None and parcel.day > one.last)
    return not any(against)


def beyond(parcel: PostParcel, tariff: Tariff) -> bool:
    """Tell whether a parcel is beyond any limit."""
    limits = tariff.limits
    if limits.weight is not None and parcel.weight > limits.weight:
        return True
    if parcel.outside is None:
        return False
    small, middle, long = sorted(parcel.outside)
    most = (
        (small, limits.shortest),
        (middle, limits.second),
        (long, limits.longest),
        (long + 2 * small + 2 * middle, limits.length_and_girth),
    )
    too_small = limits.least is not None and any(
        a < b for a, b in zip((small, middle, long), sorted(limits.least), strict=True)
    )
    return too_small or any(limit is not None and has > limit for has, limit in most)
