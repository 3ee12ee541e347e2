"""The guillotine, as its owner describes it. No figure here is a standard: each is the machine's own."""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

from kits.guillotine import Part, Step, count_lines, lines, steps, within
from kits.measures import Length, sheets_in


@dataclass(frozen=True, slots=True, kw_only=True)
class Guillotine:
    """A paper guillotine.

    opening: longest cut the knife makes, so the widest that what is in hand may lie under it; lift_height: tallest stack
    its owner allows; smallest_strip: narrowest strip the clamp can hold (lengths). Times in minutes (a turn is a quarter
    turn of what is in hand), cost per hour in the club's money.
    """

    code: str
    name: str
    opening: int
    lift_height: int
    smallest_strip: int = 0
    minutes_per_lift: Decimal = Decimal(0)
    minutes_per_cut: Decimal = Decimal(0)
    minutes_per_turn: Decimal = Decimal(0)
    cost_per_hour: Decimal = Decimal(0)

    def minutes_for(self, cuts: int, turns: int) -> Decimal:
        """Return the minutes of one lift: to set it up, its cuts, its quarter turns."""
        return self.minutes_per_lift + cuts * self.minutes_per_cut + turns * self.minutes_per_turn

    def cuts_and_turns(self, tree: Part) -> tuple[int, int]:
        """Return the cuts and the quarter turns of one lift, as the lines of its ticket have them."""
        return counted(tree, self.smallest_strip, self.opening)

    def sheets_per_lift(self, thickness: Fraction | None) -> int:
        """Return how many sheets the lift height takes; one at a time when the caliper is not known."""
        return 1 if thickness is None else max(1, sheets_in(self.lift_height, thickness))

    def suited(self, tree: Part) -> Part | None:
        """Return the same pieces in the same places, cut so that the knife is long enough; None where that cannot be."""
        return within(tree, self.opening)

    def too_narrow(self, tree: Part) -> Length | None:
        """Return the narrowest strip that cutting a sheet would hold, where that is below the smallest; else None."""
        held = narrowest(tree, self.smallest_strip)
        return held if held < self.smallest_strip else None


@lru_cache(maxsize=512)
def counted(tree: Part, smallest_strip: Length, opening: Length) -> tuple[int, int]:
    """Return the cuts and the quarter turns of one lift."""
    return count_lines(lines(tree, smallest_strip, opening))


@lru_cache(maxsize=512)
def narrowest(tree: Part, smallest_strip: Length) -> Length:
    """Return the narrowest strip that cutting a sheet would hold; the smallest allowed where it holds none."""
    return min((held_by(step) for step in steps(tree, smallest_strip)), default=smallest_strip)


def held_by(step: Step) -> Length:
    """Return how narrow what the clamp holds is: what stays behind the knife, or either side of what is in hand."""
    return min(step.gauge, step.width, step.height)
