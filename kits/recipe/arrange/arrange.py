"""Arrange pieces on sheets: the fewest sheets, then the largest single offcut, then the fewest cuts and turns."""

from collections.abc import Iterator
from itertools import chain

from kits.guillotine import count_cuts
from kits.recipe.arrange.again import plans_from
from kits.recipe.arrange.bound import area_bound, bound_of_largest, sheet_bound
from kits.recipe.arrange.lay import count_turns, in_order
from kits.recipe.arrange.many import Pieces, plans
from kits.recipe.arrange.plan import Plan, best_plan, is_small
from kits.recipe.arrange.problem import Arrangement, ArrangeProblem
from kits.recipe.arrange.sides import Sides, Whole, sums
from kits.recipe.arrange.units import PieceUnit
from kits.recipe.hand import FIRST_WAY

MOST_SELECTIONS = 4_096  # of all of which the least room can be worked out


def arrange(problem: ArrangeProblem) -> Arrangement:
    """Return how to cut the pieces from sheets.

    Where there are few enough selections of the pieces (some thousands: a dozen different ones, or more where some are
    alike) all are looked at and the number of sheets is proved. Else several ways are tried and the best is compared
    with a bound. Effort is counted, never timed: the same question has the same answer everywhere.
    """
    sides = _sides(problem)
    pieces = _pieces(problem, sides)
    if is_small(pieces, sides, MOST_SELECTIONS):
        plan = best_plan(pieces, sides)
        return _arrangement(problem, plan, len(plan.sheets))
    bound = area_bound(problem)
    best = _best(plans(pieces, sides, problem.ruler.step), bound)
    best = _best(chain((best,), plans_from(best, pieces, sides)), bound)
    if len(best.sheets) > bound:
        bound = max(sheet_bound(problem), bound_of_largest(pieces, sides))
    largest = min(best.waste, sides.width * sides.height)
    return _arrangement(problem, Plan(best.sheets, best.offcut, largest, best.waste), bound)


def _best(tried: Iterator[Plan], bound: int) -> Plan:
    """Return the best plan, trying no more once one cannot be better."""
    best = next(tried)
    while len(best.sheets) > bound or best.offcut < best.waste:
        plan = next(tried, None)
        if plan is None:
            break
        best = min(best, plan, key=lambda each: each.rank)
    return best


def _arrangement(problem: ArrangeProblem, plan: Plan, bound: int) -> Arrangement:
    offcuts = -(-plan.waste // plan.offcut_bound) if plan.waste else 0
    wanted = sum(piece.count for piece in problem.pieces)
    return Arrangement(
        sheets=tuple(in_order(sheet, problem.ruler) for sheet in plan.sheets),
        bound=bound,
        offcut=plan.offcut,
        offcut_bound=plan.offcut_bound,
        cuts=sum(map(count_cuts, plan.sheets)),
        cuts_bound=wanted + offcuts - len(plan.sheets),
        turns=count_turns(plan.sheets, FIRST_WAY),
    )


# --- The question in numbers ---


def _sides(problem: ArrangeProblem) -> Sides:
    ways = [way for piece in problem.pieces for way in problem.ways(piece)]
    step = problem.ruler.step
    widths: Whole = sums((width for width, _, _ in ways), step, problem.width)
    heights = sums((height for _, height, _ in ways), step, problem.height)
    return Sides(widths, heights, problem.longest_cut)


def _pieces(problem: ArrangeProblem, sides: Sides) -> Pieces:
    return tuple(
        (PieceUnit.of(piece.name, problem.ways(piece), sides), piece.count) for piece in problem.pieces
    )
