"""What a carrier charges a parcel as: its weight, or its volume counted as weight."""

from collections.abc import Sequence
from fractions import Fraction
from math import ceil, floor, prod

from kits.measures import CM, INCH
from planning.shipping.rows import Rounding, Service, Volume

GRAMS = {Volume.CM3_PER_KG: Fraction(1000), Volume.IN3_PER_LB: Fraction(45359237, 100000)}
SIDE = {Volume.CM3_PER_KG: CM, Volume.IN3_PER_LB: INCH}


def charged_weight(service: Service, grams: Fraction, outside: Sequence[int] | None) -> Fraction:
    """Return the grams a parcel is charged as: the larger of its weight and its dimensional weight."""
    if service.divisor is None or outside is None:
        return grams
    return max(grams, dimensional_weight(service, outside))


def dimensional_weight(service: Service, outside: Sequence[int]) -> Fraction:
    """Return the grams a volume counts as (0 where the service has no such rule, or at or below its threshold).

    Divisor, rounding of the sides, threshold and rounding of the weight are all the carrier's own and change over
    the years: settings, never constants here. outside: three lengths.
    """
    if service.divisor is None:
        return Fraction(0)
    volume = prod(rounded(Fraction(side, SIDE[service.volume]), service.round_sides) for side in outside)
    if volume <= Fraction(service.volume_above):
        return Fraction(0)
    units = rounded(Fraction(volume) / Fraction(service.divisor), service.round_weight)
    return units * GRAMS[service.volume]


def rounded(value: Fraction, how: Rounding) -> Fraction:
    """Round to a whole unit the way the carrier does; a half goes up."""
    if how is Rounding.UP:
        return Fraction(ceil(value))
    if how is Rounding.NEAREST:
        return Fraction(floor(value + Fraction(1, 2)))
    return Fraction(floor(value)) if how is Rounding.DOWN else value


def girth(outside: Sequence[int]) -> int:
    """Return the length around a parcel, across its longest side: twice the sum of the two shorter sides."""
    return 2 * sum(sorted(outside)[:2])
