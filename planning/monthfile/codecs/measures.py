"""Cells that hold measures, as text with their unit."""

from dataclasses import dataclass
from fractions import Fraction
from typing import ClassVar

from kits.measures import (
    CM,
    FOOT,
    INCH,
    METRE,
    MM,
    YARD,
    CaliperError,
    Grammage,
    LengthError,
    MeasureError,
    WeightError,
    WeightUnit,
    format_caliper,
    format_exact,
    format_weight,
    parse_caliper,
    parse_grammage,
    parse_length,
    parse_weight,
)
from kits.measures.number import UnreadableError, read_measure, shortest_text
from planning.monthfile.codecs.codec import Cell, Codec, Habits, measure_error, text_of
from planning.monthfile.xlsx import Value

THICK_UNITS: dict[str, Fraction | int] = {"mil": Fraction(INCH, 1000), "in": INCH, "mm": MM, "cm": CM}
LONG_UNITS = {"m": METRE, "yd": YARD, "ft": FOOT, "in": INCH, "mm": MM}


@dataclass(frozen=True)
class Length(Codec[int]):
    """A length; a number alone is in the club's unit."""

    width: ClassVar[int] = 13
    is_number: ClassVar[bool] = True
    zero: bool = False

    def read(self, value: Value, habits: Habits) -> int:
        """Return the length."""
        try:
            return parse_length(text_of(value), habits.unit, zero=self.zero)
        except LengthError as error:
            raise measure_error(error) from None

    def write(self, field: int, habits: Habits) -> Cell:
        """Return the length in the club's unit if it is exact in that."""
        return format_exact(field, habits.unit)


class RollLength(Codec[int]):
    """The length of a roll. It needs its unit: rolls come in yards, feet and metres, and 10 of each is likely."""

    width: ClassVar[int] = 13
    is_number: ClassVar[bool] = True

    def read(self, value: Value, habits: Habits) -> int:
        """Return the length."""
        try:
            return parse_length(text_of(value), None)
        except LengthError as error:
            raise measure_error(error) from None

    def write(self, field: int, habits: Habits) -> Cell:
        """Return the length in the unit in which it is shortest."""
        return shortest_text(Fraction(field), LONG_UNITS)


class Thickness(Codec[Fraction]):
    """The thickness of a sheet, or of a thing in the stack; it needs its unit."""

    is_number: ClassVar[bool] = True

    def read(self, value: Value, habits: Habits) -> Fraction:
        """Return the thickness as a fraction of a length."""
        text = text_of(value)
        try:
            return parse_caliper(text)
        except CaliperError as error:
            return thicker_than_paper(text, error)

    def write(self, field: Fraction, habits: Habits) -> Cell:
        """Return the thickness in mil or mm, whichever is shorter."""
        return format_caliper(field)


def thicker_than_paper(text: str, error: CaliperError) -> Fraction:
    """Return the thickness of a carton or another thing of more than 50 mm."""
    try:
        return read_measure(text, THICK_UNITS, None)
    except UnreadableError:
        raise measure_error(error) from None


class PaperWeight(Codec[Grammage]):
    """The weight of a paper as its maker states it; a number alone is in g/m²."""

    is_number: ClassVar[bool] = True

    def read(self, value: Value, habits: Habits) -> Grammage:
        """Return the paper weight."""
        try:
            return parse_grammage(text_of(value))
        except MeasureError as error:
            raise measure_error(error) from None

    def write(self, field: Grammage, habits: Habits) -> Cell:
        """Return the paper weight as it was stated."""
        return str(field)


class Weight(Codec[Fraction]):
    """The weight of a thing; a number alone is in grams."""

    is_number: ClassVar[bool] = True

    def read(self, value: Value, habits: Habits) -> Fraction:
        """Return the weight in grams."""
        return read_weight(value, zero=True)

    def write(self, field: Fraction, habits: Habits) -> Cell:
        """Return the weight in the unit in which it is shortest."""
        return format_weight(field)


class WeightLimit(Codec[int | Fraction]):
    """A weight up to which something holds; a number alone is in grams."""

    shown_as: ClassVar[str] = "#,##0"
    is_number: ClassVar[bool] = True

    def read(self, value: Value, habits: Habits) -> int | Fraction:
        """Return the weight in grams, an int if it is whole."""
        grams = read_weight(value, zero=False)
        return int(grams) if grams.denominator == 1 else grams

    def write(self, field: int | Fraction, habits: Habits) -> Cell:
        """Return whole grams as a number, and other weights with their unit."""
        return int(field) if Fraction(field).denominator == 1 else format_weight(Fraction(field))


def read_weight(value: Value, *, zero: bool) -> Fraction:
    """Return the grams a cell stands for."""
    try:
        return parse_weight(text_of(value), WeightUnit.GRAM, zero=zero)
    except WeightError as error:
        raise measure_error(error) from None
