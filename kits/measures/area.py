"""Areas: whole numbers of (1/8 micrometre)², the product of two lengths."""

from fractions import Fraction
from typing import TypeAlias

from kits.measures.length import INCH, METRE

Area: TypeAlias = int


def square_metres(area: Area) -> Fraction:
    """Return an area in m²."""
    return Fraction(area, METRE**2)


def square_inches(area: Area) -> Fraction:
    """Return an area in in²."""
    return Fraction(area, INCH**2)
