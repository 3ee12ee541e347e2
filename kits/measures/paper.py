"""Paper by weight: basis weight in pounds, grammage in g/m², and what sheets, stacks and thousands weigh.

Basis weight is the weight in pounds of 500 sheets of a grade's basic size, so pounds of two grades do not
compare. Weight says nothing of thickness: coated sheets are thinner than uncoated ones as heavy. See caliper.
"""

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from kits.measures.area import Area, square_metres
from kits.measures.length import INCH, Length
from kits.measures.number import MeasureError, UnreadableError, exact_text, take_number, tidy
from kits.measures.weight import grams_from_pounds, pounds_from_grams

REAM = 500  # sheets, ISO 4046-3; a pack as sold may hold fewer
HEAVIEST_GSM = 10_000


class BasicSize(StrEnum):
    """The sheet by which the pounds of a grade are counted."""

    BOND = "bond"
    COVER = "cover"
    TEXT = "text"
    INDEX = "index"
    BRISTOL = "bristol"
    TAG = "tag"

    @property
    def width(self) -> Length:
        """The shorter side."""
        return _HALF_INCHES[self][0] * INCH // 2

    @property
    def height(self) -> Length:
        """The longer side."""
        return _HALF_INCHES[self][1] * INCH // 2

    @property
    def area(self) -> Area:
        """Area of one sheet."""
        return self.width * self.height


# 17 x 22, 20 x 26, 25 x 38, 25 1/2 x 30 1/2, 22 1/2 x 28 1/2 and 24 x 36 in: printwiki.org "Grammage"; index
# and bristol from a US press paper guide (azmanual.top 227010), p. A-2.
_HALF_INCHES = {
    BasicSize.BOND: (34, 44),
    BasicSize.COVER: (40, 52),
    BasicSize.TEXT: (50, 76),
    BasicSize.INDEX: (51, 61),
    BasicSize.BRISTOL: (45, 57),
    BasicSize.TAG: (48, 72),
}
_GRADES = {basic.value: basic for basic in BasicSize} | {
    "writing": BasicSize.BOND,
    "ledger": BasicSize.BOND,
    "book": BasicSize.TEXT,
    "offset": BasicSize.TEXT,
    "newsprint": BasicSize.TAG,
}
_POUNDS = ("lb.", "lbs.", "lb", "lbs", "#", "pound", "pounds")
_GSM = ("g/m2", "g/m²", "gsm", "g/sqm", "grams per square metre", "grams per square meter")


def grammage(pounds: Fraction | int, basic: BasicSize) -> Fraction:
    """Return g/m² of a basis weight: pounds x 453.59237 g over the area of 500 basic sheets, exactly.

    Trade tables use 1406.5 for 453.59237 / (500 x 0.0254²) = 1406.139...; they are 0.026 % high.
    """
    return grams_from_pounds(pounds) / (REAM * square_metres(basic.area))


def basis_weight(gsm: Fraction | int, basic: BasicSize) -> Fraction:
    """Return the pounds of 500 basic sheets of a grammage, exactly."""
    return pounds_from_grams(gsm * REAM * square_metres(basic.area))


@dataclass(frozen=True, slots=True)
class Grammage:
    """The weight of a paper as its maker states it: `amount` in g/m², or in pounds of a basic size."""

    amount: Fraction
    basic: BasicSize | None = None

    def __post_init__(self) -> None:
        if not 0 < self.gsm <= HEAVIEST_GSM:
            raise ValueError(f"the weight of a paper is above 0 and at most {HEAVIEST_GSM:,} g/m²")

    @property
    def gsm(self) -> Fraction:
        """Grams per square metre, exact."""
        return self.amount if self.basic is None else grammage(self.amount, self.basic)

    def __str__(self) -> str:
        unit = "g/m²" if self.basic is None else f"lb {self.basic}"
        return f"{exact_text(self.amount)} {unit}"


class GrammageError(MeasureError):
    """A text is not a paper weight."""

    what = "a paper weight"
    allowed = (
        "Write grams per square metre, such as 300 g/m², or pounds with their grade, such as 80 lb cover; "
        f"the grades are {', '.join(_GRADES)}"
    )


def parse_grammage(text: str) -> Grammage:
    """Read a paper weight: `300 g/m2`, `300 gsm`, `80 lb cover`, `80# cover`.

    A number alone is refused: 80 may be g/m² or pounds of any grade, which come to 118 to 301 g/m². str() of the
    result is read back as an equal Grammage. Raises GrammageError.
    """
    try:
        amount, unit = take_number(tidy(text))
        return Grammage(amount, _basic(unit.strip(), exact_text(amount)))
    except ValueError as why:
        raise GrammageError(text, str(why)) from None


def _basic(unit: str, number: str) -> BasicSize | None:
    if unit in _GSM:
        return None
    if not unit:
        meant = f"{number} g/m², {number} lb cover and {number} lb text are three different papers"
        raise UnreadableError(f"it has no unit, and {meant}")
    if unit in _POUNDS:
        raise UnreadableError("pounds mean nothing without their grade")
    mark, _, grade = unit.replace("#", "# ").partition(" ")
    if mark not in _POUNDS or grade.strip() not in _GRADES:
        raise UnreadableError(f"the unit {unit!r} is not known here")
    return _GRADES[grade.strip()]


def sheet_weight(width: Length, height: Length, gsm: Fraction | int) -> Fraction:
    """Return the grams of one sheet."""
    return gsm * square_metres(width * height)


def stack_weight(sheets: int, width: Length, height: Length, gsm: Fraction | int) -> Fraction:
    """Return the grams of a stack of equal sheets. Mills keep grammage to some 5 %, so allow a margin."""
    return sheets * sheet_weight(width, height, gsm)


def m_weight(width: Length, height: Length, gsm: Fraction | int) -> Fraction:
    """Return the grams of 1,000 sheets, which the trade calls the M weight (and states in pounds)."""
    return stack_weight(1000, width, height, gsm)
