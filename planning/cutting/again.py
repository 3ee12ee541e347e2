"""Jobs cut by the patterns of a plan that is known, in other numbers and without a search.

Each pattern is cut in proportion to what is wanted of its pieces, rounded down; what is then still wanted comes from the
pattern that wastes least on it, one after the other. The plan with one size to a sheet is held beside it, by the same rank
as in every plan, so the sheets to cut from are chosen anew for each number.
"""

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from functools import partial

from planning.cutting.alone import alone, candidates
from planning.cutting.choose import choices, groups, rank_of
from planning.cutting.lengths import length_ticket
from planning.cutting.model import CuttingProblem, PieceJob
from planning.cutting.result import CuttingResult, CuttingTicket, Group
from planning.cutting.tickets import labels, ticket
from planning.cutting.together import Plan

PROOF = "cut by the patterns of the plan that is known; no search was made for others"

Tickets = tuple[CuttingTicket, ...]
Patterns = Sequence[
    tuple[CuttingTicket, Mapping[str, int]]
]  # and how many of each job's pieces a sheet yields


def plan_again(problem: CuttingProblem, known: Tickets) -> CuttingResult:
    """Cut all jobs by the patterns of the tickets known, or one size to a sheet. Raises CuttingError as `plan_cutting`."""
    planned = [group_again(jobs, problem, known) for jobs in groups(problem)]
    rolls = {roll.material: roll for roll in problem.rolls}
    return CuttingResult(
        tickets=tuple(one for tickets, _ in planned for one in tickets),
        lengths=tuple(length_ticket(job, rolls[job.cut_from]) for job in problem.lengths if job.wanted),
        groups=tuple(group for _, group in planned),
        ended=PROOF if planned else "nothing is cut from sheets",
    )


def group_again(jobs: Sequence[PieceJob], problem: CuttingProblem, known: Tickets) -> tuple[Tickets, Group]:
    """Cut jobs that may share a sheet."""
    named = labels(jobs)
    supplies = {one.material: one for one in problem.supplies}
    first, _ = alone(named, problem)
    plans = [Plan("one size to a sheet", first)]
    if patterns := [one for one in known if suits(one, named, problem)]:
        plans.append(Plan("the patterns of the plan", refilled(patterns, first, named)))
    ranked = sorted(plans, key=lambda plan: rank_of(plan.tickets, supplies))
    return ranked[0].tickets, Group(
        items=tuple(job.item for job in jobs),
        names=tuple(job.name for job in jobs),
        proof=PROOF,
        is_proved=False,
        choices=tuple(choices(ranked, supplies)),
    )


def suits(one: CuttingTicket, named: Mapping[str, PieceJob], problem: CuttingProblem) -> bool:
    """Tell whether a pattern still cuts these jobs, of a sheet and on a machine that are there."""
    if one.sheet not in problem.sheets or one.machine not in problem.guillotines:
        return False
    return all(
        (job := named.get(each.label)) is not None
        and (job.item, job.width, job.height, job.direction)
        == (each.job.item, each.job.width, each.job.height, each.job.direction)
        and one.sheet in candidates(job, problem)
        for each in one.pieces
    )


def refilled(known: Sequence[CuttingTicket], first: Tickets, named: Mapping[str, PieceJob]) -> Tickets:
    """Return tickets for all that is wanted, of the patterns known and of those with one size to a sheet."""
    wanted = {job.item: job.wanted for job in named.values()}
    patterns = [(one, yields(one)) for one in (*known, *first)]
    counts = [in_proportion(one, wanted) for one in known] + [0] * len(first)
    lacking = dict(wanted)
    for count, (_, out) in zip(counts, patterns, strict=True):
        for item, each in out.items():
            lacking[item] -= count * each
    while any(left > 0 for left in lacking.values()):
        at = max(range(len(patterns)), key=partial(use_of, patterns, lacking))
        out = patterns[at][1]
        whole = min(lacking[item] // each for item, each in out.items())
        counts[at] += max(1, whole)
        for item, each in out.items():
            lacking[item] -= max(1, whole) * each
    return tuple(without_idle(patterns, counts, lacking, named))


def yields(one: CuttingTicket) -> dict[str, int]:
    """Return how many pieces of each job one sheet yields."""
    return {each.job.item: each.out for each in one.pieces}


def in_proportion(one: CuttingTicket, wanted: Mapping[str, int]) -> int:
    """Return how many sheets of a pattern keep its share of what is wanted of every piece, rounded down."""
    return min(one.sheets * wanted[each.job.item] // each.job.wanted for each in one.pieces)


def use_of(patterns: Patterns, lacking: Mapping[str, int], at: int) -> Fraction:
    """Return what part of a pattern's sheet is still wanted."""
    one, out = patterns[at]
    areas = one.areas
    useful = sum(areas[item] * min(each, max(0, lacking[item])) // each for item, each in out.items())
    return Fraction(useful, one.sheet.width * one.sheet.height)


def without_idle(
    patterns: Patterns, counts: Sequence[int], lacking: Mapping[str, int], named: Mapping[str, PieceJob]
) -> Iterator[CuttingTicket]:
    """Yield a ticket for each pattern, less the sheets that could be left out."""
    left = dict(lacking)
    for count, (one, out) in zip(counts, patterns, strict=True):
        idle = max(0, min(count, *(-left[item] // each for item, each in out.items())))
        for item, each in out.items():
            left[item] += idle * each
        if count > idle:
            yield ticket(one.sheet, one.tree, count - idle, one.machine, named)
