"""The rule of the cutting step: each job on the sheet that costs least, cut as well as it can be.

One piece size to a sheet. The number out is proved by `kits.guillotine`; which sheet to take follows from what the
sheets still to be bought cost (`supply.py`), job after job.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from decimal import Decimal

from kits.guillotine import count_cuts, steps
from kits.measures import format_length, sheets_in
from planning.cutting.fit import Fit, fit, question
from planning.cutting.machine import Guillotine
from planning.cutting.model import (
    CuttingError,
    CuttingProblem,
    CuttingResult,
    CuttingTicket,
    LengthJob,
    LengthTicket,
    PieceJob,
    Roll,
    SheetStock,
)
from planning.cutting.supply import Supply

MINUTES_AN_HOUR = 60


def plan_cutting(problem: CuttingProblem) -> CuttingResult:
    """Choose a sheet, a trim and a machine for every job. Raises CuttingError where no sheet yields the piece.

    A job pays for what it adds to the sheets that the jobs before it cut already.
    """
    cut: Counter[str] = Counter()
    tickets: list[CuttingTicket] = []
    for job in problem.pieces:
        if job.wanted:
            tickets.append(cheapest_ticket(job, problem, cut))
            cut[tickets[-1].source] += tickets[-1].sheets
    rolls = {roll.material: roll for roll in problem.rolls}
    lengths = tuple(length_ticket(job, rolls[job.cut_from]) for job in problem.lengths if job.wanted)
    return CuttingResult(tickets=tuple(tickets), lengths=lengths, ended=how_it_ended(tickets))


def cheapest_ticket(job: PieceJob, problem: CuttingProblem, cut: Counter[str]) -> CuttingTicket:
    """Return the best ticket. Sheets that are there in time come before late ones, and these before ones nobody sells.

    Then the least cost of paper and knife time decides, then no narrow strips, then fewest sheets, then the first named.
    """
    tickets = list(possible_tickets(job, problem))
    if not tickets:
        raise CuttingError(no_sheet_message(job, problem))
    supplies = {one.material: one for one in problem.supplies}

    def rank(ticket: CuttingTicket) -> tuple[bool, bool, Decimal, bool, int]:
        supply = supplies.get(ticket.source, Supply(material=ticket.source))
        paper = supply.outlay(cut[ticket.source], ticket.sheets)
        return paper.short, paper.late, paper.cost + ticket.cost, ticket.too_narrow is not None, ticket.sheets

    return min(tickets, key=rank)


def possible_tickets(job: PieceJob, problem: CuttingProblem) -> Iterator[CuttingTicket]:
    """Yield a ticket for every sheet the job may be cut from and every guillotine that takes it."""
    for sheet in candidates(job, problem):
        for machine in problem.guillotines:
            if found := fit(job, sheet, machine):
                yield ticket(job, sheet, found, machine)


def candidates(job: PieceJob, problem: CuttingProblem) -> list[SheetStock]:
    """Return the sheets a job names, in its own order."""
    stock = {sheet.material: sheet for sheet in problem.sheets}
    return [stock[name] for name in job.cut_from if name in stock]


def ticket(job: PieceJob, sheet: SheetStock, found: Fit, machine: Guillotine) -> CuttingTicket:
    """Work out sheets, lifts, cuts, minutes and cost of a job on one sheet and one machine."""
    sheets = ceil_div(job.wanted, found.out)
    per_lift = sheets_per_lift(sheet, machine)
    lifts = ceil_div(sheets, per_lift)
    cuts = count_cuts(found.tree)
    turns = sum(step.turns for step in steps(found.tree, machine.smallest_strip))
    minutes = lifts * machine.minutes_for(cuts, turns)
    return CuttingTicket(
        job=job,
        sheet=sheet,
        machine=machine,
        tree=found.tree,
        out=found.out,
        proved=found.proved,
        sheets=sheets,
        sheets_per_lift=per_lift,
        lifts=lifts,
        cuts_per_lift=cuts,
        turns_per_lift=turns,
        minutes=minutes,
        cost=minutes * machine.cost_per_hour / MINUTES_AN_HOUR,
    )


def sheets_per_lift(sheet: SheetStock, machine: Guillotine) -> int:
    """Return how many sheets the machine's lift height takes; one at a time when the caliper is not known."""
    if sheet.thickness is None:
        return 1
    return max(1, sheets_in(machine.lift_height, sheet.thickness))


def length_ticket(job: LengthJob, roll: Roll) -> LengthTicket:
    """Cut lengths from single rolls: floor(roll / length) each, never the pooled length of all rolls."""
    out = roll.length // job.length
    if out == 0:
        raise CuttingError(
            f"{job.name}: {format_length(job.length)} is longer than a roll of {roll.name} "
            f"({format_length(roll.length)}). Name a longer roll or a shorter length."
        )
    return LengthTicket(job=job, roll=roll, out=out, rolls=ceil_div(job.wanted, out))


def ceil_div(count: int, size: int) -> int:
    """Return how many lots of `size` hold `count`."""
    return -(-count // size)


def how_it_ended(tickets: Sequence[CuttingTicket]) -> str:
    """Say what is proved of the plan."""
    open_jobs = [ticket.job.name for ticket in tickets if not ticket.proved]
    if open_jobs:
        return f"number out not proved best for: {', '.join(open_jobs)}"
    return "proved: with one piece size to a sheet, no guillotine cutting of these sheets uses fewer"


def no_sheet_message(job: PieceJob, problem: CuttingProblem) -> str:
    """Say of each sheet named why it does not do."""
    size = f"{format_length(job.width)} x {format_length(job.height)}"
    reasons = [why_not(job, sheet, problem) for sheet in candidates(job, problem)]
    said = "; ".join(reasons) or "names no sheet to cut it from"
    return f"{job.name}, {size}, {said}. Name another sheet, direction or guillotine."


def why_not(job: PieceJob, sheet: SheetStock, problem: CuttingProblem) -> str:
    """Say why a job is not cut from a sheet."""
    name = f"{sheet.name} ({format_length(sheet.width)} x {format_length(sheet.height)})"
    if question(job, sheet) is None:
        return f"does not come out of {name} in the direction asked for"
    openings = [machine.opening for machine in problem.guillotines]
    if not openings:
        return f"comes out of {name}, but there is no guillotine"
    widest = format_length(max(openings))
    return f"comes out of {name} only with a cut longer than {widest}, the opening of the widest guillotine"
