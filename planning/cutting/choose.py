"""The rule of the cutting step: jobs that may share a sheet are planned together, and the cheapest plan is taken.

Of paper and knife time together, as the orders for the sheets and the machine's own figures have them (`rank`).
"""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from decimal import Decimal
from functools import lru_cache

from planning.cutting.alone import alone, candidates
from planning.cutting.lengths import length_ticket
from planning.cutting.model import CuttingProblem, PieceJob
from planning.cutting.patterns import WantedTooLargeError
from planning.cutting.proof import proof_of
from planning.cutting.result import Choice, CuttingResult, CuttingTicket, Group
from planning.cutting.supply import Outlay, Supply
from planning.cutting.tickets import labels, total_cost
from planning.cutting.together import Plan, sheets_of, together

MOST_SHOWN = 5

Tickets = tuple[CuttingTicket, ...]
Rank = tuple[int, int, Decimal, bool, int, int]


@lru_cache(maxsize=16)  # a month planned again, after a price or a day has changed, is mostly cut as before
def plan_cutting(problem: CuttingProblem) -> CuttingResult:
    """Choose sheets, patterns and machines for all jobs. Raises CuttingError where no sheet yields a piece."""
    planned = [plan_group(jobs, problem) for jobs in groups(problem)]
    rolls = {roll.material: roll for roll in problem.rolls}
    return CuttingResult(
        tickets=tuple(ticket for tickets, _ in planned for ticket in tickets),
        lengths=tuple(length_ticket(job, rolls[job.cut_from]) for job in problem.lengths if job.wanted),
        groups=tuple(group for _, group in planned),
        ended=how_it_ended([group for _, group in planned]),
    )


def groups(problem: CuttingProblem) -> list[list[PieceJob]]:
    """Return the jobs that are wanted, those together that may share a sheet, each group in the order of the jobs."""
    found: list[tuple[set[str], list[PieceJob]]] = []
    for job in problem.pieces:
        if not job.wanted:
            continue
        sheets, jobs = {sheet.material for sheet in candidates(job, problem)}, [job]
        for others in [group for group in found if group[0] & sheets]:
            sheets |= others[0]
            jobs = others[1] + jobs
            found.remove(others)
        found.append((sheets, jobs))
    places = {job.item: place for place, job in enumerate(problem.pieces)}
    ordered = [sorted(jobs, key=lambda job: places[job.item]) for _, jobs in found]
    return sorted(ordered, key=lambda jobs: places[jobs[0].item])


def plan_group(jobs: Sequence[PieceJob], problem: CuttingProblem) -> tuple[Tickets, Group]:
    """Plan jobs that may share a sheet."""
    named = labels(jobs)
    supplies = {one.material: one for one in problem.supplies}

    def rank(tickets: Tickets) -> Rank:
        return rank_of(tickets, supplies)

    first, is_best = alone(named, problem)
    plans = [Plan("one size to a sheet", first)]
    if len(jobs) > 1:
        with suppress(WantedTooLargeError):  # the plan of one size to a sheet stands
            plans.extend(together(named, problem, first, rank))
    ranked = sorted(plans, key=lambda plan: rank(plan.tickets))
    proof, is_proved = proof_of(ranked[0], plans, is_best=is_best)
    return ranked[0].tickets, Group(
        items=tuple(job.item for job in jobs),
        names=tuple(job.name for job in jobs),
        proof=proof,
        is_proved=is_proved,
        choices=tuple(choices(ranked, supplies)),
    )


def rank_of(tickets: Tickets, supplies: Mapping[str, Supply]) -> Rank:
    """Rank a plan, the lowest first.

    Fewest jobs that are cut from sheets nobody sells, then fewest from late ones; then the least cost of paper and knife
    time decides, then no narrow strips, then fewest sheets, then fewest patterns.
    """
    orders = outlays(tickets, supplies)
    short = {item for one in tickets if orders[one.source].short for item in one.items}
    late = {item for one in tickets if orders[one.source].late for item in one.items}
    paper = sum((order.cost for order in orders.values()), Decimal(0))
    narrow = any(one.too_narrow is not None for one in tickets)
    sheets = sum(one.sheets for one in tickets)
    return len(short), len(late), paper + total_cost(tickets), narrow, sheets, len(tickets)


def outlays(tickets: Tickets, supplies: Mapping[str, Supply]) -> dict[str, Outlay]:
    """Return what the sheets of a plan lead to, by material."""
    return {
        code: supplies.get(code, Supply(material=code)).outlay(0, sheets)
        for code, sheets in sheets_of(tickets).items()
    }


def choices(ranked: Sequence[Plan], supplies: Mapping[str, Supply]) -> Iterator[Choice]:
    """Yield the plans there were, each that differs from those before it in sheets, patterns, minutes or cost."""
    seen: set[tuple[object, ...]] = set()
    for place, plan in enumerate(ranked):
        tickets = plan.tickets
        one = Choice(
            words=plan.words,
            sheets=sum(ticket.sheets for ticket in tickets),
            patterns=len(tickets),
            minutes=sum((ticket.minutes for ticket in tickets), Decimal(0)),
            paper=sum((order.cost for order in outlays(tickets, supplies).values()), Decimal(0)),
            knife=total_cost(tickets),
            narrow=any(ticket.too_narrow is not None for ticket in tickets),
            is_taken=place == 0,
        )
        figures = one.sheets, one.patterns, one.minutes, one.cost
        if figures not in seen and len(seen) < MOST_SHOWN:
            seen.add(figures)
            yield one


def how_it_ended(planned: Sequence[Group]) -> str:
    """Say what is proved of the plan."""
    if not planned:
        return "nothing is cut from sheets"
    if all(group.is_proved for group in planned):
        return "proved: no cutting plan uses fewer or cheaper sheets"
    still = [f"{', '.join(group.names)}: {group.proof}" for group in planned if not group.is_proved]
    return "; ".join(still)
