"""The question and the answer of the cost curve."""

from dataclasses import dataclass
from decimal import Decimal

from kits.measures import round_money
from planning.contents import ContentsResult
from planning.cutting import CuttingResult
from planning.month import Month
from planning.roster import RosterResult

POINTS, NEXT = 200, 100
LEAST, MOST = 10, 3  # from a tenth of the roster to three times


@dataclass(frozen=True, slots=True, kw_only=True)
class CurveProblem:
    """A month, its boxes, and the plan whose patterns are cut again. points: counts to look at, about evenly spread."""

    month: Month
    contents: ContentsResult
    roster: RosterResult
    known: CuttingResult
    points: int = POINTS


@dataclass(frozen=True, slots=True, kw_only=True)
class CurvePoint:
    """So many boxes: what the month costs, what its kits bring in, how many boxes are late or have no service.

    each: cost of the month by boxes, rounded.
    """

    boxes: int
    total: Decimal
    income: Decimal
    late: int = 0
    exponent: int = 2

    @property
    def each(self) -> Decimal:
        """Cost of one box, rounded to the smallest coin."""
        return round_money(self.total / self.boxes, self.exponent) if self.boxes else Decimal(0)

    @property
    def profit(self) -> Decimal:
        """What is left of the income."""
        return self.income - self.total


@dataclass(frozen=True, slots=True, kw_only=True)
class Jump:
    """What is decided otherwise from `boxes` on, in words; `before`: the largest count looked at where it was not."""

    before: int
    boxes: int
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CurveResult:
    """The curve.

    at: the roster's own count; next_boxes: how many more the next ones are, and next_cost what they add. break_even: the
    least count from which on no count that was looked at loses money; None where the largest one does.
    """

    points: tuple[CurvePoint, ...]
    at: int
    jumps: tuple[Jump, ...]
    break_even: int | None
    next_boxes: int
    next_cost: Decimal | None

    def near(self, boxes: int) -> CurvePoint | None:
        """Return the point nearest to a count, the smaller of two."""
        return min(self.points, key=lambda one: (abs(one.boxes - boxes), one.boxes), default=None)
