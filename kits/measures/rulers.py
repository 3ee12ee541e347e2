"""Rulers: the marks a club measures by, and lengths as read off them."""

from dataclasses import dataclass
from fractions import Fraction

from kits.measures.length import INCH, MM, Length, LengthUnit, format_exact
from kits.measures.number import MeasureError, exact_text, mixed_text


@dataclass(frozen=True, slots=True)
class Ruler:
    """A ruler with a mark at every `step` (a length), read in `unit`."""

    name: str
    step: Length
    unit: LengthUnit

    def __post_init__(self) -> None:
        if self.step <= 0:
            raise ValueError(f"the marks of a ruler must be apart, but {self.name} has a step of {self.step}")

    def holds(self, length: Length) -> bool:
        """Whether the length is on a mark."""
        return length % self.step == 0

    def nearest(self, length: Length) -> Length:
        """Return the mark nearest to a length; half-way between two, the larger."""
        return (2 * length + self.step) // (2 * self.step) * self.step

    def marks(self, length: Length) -> str:
        """Return the nearest mark without its unit, for drawings: `9 1/4`, or `≈9 1/4` when beside it."""
        sign = "" if self.holds(length) else "≈"
        return f"{sign}{self._mark(self.nearest(length))}"

    def format(self, length: Length) -> str:
        """Return a length exactly, as measured: `9 1/4 in`, `9 1/4 in less 0.4 mm (not on a 1/8 in mark)`."""
        if self.holds(length):
            return f"{self._mark(length)} {self.unit}"
        return f"{self._beside(length, self.nearest(length))} (not on a {self.name} mark)"

    def _mark(self, length: Length) -> str:
        number = Fraction(length, self.unit.size)
        return exact_text(number) if self.unit.is_metric else mixed_text(number)

    def _beside(self, length: Length, mark: Length) -> str:
        if mark == 0:  # nobody measures from the end of the ruler "plus" something
            return format_exact(length, self.unit)
        side = "less" if length < mark else "plus"
        return f"{self._mark(mark)} {self.unit} {side} {format_exact(abs(length - mark), self.unit)}"


RULERS = (
    Ruler("1/8 in", INCH // 8, LengthUnit.INCH),
    Ruler("1/16 in", INCH // 16, LengthUnit.INCH),
    Ruler("1/32 in", INCH // 32, LengthUnit.INCH),
    Ruler("0.5 mm", MM // 2, LengthUnit.MM),
    Ruler("1 mm", MM, LengthUnit.MM),
)
_BY_NAME = {each.name: each for each in RULERS}


class UnknownRulerError(MeasureError):
    """No ruler has the name asked for."""

    what = "a ruler"
    allowed = f"The rulers are {', '.join(_BY_NAME)}"


def ruler(name: str) -> Ruler:
    """Return the ruler of that name, whatever its spaces and case. Raises UnknownRulerError."""
    try:
        return _BY_NAME[" ".join(name.split()).casefold()]
    except KeyError:
        raise UnknownRulerError(name, "there is none of that name") from None
