"""Weights: exact fractions of a gram."""

from enum import StrEnum
from fractions import Fraction

from kits.measures.number import MeasureError, UnreadableError, read_measure, shortest_text

# The avoirdupois pound, exact by the international yard and pound agreement of 1959 (from memory).
GRAMS_PER_POUND = Fraction("453.59237")
OUNCES_PER_POUND = 16
HEAVIEST = 100_000_000  # grams


class WeightUnit(StrEnum):
    """A unit of weight; its value is how it is printed."""

    GRAM = "g"
    KILOGRAM = "kg"
    POUND = "lb"
    OUNCE = "oz"

    @property
    def grams(self) -> Fraction:
        """One of this unit in grams."""
        return _GRAMS[self]


_GRAMS = {
    WeightUnit.GRAM: Fraction(1),
    WeightUnit.KILOGRAM: Fraction(1000),
    WeightUnit.POUND: GRAMS_PER_POUND,
    WeightUnit.OUNCE: GRAMS_PER_POUND / OUNCES_PER_POUND,
}
_SPELLED = {
    WeightUnit.GRAM: ("g", "gram", "grams", "gramme", "grammes"),
    WeightUnit.KILOGRAM: ("kg", "kilogram", "kilograms", "kilogramme", "kilogrammes"),
    WeightUnit.POUND: ("lb", "lbs", "pound", "pounds"),
    WeightUnit.OUNCE: ("oz", "ounce", "ounces"),
}
_GRAMS_OF = {word: unit.grams for unit, words in _SPELLED.items() for word in words}


class WeightError(MeasureError):
    """A text is not a weight."""

    what = "a weight"
    allowed = "Write a weight above zero, at most 100,000 kg, such as 85 g, 1.2 kg, 4 oz, 2 lb or 1 lb 4 oz"


def parse_weight(text: str, unit: WeightUnit | None = None, *, zero: bool = False) -> Fraction:
    """Read a weight in grams; a number alone is in `unit`, or refused if that is None.

    Raises WeightError for anything else, for zero unless `zero`, for negatives and for more than 100,000 kg.
    """
    try:
        grams = read_measure(text, _GRAMS_OF, unit.grams if unit else None)
        _check(grams, zero=zero)
    except UnreadableError as why:
        raise WeightError(text, str(why)) from None
    return grams


def _check(grams: Fraction, *, zero: bool) -> None:
    if grams > HEAVIEST:
        raise UnreadableError("it is more than 100,000 kg")
    if grams == 0 and not zero:
        raise UnreadableError("it is zero")


def format_weight(grams: Fraction) -> str:
    """Return a weight exactly, in the unit in which it is shortest; `parse_weight` reads the same back."""
    return shortest_text(grams, {unit.value: unit.grams for unit in WeightUnit})


def grams_from_pounds(pounds: Fraction | int) -> Fraction:
    """Return pounds in grams."""
    return pounds * GRAMS_PER_POUND


def pounds_from_grams(grams: Fraction | int) -> Fraction:
    """Return grams in pounds."""
    return grams / GRAMS_PER_POUND
