"""Lengths: whole numbers of 1/8 micrometre, in which 1/64 in and 0.1 mm are both exact.

1 in = 25.4 mm = 203,200 of them.
"""

from enum import StrEnum
from fractions import Fraction
from typing import TypeAlias

from kits.measures.number import (
    MeasureError,
    UnreadableError,
    decimal_text,
    exact_text,
    mixed_text,
    read_measure,
)

Length: TypeAlias = int

MM = 8_000
CM = 10 * MM
METRE = 1_000 * MM
INCH = 203_200
FOOT = 12 * INCH
YARD = 3 * FOOT

LONGEST = 100_000 * METRE
FINEST_INCH_FRACTION = 64


class LengthUnit(StrEnum):
    """A unit of length; its value is how it is printed."""

    INCH = "in"
    FOOT = "ft"
    YARD = "yd"
    MM = "mm"
    CM = "cm"
    METRE = "m"

    @property
    def size(self) -> int:
        """One of this unit as a length."""
        return _SIZE[self]

    @property
    def is_metric(self) -> bool:
        """Whether people divide this unit by tens."""
        return self in (LengthUnit.MM, LengthUnit.CM, LengthUnit.METRE)


_SIZE = {
    LengthUnit.INCH: INCH,
    LengthUnit.FOOT: FOOT,
    LengthUnit.YARD: YARD,
    LengthUnit.MM: MM,
    LengthUnit.CM: CM,
    LengthUnit.METRE: METRE,
}
_SPELLED = {
    LengthUnit.INCH: ("in", "inch", "inches", '"', "''"),
    LengthUnit.FOOT: ("ft", "foot", "feet", "'"),
    LengthUnit.YARD: ("yd", "yds", "yard", "yards"),
    LengthUnit.MM: ("mm", "millimetre", "millimetres", "millimeter", "millimeters"),
    LengthUnit.CM: ("cm", "centimetre", "centimetres", "centimeter", "centimeters"),
    LengthUnit.METRE: ("m", "metre", "metres", "meter", "meters"),
}
_SIZE_OF = {word: unit.size for unit, words in _SPELLED.items() for word in words}


class LengthError(MeasureError):
    """A text is not a length."""

    what = "a length"
    allowed = (
        "Write a length above zero, at most 100 km, such as "
        "9 1/4 in, 9.25 in, 235 mm, 23.5 cm, 1.5 m, 2 yd or 1 ft 6 in"
    )


def parse_length(text: str, unit: LengthUnit | None = LengthUnit.INCH, *, zero: bool = False) -> Length:
    """Read a length; a number alone is in `unit`, or refused if that is None.

    `23,5 cm` is 23.5 cm. A comma before exactly three digits could be read both ways and is taken for
    thousands: `1,250 mm` is 1250 mm.

    Raises LengthError for anything else, for zero unless `zero`, for negatives, for more than 100 km, and for
    what is no whole number of 1/8 micrometre.
    """
    try:
        exact = read_measure(text, _SIZE_OF, unit.size if unit else None)
        return _checked(exact, zero=zero)
    except UnreadableError as why:
        raise LengthError(text, str(why)) from None


def _checked(exact: Fraction, *, zero: bool) -> Length:
    if exact > LONGEST:
        raise UnreadableError("it is more than 100 km")
    if exact == 0 and not zero:
        raise UnreadableError("it is zero")
    if exact.denominator != 1:
        around = (length for length in (int(exact), int(exact) + 1) if length)
        nearest = " or ".join(_millimetres(length) for length in around)
        raise UnreadableError(f"it is no whole number of 1/8 micrometre (nearest: {nearest})")
    return int(exact)


def format_exact(length: Length, unit: LengthUnit) -> str:
    """Return a length exactly, in `unit` where that can be done.

    Metric units, feet and yards print a decimal, inches a fraction down to 1/64 or else a decimal. Where the
    decimals do not end (1 mm = 5/127 in) the length is printed in inches, or if need be in mm.
    """
    if unit is not LengthUnit.INCH and (text := _decimal(length, unit)):
        return text
    return _inch_fraction(length) or _decimal(length, LengthUnit.INCH) or _millimetres(length)


def format_length(length: Length) -> str:
    """Return a length exactly and short, for files: in inches if a fraction down to 1/64, else in mm."""
    return _inch_fraction(length) or _millimetres(length)


def _inch_fraction(length: Length) -> str | None:
    inches = Fraction(length, INCH)
    is_fine = FINEST_INCH_FRACTION % inches.denominator == 0
    return f"{mixed_text(inches)} {LengthUnit.INCH}" if is_fine else None


def _decimal(length: Length, unit: LengthUnit) -> str | None:
    number = decimal_text(Fraction(length, unit.size))
    return f"{number} {unit}" if number else None


def _millimetres(length: Length) -> str:
    return f"{exact_text(Fraction(length, MM))} {LengthUnit.MM}"
