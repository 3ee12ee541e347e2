"""The checker of plans of patterns. It shares no code with the search and counts everything again from the trees."""

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction

from kits.guillotine import Edge, Part, check, count_pieces, steps
from kits.measures import Length, format_length
from planning.cutting.patterns.problem import PatternProblem
from planning.cutting.patterns.result import PatternPlan


def plan_faults(problem: PatternProblem, plan: PatternPlan) -> tuple[str, ...]:
    """Return every way in which the plan is no answer to the problem; none means it can be cut as it stands."""
    return (
        *_cutting_faults(problem, plan),
        *_count_faults(problem, plan),
        *_stock_faults(plan),
        *_cost_faults(plan),
    )


def _cutting_faults(problem: PatternProblem, plan: PatternPlan) -> Iterator[str]:
    for number, pattern in enumerate(plan.patterns, 1):
        if pattern.sheet not in problem.sheets:
            yield f"pattern {number}: {pattern.sheet.name} is none of the sheets"
            continue
        if pattern.count < 1:
            yield f"pattern {number}: of {pattern.sheet.name} {pattern.count} are cut"
        on = problem.on(pattern.sheet)
        if (opening := problem.rules.opening) is not None:
            yield from (f"pattern {number}: {fault}" for fault in _too_long(pattern.tree, opening))
        faults = check(on, pattern.tree) if on else ("no piece that is wanted comes out of it",)
        yield from (f"pattern {number}, {pattern.sheet.name}: {fault}" for fault in faults)


def _too_long(tree: Part, opening: Length) -> Iterator[str]:
    for step in steps(tree):
        long = step.width if step.stop in (Edge.TOP, Edge.BOTTOM) else step.height
        if long > opening:
            yield f"a cut of {format_length(long)} is longer than the {format_length(opening)} of the machine"


def _count_faults(problem: PatternProblem, plan: PatternPlan) -> Iterator[str]:
    made: Counter[str] = Counter()
    for pattern in plan.patterns:
        for name, count in count_pieces(pattern.tree).items():
            made[name] += count * pattern.count
    for piece in problem.pieces:
        short = max(0, piece.count - made[piece.name])
        over = max(0, made[piece.name] - piece.count)
        for said, is_so, what in (
            (plan.missing.get(piece.name, 0), short, "missing"),
            (plan.surplus.get(piece.name, 0), over, "surplus"),
        ):
            if said != is_so:
                yield f"{piece.name}: {piece.count} wanted, {made[piece.name]} cut, but the plan says {said} {what}"


def _stock_faults(plan: PatternPlan) -> Iterator[str]:
    for sheet in dict.fromkeys(pattern.sheet for pattern in plan.patterns):
        used = sum(pattern.count for pattern in plan.patterns if pattern.sheet == sheet)
        if sheet.available is not None and used > sheet.available:
            yield f"{sheet.name}: {used} are cut, but only {sheet.available} are available"


def _cost_faults(plan: PatternPlan) -> Iterator[str]:
    cost = sum((pattern.count * pattern.sheet.price for pattern in plan.patterns), Fraction(0))
    if cost != plan.cost:
        yield f"the sheets cost {cost}, the plan says {plan.cost}"
    if not plan.missing and plan.bound > plan.cost:
        yield f"no plan costs less than {plan.bound}, so it says, but this one costs {plan.cost}"
