"""The answer: which patterns to cut how many sheets by, what that costs, and what is proved of it."""

from collections import Counter
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from kits.guillotine import Part, count_pieces
from planning.cutting.patterns.problem import ParentSheet


class Ended(StrEnum):
    """How the search for the cheapest plan ended."""

    PROVED = "proved cheapest"
    EFFORT = "stopped at the effort limit"
    SHORT = "there are too few sheets"


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """Sheets that are all cut alike. count: how many."""

    sheet: ParentSheet
    tree: Part
    count: int

    @property
    def out(self) -> dict[str, int]:
        """How many pieces of each name one sheet yields."""
        return count_pieces(self.tree)


def how_it_ended(cost: Fraction, bound: Fraction, missing: dict[str, int]) -> Ended:
    """Return how the search for a plan ended."""
    if missing:
        return Ended.SHORT
    return Ended.PROVED if cost <= bound else Ended.EFFORT


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternPlan:
    """Patterns, those with the most sheets first.

    cost: of all sheets. bound: no plan that makes every piece costs less. missing: pieces that the sheets do
    not suffice for; surplus: pieces made beyond those wanted; both by name. ended: how the search did.
    """

    patterns: tuple[Pattern, ...]
    cost: Fraction
    bound: Fraction
    missing: dict[str, int]
    surplus: dict[str, int]

    ended: Ended

    def __post_init__(self) -> None:
        is_proved = not self.missing and self.cost <= self.bound
        if (self.ended is Ended.SHORT) is not bool(self.missing):
            raise ValueError("a plan ends for want of sheets when pieces are missing, and only then")
        if (self.ended is Ended.PROVED) is not is_proved:
            raise ValueError("a plan is proved cheapest when its cost reaches the bound, and only then")

    @property
    def sheets(self) -> int:
        """Sheets in all."""
        return sum(pattern.count for pattern in self.patterns)

    @property
    def made(self) -> dict[str, int]:
        """Pieces of each name that are made."""
        total: Counter[str] = Counter()
        for pattern in self.patterns:
            total.update({name: count * pattern.count for name, count in pattern.out.items()})
        return dict(total)

    @property
    def gap(self) -> Fraction:
        """How much the plan may at most cost too much, as a share of the bound; 0 where the bound is 0."""
        return (self.cost - self.bound) / self.bound if self.bound and not self.missing else Fraction(0)
