"""The search for the cheapest plan: patterns one after the other, each where it saves, then whole sheets of them.

P. C. Gilmore and R. E. Gomory, A linear programming approach to the cutting-stock problem, Oper. Res. 9 (1961)
849-859, and part II, 11 (1963) 863-888: the programme over all patterns is solved from few of them, to which the
pattern worth most at the current values is added until none is worth more than its sheet. As to whole sheets,
patterns worth nearly their price decide, so more of these are found for as long as there is a gap.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from kits.kit import Direction
from planning.cutting.machine import Guillotine
from planning.cutting.patterns.aims import Choice, eased
from planning.cutting.patterns.dive import Dives
from planning.cutting.patterns.few import few_copies, plan_few
from planning.cutting.patterns.generate import generate, list_near, vary
from planning.cutting.patterns.known import Known
from planning.cutting.patterns.problem import PatternProblem, WantedTooLargeError
from planning.cutting.patterns.result import Ended, PatternPlan, how_it_ended
from planning.cutting.patterns.whole import whole


@dataclass(frozen=True, slots=True)
class Effort:
    """Where to stop. No clock, so that the same question has the same answer on every machine of the kind.

    sums: about how many the tables of worths may take from which patterns are read. rounds: how often whole
    plans are looked for. nodes: of the tree that is searched for one in each round. swaps: how often pieces are
    taken out and put back where there are few of each. In each round, drawn: first cuts whose patterns are drawn by
    lot for the last sheets; dives: plans made sheet by sheet; looks: at patterns and pairs for the last sheets of
    one dive.
    """

    sums: int = 8_000_000_000
    rounds: int = 6
    nodes: int = 20
    swaps: int = 3000
    drawn: int = 4
    dives: int = 12
    looks: int = 5_000_000


UNTURNED_AFTER = 2  # rounds; by then plans that turning makes easy are found
QUICK = Effort(sums=400_000_000, rounds=1, nodes=5, swaps=100, dives=0)

NOTHING = PatternPlan(
    patterns=(), cost=Fraction(0), bound=Fraction(0), missing={}, surplus={}, ended=Ended.PROVED
)


def improve(problem: PatternProblem, effort: Effort | None = None) -> Iterator[PatternPlan]:
    """Yield better and better plans, the first at once; the last has the best bound as well."""
    if not problem.asked:
        yield NOTHING
        return
    is_free = not any(sheet.price for sheet in problem.sheets)
    effort = effort or Effort()
    known = Known(priced_alike(problem) if is_free else problem, effort.sums)
    for _ in improvements(known, effort):
        yield without_prices(known.plan()) if is_free else known.plan()
    yield without_prices(known.plan()) if is_free else known.plan()


def plan_patterns(
    problem: PatternProblem,
    effort: Effort | None = None,
    tell: Callable[[PatternPlan], None] | None = None,
) -> PatternPlan:
    """Return the best plan that the effort finds. tell: is given every plan on the way, none worse than the last.

    With QUICK, a good plan in a second or two; without it the search goes on from the same plans.
    """
    for plan in improve(problem, effort):
        if tell:
            tell(plan)
    return plan


def choices(
    problem: PatternProblem, machine: Guillotine | None = None, effort: Effort | None = None
) -> tuple[Choice, ...]:
    """Return the cheapest plan with as little work as that allows, then dearer ones with less: a table to choose from.

    machine: whose minutes count; without it, few patterns are what makes little work.
    """
    if not problem.asked:
        return ()
    is_free = not any(sheet.price for sheet in problem.sheets)
    effort = effort or Effort()
    known = Known(priced_alike(problem) if is_free else problem, effort.sums)
    for _ in improvements(known, effort):
        pass
    found = eased(known, machine, effort.nodes)
    if is_free:
        return tuple(replace(one, plan=without_prices(one.plan), cost=Fraction(0)) for one in found)
    return tuple(found)


def priced_alike(problem: PatternProblem) -> PatternProblem:
    """Return the problem with a price for each sheet, so that the fewest are used."""
    return replace(problem, sheets=tuple(replace(sheet, price=Fraction(1)) for sheet in problem.sheets))


def without_prices(plan: PatternPlan) -> PatternPlan:
    """Return the plan with its sheets free again, which makes it the cheapest."""
    free = tuple(replace(each, sheet=replace(each.sheet, price=Fraction(0))) for each in plan.patterns)
    ended = how_it_ended(Fraction(0), Fraction(0), plan.missing)
    return replace(plan, patterns=free, cost=Fraction(0), bound=Fraction(0), ended=ended)


def improvements(known: Known, effort: Effort) -> Iterator[None]:
    """Search; pause wherever the best plan has become better."""
    for pricing in known.pricings:
        known.add(pricing.grids())
    whole(known, 0, effort.nodes)
    yield
    if few_copies(known):
        yield from plan_few(known, effort.swaps)
    if not known.is_done:
        generate(known)
    yield from _rounds(known, effort)


def _rounds(known: Known, effort: Effort) -> Iterator[None]:
    dives = Dives(known) if known.at_bound and effort.dives else None
    for number in range(effort.rounds):
        if known.is_done:
            return
        if number == UNTURNED_AFTER:
            yield from _unturned(known, effort)
        if number % 2 == 0 and whole(known, number, effort.nodes):
            yield
        if not known.is_done and (dives or number + 1 < effort.rounds):
            list_near(known)
            vary(known, number)
        if dives and not known.is_done and not known.missing:
            dives.closing.draw(effort.drawn)
            if dives.search(effort.dives, effort.looks):
                yield


def _unturned(known: Known, effort: Effort) -> Iterator[None]:
    """Search where no piece is turned that need not be: such a plan does as well, and there are fewer to look through."""
    pieces = tuple(
        replace(piece, direction=Direction.NOT_TURNED) if piece.direction is Direction.ANY else piece
        for piece in known.problem.pieces
    )
    if pieces == known.problem.pieces:
        return
    try:
        problem = replace(known.problem, pieces=pieces)
    except WantedTooLargeError:
        return
    other = Known(problem, known.sums)
    for _ in improvements(other, effort):
        pass
    known.sums = min(known.sums, other.sums)
    if other.best and not other.missing:
        known.add(one for one, _ in other.best)
        if known.offer(other.best):
            yield
