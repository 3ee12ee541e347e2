"""What a pattern means at the guillotine: lifts, cuts, turns and minutes, by the machine's own figures."""

from dataclasses import dataclass
from decimal import Decimal

from kits.guillotine import Part
from planning.cutting.machine import Guillotine
from planning.cutting.patterns.result import Pattern, PatternPlan

MINUTES_AN_HOUR = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """How the sheets of one pattern are cut.

    lifts: stacks under the knife, of `sheets_per_lift` sheets each but for the last, which has `last_lift`.
    cuts_per_lift: edge trims included, parts cut alike cut together; turns_per_lift: quarter turns on the way.
    """

    sheets_per_lift: int
    lifts: int
    last_lift: int
    cuts_per_lift: int
    turns_per_lift: int
    minutes: Decimal
    cost: Decimal

    def pieces_of(self, pattern: Pattern) -> tuple[dict[str, int], dict[str, int]]:
        """Return the pieces by name that a full lift yields, and the last one: the tally is checked against them."""
        out = pattern.out
        full = {name: count * min(self.sheets_per_lift, pattern.count) for name, count in out.items()}
        return full, {name: count * self.last_lift for name, count in out.items()}


def work_of(pattern: Pattern, machine: Guillotine) -> Work:
    """Return how one machine cuts the sheets of a pattern."""
    per_lift = machine.sheets_per_lift(pattern.sheet.thickness)
    lifts = -(-pattern.count // per_lift)
    cuts, turns = machine.cuts_and_turns(pattern.tree)
    minutes = lifts * machine.minutes_for(cuts, turns)
    return Work(
        sheets_per_lift=per_lift,
        lifts=lifts,
        last_lift=pattern.count - (lifts - 1) * per_lift,
        cuts_per_lift=cuts,
        turns_per_lift=turns,
        minutes=minutes,
        cost=minutes * machine.cost_per_hour / MINUTES_AN_HOUR,
    )


def minutes_of(plan: PatternPlan, machine: Guillotine) -> Decimal:
    """Return the minutes that all patterns of a plan take."""
    return sum((work_of(pattern, machine).minutes for pattern in plan.patterns), Decimal(0))


def minutes_per_lift(tree: Part, machine: Guillotine) -> Decimal:
    """Return the minutes that one lift takes: to set it up, its cuts, and its turns."""
    return machine.minutes_for(*machine.cuts_and_turns(tree))
