"""The rule of the cutting step: each job on the sheet that costs least, cut as well as it can be.

One piece size to a sheet. The number out is proved by `kits.guillotine`; which sheet to take follows from it.
"""

from collections.abc import Iterator
from fractions import Fraction

from kits.catalogue import Grain
from kits.guillotine import PieceTooLargeError, SheetResult, Turn, count_cuts, number_out
from kits.kit import Direction
from kits.measures import format_length, sheets_in
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

MINUTES_AN_HOUR = 60


def plan_cutting(problem: CuttingProblem) -> CuttingResult:
    """Choose a sheet, a trim and a machine for every job. Raises CuttingError where no sheet yields the piece."""
    tickets = tuple(cheapest_ticket(job, problem) for job in problem.pieces if job.wanted)
    rolls = {roll.material: roll for roll in problem.rolls}
    lengths = tuple(length_ticket(job, rolls[job.cut_from]) for job in problem.lengths if job.wanted)
    return CuttingResult(tickets=tickets, lengths=lengths, ended=how_it_ended(tickets))


def cheapest_ticket(job: PieceJob, problem: CuttingProblem) -> CuttingTicket:
    """Return the ticket that costs least in paper and knife time, then uses fewest sheets, then the first named."""
    tickets = list(possible_tickets(job, problem))
    if not tickets:
        raise CuttingError(no_sheet_message(job, problem))
    return min(tickets, key=lambda ticket: (paper_cost(ticket) + Fraction(ticket.cost), ticket.sheets))


def possible_tickets(job: PieceJob, problem: CuttingProblem) -> Iterator[CuttingTicket]:
    """Yield a ticket for every sheet the job may be cut from and every guillotine that takes it."""
    for sheet in candidates(job, problem):
        cut = best_cut(job, sheet)
        if cut is None:
            continue
        for machine in problem.guillotines:
            if min(sheet.width, sheet.height) <= machine.opening:
                yield ticket(job, sheet, cut, machine)


def candidates(job: PieceJob, problem: CuttingProblem) -> list[SheetStock]:
    """Return the sheets a job names, in its own order."""
    stock = {sheet.material: sheet for sheet in problem.sheets}
    return [stock[name] for name in job.cut_from if name in stock]


def best_cut(job: PieceJob, sheet: SheetStock) -> SheetResult | None:
    """Return the proved best trim of one sheet for the job, None when not one piece comes out."""
    turn = turn_on(job, sheet)
    if turn is None:
        return None
    try:
        return number_out(sheet.width, sheet.height, job.width, job.height, turn, name=job.name)
    except PieceTooLargeError:
        return None


def turn_on(job: PieceJob, sheet: SheetStock) -> Turn | None:
    """Return which way round the piece may lie on the sheet; None when it asks for a grain the sheet does not state."""
    if job.direction is Direction.ANY:
        return Turn.FREE
    if job.direction is Direction.NOT_TURNED:
        return Turn.NONE
    if sheet.grain is Grain.NONE:
        return None
    along_width = job.direction is Direction.GRAIN_ALONG_WIDTH
    return Turn.NONE if along_width == (sheet.grain is Grain.WIDTH) else Turn.QUARTER


def ticket(job: PieceJob, sheet: SheetStock, cut: SheetResult, machine: Guillotine) -> CuttingTicket:
    """Work out sheets, lifts, cuts, minutes and cost of a job on one sheet and one machine."""
    sheets = ceil_div(job.wanted, cut.value)
    per_lift = sheets_per_lift(sheet, machine)
    lifts = ceil_div(sheets, per_lift)
    cuts = count_cuts(cut.tree)
    minutes = lifts * (machine.minutes_per_lift + cuts * machine.minutes_per_cut)
    return CuttingTicket(
        job=job,
        sheet=sheet,
        machine=machine,
        tree=cut.tree,
        out=cut.value,
        proved=cut.value == cut.bound,
        sheets=sheets,
        sheets_per_lift=per_lift,
        lifts=lifts,
        cuts_per_lift=cuts,
        minutes=minutes,
        cost=minutes * machine.cost_per_hour / MINUTES_AN_HOUR,
    )


def sheets_per_lift(sheet: SheetStock, machine: Guillotine) -> int:
    """Return how many sheets the machine's lift height takes; one at a time when the caliper is not known."""
    if sheet.thickness is None:
        return 1
    return max(1, sheets_in(machine.lift_height, sheet.thickness))


def paper_cost(ticket: CuttingTicket) -> Fraction:
    """Price the ticket's sheets; a sheet without a price counts as free, so that stock on hand is used."""
    return ticket.sheets * (ticket.sheet.price or Fraction(0))


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


def how_it_ended(tickets: tuple[CuttingTicket, ...]) -> str:
    """Say what is proved of the plan."""
    open_jobs = [ticket.job.name for ticket in tickets if not ticket.proved]
    if open_jobs:
        return f"number out not proved best for: {', '.join(open_jobs)}"
    return "proved: with one piece size to a sheet, no guillotine cutting of these sheets uses fewer"


def no_sheet_message(job: PieceJob, problem: CuttingProblem) -> str:
    """Say which sheets were tried in vain."""
    size = f"{format_length(job.width)} x {format_length(job.height)}"
    tried = ", ".join(
        f"{sheet.name} ({format_length(sheet.width)} x {format_length(sheet.height)})"
        for sheet in candidates(job, problem)
    )
    return (
        f"{job.name}, {size}, does not come out of {tried or 'any sheet named'} in the direction asked for, or no "
        "guillotine takes that sheet. Name a larger sheet or another direction."
    )
