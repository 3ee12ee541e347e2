"""What a parcel's size makes of it: its girth, and its volume counted as weight.

Divisor, rounding of the sides, threshold and rounding of the weight are all the carrier's own and change over the
years: settings, never constants here.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from math import ceil, floor, prod

from kits.measures import CM, INCH, WeightUnit
from planning.postage.errors import PostageError


class Rounding(StrEnum):
    """How a carrier rounds a measure before it charges."""

    NONE = "as measured"
    UP = "up"
    NEAREST = "nearest"
    DOWN = "down"


class Volume(StrEnum):
    """The units of a volume divisor."""

    CM3_PER_KG = "cm3 per kg"
    IN3_PER_LB = "in3 per lb"


GRAMS = {Volume.CM3_PER_KG: WeightUnit.KILOGRAM.grams, Volume.IN3_PER_LB: WeightUnit.POUND.grams}
SIDE = {Volume.CM3_PER_KG: CM, Volume.IN3_PER_LB: INCH}


@dataclass(frozen=True, slots=True)
class RoundTo:
    """Rounding to whole steps, such as up to 1/2 kg; a half step goes up by NEAREST."""

    how: Rounding = Rounding.NONE
    step: Fraction = Fraction(1)

    def __post_init__(self) -> None:
        if self.step <= 0:
            raise PostageError(
                f"a measure cannot be rounded to steps of {self.step}: write a step above zero"
            )

    def __call__(self, value: Fraction) -> Fraction:
        """Return the value in whole steps."""
        return rounded(value / self.step, self.how) * self.step


AS_MEASURED = RoundTo()


def rounded(value: Fraction, how: Rounding) -> Fraction:
    """Round to a whole unit the way the carrier does; a half goes up."""
    if how is Rounding.UP:
        return Fraction(ceil(value))
    if how is Rounding.NEAREST:
        return Fraction(floor(value + Fraction(1, 2)))
    return Fraction(floor(value)) if how is Rounding.DOWN else value


@dataclass(frozen=True, slots=True, kw_only=True)
class VolumeRule:
    """How a carrier counts a volume as weight.

    sides, weight: rounding in the units of `volume` (cm and kg, or inches and pounds). above: only volumes of more cm3 or
    in3 than this count.
    """

    divisor: Decimal
    volume: Volume = Volume.CM3_PER_KG
    sides: RoundTo = AS_MEASURED
    above: Decimal = Decimal(0)
    weight: RoundTo = AS_MEASURED

    def __post_init__(self) -> None:
        if self.divisor <= 0:
            raise PostageError(f"a volume cannot be divided by {self.divisor}: write a divisor above zero")
        if self.above < 0:
            raise PostageError(f"no volume is below zero, so none can be the threshold: {self.above}")


def counted_volume(rule: VolumeRule, outside: Sequence[int]) -> Fraction:
    """Return a volume in cm3 or in3, the sides rounded first. outside: three lengths."""
    return prod((rule.sides(Fraction(side, SIDE[rule.volume])) for side in outside), start=Fraction(1))


def volume_weight(rule: VolumeRule, outside: Sequence[int]) -> Fraction:
    """Return the grams a volume counts as; 0 at or below the rule's threshold."""
    volume = counted_volume(rule, outside)
    if volume <= Fraction(rule.above):
        return Fraction(0)
    return rule.weight(volume / Fraction(rule.divisor)) * GRAMS[rule.volume]


def girth(outside: Sequence[int]) -> int:
    """Return the length around a parcel, across its longest side: twice the sum of the two shorter sides."""
    return 2 * sum(sorted(outside)[:2])


def length_and_girth(outside: Sequence[int]) -> int:
    """Return the longest side and the girth together, by which carriers limit parcels."""
    return max(outside) + girth(outside)
