"""Published dimensional weights, by rules with the carriers' divisors and roundings."""

from decimal import Decimal
from fractions import Fraction

import pytest

from kits.measures import CM, INCH
from planning.postage import Rounding, RoundTo, Volume, VolumeRule, volume_weight

POUND = Fraction(45359237, 100000)


def rule(
    divisor: int,
    volume: Volume = Volume.IN3_PER_LB,
    sides: Rounding = Rounding.NONE,
    weight: Rounding = Rounding.UP,
    above: int = 0,
) -> VolumeRule:
    return VolumeRule(
        divisor=Decimal(divisor),
        volume=volume,
        sides=RoundTo(sides),
        above=Decimal(above),
        weight=RoundTo(weight),
    )


def inches(*sides: str) -> tuple[int, ...]:
    return tuple(int(Fraction(side) * INCH) for side in sides)


@pytest.mark.parametrize(
    ("sides", "terms", "pounds"),
    [
        # sides as printed at doneinbrowser; rule of the large private US carriers since August 2025, recomputed
        (("11.1", "8.5", "6.2"), rule(139, sides=Rounding.UP), 6),
        (("11.1", "8.5", "6.2"), rule(139, sides=Rounding.NEAREST), 5),
        # the US Domestic Mail Manual's example as quoted in an eBay community thread, 34926620
        (("20.75", "20.25", "20"), rule(166, sides=Rounding.NEAREST, above=1728), 51),
        (("20.75", "20.25", "20"), rule(166, sides=Rounding.UP, above=1728), 54),
        (("20", "15", "10"), rule(139), 22),  # pallently.pages.dev
        (("12", "12", "14"), rule(194), 11),  # windycityparrot.com
        (("12", "12", "14"), rule(166), 13),
        (("12", "12", "14"), rule(139), 15),
        (("12", "12", "12"), rule(166, above=1728), 0),  # clevercalculator: at the threshold, none
        (("12", "12", "12"), rule(139), 13),
    ],
)
def test_published_dimensional_weights_in_pounds(
    sides: tuple[str, ...], terms: VolumeRule, pounds: int
) -> None:
    assert volume_weight(terms, inches(*sides)) == pounds * POUND


@pytest.mark.parametrize(
    ("sides", "kilograms"),
    [
        ((30, 45, 65), 15),
        ((40, 40, 40), 11),
    ],  # pengellys.co.nz (14.625 kg); cbr-express.com (10.67 kg), divisor 6000
)
def test_published_dimensional_weights_in_kilograms(sides: tuple[int, ...], kilograms: int) -> None:
    terms = rule(6000, volume=Volume.CM3_PER_KG)
    assert volume_weight(terms, [side * CM for side in sides]) == kilograms * 1000


def test_sides_may_be_rounded_down() -> None:
    terms = rule(1, sides=Rounding.DOWN, weight=Rounding.NONE)
    assert volume_weight(terms, inches("6.9", "5.2", "1")) == 30 * POUND
