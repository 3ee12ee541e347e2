"""The checker of the cutting step. It shares no code with the search and counts everything again from the tree."""

from collections.abc import Iterator

from kits.catalogue import Grain
from kits.guillotine import Edge, PieceSize, SheetProblem, check, pieces, steps
from kits.kit import Direction
from kits.measures import format_length
from planning.cutting.model import CuttingProblem, CuttingResult, CuttingTicket


def cutting_faults(problem: CuttingProblem, result: CuttingResult) -> tuple[str, ...]:
    """Return every way in which the plan does not do what was asked; none means it does."""
    faults = [fault for ticket in result.tickets for fault in ticket_faults(ticket)]
    faults += unmet(problem, result)
    for roll in result.lengths:
        if roll.out * roll.job.length > roll.roll.length:
            faults.append(f"{roll.job.name}: {roll.out} lengths do not come out of one roll")
    return tuple(faults)


def ticket_faults(ticket: CuttingTicket) -> Iterator[str]:
    """Check one ticket: a true guillotine tree, the right pieces lying the right way, lifts within the machine."""
    job, sheet, name = ticket.job, ticket.sheet, ticket.job.name
    anyhow = SheetProblem(sheet.width, sheet.height, (PieceSize(name, job.width, job.height),))
    yield from (str(fault) for fault in check(anyhow, ticket.tree))
    found = pieces(ticket.tree)
    if len(found) != ticket.out:
        yield f"{name}: the drawing holds {len(found)} pieces, the ticket says {ticket.out}"
    for placed in found:
        if not lies_as_asked(ticket, placed.part.width, placed.part.height):
            yield f"{name}: a piece lies with its grain or print the wrong way"
    if ticket.lifts * ticket.sheets_per_lift < ticket.sheets:
        yield f"{name}: {ticket.lifts} lifts of {ticket.sheets_per_lift} do not hold {ticket.sheets} sheets"
    if (
        ticket.sheets_per_lift > 1
        and (sheet.thickness or 0) * ticket.sheets_per_lift > ticket.machine.lift_height
    ):
        yield f"{name}: a lift of {ticket.sheets_per_lift} is higher than {ticket.machine.name} is set for"
    yield from too_long(ticket)
    yield from wrong_minutes(ticket)


def wrong_minutes(ticket: CuttingTicket) -> Iterator[str]:
    """Add up what every line of the ticket takes."""
    machine, total = ticket.machine, ticket.machine.minutes_per_lift
    for step in steps(ticket.tree, machine.smallest_strip):
        total += machine.minutes_per_cut + step.turns * machine.minutes_per_turn
    if ticket.minutes != total * ticket.lifts:
        yield f"{ticket.job.name}: {ticket.minutes} minutes, its lines take {total * ticket.lifts}"


def too_long(ticket: CuttingTicket) -> Iterator[str]:
    """Follow the steps at the machine: whatever lies at the stop is as wide there as the cut is long."""
    machine = ticket.machine
    for step in steps(ticket.tree):
        line = step.width if step.stop in (Edge.TOP, Edge.BOTTOM) else step.height
        if line > machine.opening:
            opening = format_length(machine.opening)
            yield f"{ticket.job.name}: a cut of {format_length(line)} is longer than the {opening} {machine.name} opens"


def lies_as_asked(ticket: CuttingTicket, width: int, height: int) -> bool:
    """Tell whether a rectangle on the sheet is the job's piece, with its grain where one is asked for."""
    job, sheet = ticket.job, ticket.sheet
    straight = (width, height) == (job.width, job.height)
    turned = (width, height) == (job.height, job.width)
    if job.direction is Direction.ANY:
        return straight or turned
    if job.direction is Direction.NOT_TURNED:
        return straight
    fibres_along_width = job.direction is Direction.GRAIN_ALONG_WIDTH
    return straight if fibres_along_width == (sheet.grain is Grain.WIDTH) else turned


def unmet(problem: CuttingProblem, result: CuttingResult) -> Iterator[str]:
    """Yield the jobs for which too little is cut."""
    made = {ticket.job.item: ticket.made for ticket in result.all}
    for job in problem.jobs:
        if made.get(job.item, 0) < job.count + job.overs:
            yield f"{job.name}: {job.count + job.overs} wanted, {made.get(job.item, 0)} cut"
