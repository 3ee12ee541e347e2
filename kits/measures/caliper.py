"""Caliper: the thickness of one sheet, and how high sheets stack. Never derived from weight.

A caliper is an exact fraction of a length, because 0.0091 in is no whole number of 1/8 micrometre.
"""

from fractions import Fraction

from kits.measures.length import INCH, MM, Length
from kits.measures.number import MeasureError, UnreadableError, read_measure, shortest_text

MIL = Fraction(INCH, 1000)  # the same as a point of thickness
MICROMETRE = Fraction(MM, 1000)
THICKEST = 50 * MM

_SIZE_OF: dict[str, Fraction | int] = {
    **dict.fromkeys(("mil", "mils", "pt", "pts", "point", "points", "thou"), MIL),
    **dict.fromkeys(("in", "inch", "inches", '"', "''"), Fraction(INCH)),
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), Fraction(MM)),
    # casefold() turns the micro sign into the Greek letter
    **dict.fromkeys(("μm", "um", "micron", "microns", "micrometre", "micrometres"), MICROMETRE),
}


class CaliperError(MeasureError):
    """A text is not the thickness of a sheet."""

    what = "the thickness of a sheet"
    allowed = (
        "Write a thickness above zero, at most 50 mm, with its unit: "
        "9.1 mil, 10 pt, 0.0091 in, 0.23 mm or 230 µm"
    )


def parse_caliper(text: str) -> Fraction:
    """Read the thickness of a sheet as a fraction of a length; it needs its unit. Raises CaliperError."""
    try:
        caliper = read_measure(text, _SIZE_OF, None)
        _check(caliper)
    except UnreadableError as why:
        raise CaliperError(text, str(why)) from None
    return caliper


def _check(caliper: Fraction) -> None:
    if caliper == 0:
        raise UnreadableError("it is zero")
    if caliper > THICKEST:
        raise UnreadableError("it is more than 50 mm")


def format_caliper(caliper: Fraction) -> str:
    """Return a thickness exactly, in mil or mm, whichever is shorter; `parse_caliper` reads the same back."""
    if caliper <= 0:
        raise ValueError(f"a thickness must be above zero, but this is {caliper}")
    return shortest_text(caliper, {"mil": MIL, "mm": MM})


def stack_height(sheets: int, caliper: Fraction) -> Fraction:
    """Return the height of a stack as a fraction of a length: sheets x single-sheet caliper.

    A real stack holds air; where that matters, give the bulking thickness (ISO 534) measured on a pack.
    """
    return sheets * caliper


def sheets_in(height: Length, caliper: Fraction) -> int:
    """Return how many whole sheets stack no higher than `height`. Exact: 200 sheets of 7.5 mil are 1.5 in."""
    if caliper <= 0:
        raise ValueError(f"a thickness must be above zero, but this is {caliper}")
    return int(height // caliper)
