"""The checker of the cutting step. It shares no code with the search and re-counts everything from the tree."""

from collections.abc import Iterator

from kits.catalogue import Grain
from kits.guillotine import placed_pieces, tree_faults
from kits.kit import Direction
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
    name = ticket.job.name
    for fault in tree_faults(ticket.tree, ticket.sheet.width, ticket.sheet.height):
        yield f"{name}: {fault}"
    pieces = placed_pieces(ticket.tree)
    if len(pieces) != ticket.out:
        yield f"{name}: the drawing holds {len(pieces)} pieces, the ticket says {ticket.out}"
    for piece in pieces:
        if not lies_as_asked(ticket, piece.width, piece.height):
            yield f"{name}: a piece of {piece.width} x {piece.height} at {piece.x}, {piece.y} is not what was asked for"
    if ticket.lifts * ticket.sheets_per_lift < ticket.sheets:
        yield f"{name}: {ticket.lifts} lifts of {ticket.sheets_per_lift} do not hold {ticket.sheets} sheets"
    if ticket.sheet.thickness is not None and ticket.sheets_per_lift > 1:
        if ticket.sheet.thickness * ticket.sheets_per_lift > ticket.machine.lift_height:
            yield f"{name}: a lift of {ticket.sheets_per_lift} is higher than {ticket.machine.name} is set for"


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
    made = {ticket.job.item: ticket.made for ticket in result.tickets}
    made |= {ticket.job.item: ticket.made for ticket in result.lengths}
    for job in (*problem.pieces, *problem.lengths):
        if made.get(job.item, 0) < job.count + job.overs:
            yield f"{job.name}: {job.count + job.overs} wanted, {made.get(job.item, 0)} cut"
