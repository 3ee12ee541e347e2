"""The checker of the cutting step. It shares no code with the search and counts everything again from the tree."""

from collections import Counter
from collections.abc import Iterator
from decimal import Decimal

from kits.catalogue import Grain
from kits.guillotine import Edge, PieceSize, SheetProblem, Step, check, count_pieces, pieces, steps
from kits.kit import Direction
from kits.measures import Length, format_length
from planning.cutting.model import CuttingProblem, PieceJob
from planning.cutting.result import CuttingResult, CuttingTicket

TINY = Decimal("1E-9")  # of money: a sixtieth has no end


def cutting_faults(problem: CuttingProblem, result: CuttingResult) -> tuple[str, ...]:
    """Return every way in which the plan does not do what was asked; none means it does."""
    faults = [fault for ticket in result.tickets for fault in ticket_faults(problem, ticket)]
    faults += unmet(problem, result)
    for roll in result.lengths:
        if roll.out * roll.job.length > roll.roll.length:
            faults.append(f"{roll.job.name}: {roll.out} lengths do not come out of one roll")
    return tuple(faults)


def ticket_faults(problem: CuttingProblem, ticket: CuttingTicket) -> Iterator[str]:
    """Check one ticket: a true guillotine tree, the right pieces lying the right way, lifts within the machine."""
    sheet, name = ticket.sheet, ticket.name
    if sheet not in problem.sheets or ticket.machine not in problem.guillotines:
        yield f"{name}: {sheet.name} or {ticket.machine.name} is none of those asked for"
    jobs = {one.label: one.job for one in ticket.pieces}
    sizes = tuple(PieceSize(label, job.width, job.height) for label, job in jobs.items())
    asked = SheetProblem(sheet.width, sheet.height, sizes, sheet.edge_trim)
    yield from (str(fault) for fault in check(asked, ticket.tree))
    yield from wrong_pieces(ticket, jobs)
    yield from wrong_lifts(ticket)
    yield from too_long(ticket)
    yield from wrong_minutes(ticket)


def wrong_pieces(ticket: CuttingTicket, jobs: dict[str, PieceJob]) -> Iterator[str]:
    """Check that each kind of piece is on the sheet as often as the ticket says, from a sheet it may come from."""
    found = count_pieces(ticket.tree)
    for one in ticket.pieces:
        if found.get(one.label, 0) != one.out:
            yield f"{one.label}: the drawing holds {found.get(one.label, 0)} pieces, the ticket says {one.out}"
        if ticket.source not in one.job.cut_from:
            yield f"{one.label}: it may not be cut from {ticket.sheet.name}"
    for placed in pieces(ticket.tree):
        job = jobs.get(getattr(placed.part, "name", ""))
        if job and not lies_as_asked(job, ticket.sheet.grain, placed.part.width, placed.part.height):
            yield f"{job.name}: a piece lies with its grain or print the wrong way"


def wrong_lifts(ticket: CuttingTicket) -> Iterator[str]:
    """Check that the lifts hold the sheets, and that none is too high."""
    if (
        not (ticket.lifts - 1) * ticket.sheets_per_lift
        < ticket.sheets
        <= ticket.lifts * ticket.sheets_per_lift
    ):
        yield f"{ticket.name}: {ticket.lifts} lifts of {ticket.sheets_per_lift} are not those of {ticket.sheets} sheets"
    if (
        ticket.sheets_per_lift > 1
        and (ticket.sheet.thickness or 0) * ticket.sheets_per_lift > ticket.machine.lift_height
    ):
        yield f"{ticket.name}: a lift of {ticket.sheets_per_lift} is higher than {ticket.machine.name} is set for"


def wrong_minutes(ticket: CuttingTicket) -> Iterator[str]:
    """Add up what the cuts of a lift take: like cuts of equal parts fall together as far as the knife is long."""
    machine = ticket.machine
    made = steps(ticket.tree, machine.smallest_strip)
    alike: Counter[tuple[object, ...]] = Counter(likeness(step) for step in made)
    cuts, turns = 0, 0
    for step in {likeness(step): step for step in made}.values():
        strokes = -(-alike[likeness(step)] // max(1, machine.opening // line(step)))
        cuts, turns = cuts + strokes, turns + strokes * step.turns
    least = machine.minutes_per_lift + cuts * machine.minutes_per_cut + turns * machine.minutes_per_turn
    most = machine.minutes_per_lift + sum(
        (machine.minutes_per_cut + step.turns * machine.minutes_per_turn for step in made), Decimal(0)
    )
    if not least * ticket.lifts <= ticket.minutes <= most * ticket.lifts:
        low, high = least * ticket.lifts, most * ticket.lifts
        yield f"{ticket.name}: {ticket.minutes} minutes, its cuts take {low} to {high}"
    minutes = machine.minutes_per_lift + ticket.cuts_per_lift * machine.minutes_per_cut
    minutes += ticket.turns_per_lift * machine.minutes_per_turn
    if ticket.minutes != minutes * ticket.lifts:
        yield f"{ticket.name}: {ticket.minutes} minutes, its lines take {minutes * ticket.lifts}"
    if abs(ticket.cost * 60 - ticket.minutes * machine.cost_per_hour) > TINY:
        yield f"{ticket.name}: {ticket.cost} is not what {ticket.minutes} minutes cost"


def likeness(step: Step) -> tuple[object, ...]:
    """Return what cuts share that may fall together: the size in hand, the edge at the stop, the gauge, what comes off."""
    return step.width, step.height, step.stop, step.gauge, step.turns, step.off.part


def line(step: Step) -> Length:
    """Return how long a cut is: as wide as what lies at the stop."""
    return step.width if step.stop in (Edge.TOP, Edge.BOTTOM) else step.height


def too_long(ticket: CuttingTicket) -> Iterator[str]:
    """Follow the steps at the machine: no cut is longer than its opening."""
    machine = ticket.machine
    for step in steps(ticket.tree):
        if line(step) > machine.opening:
            opening = format_length(machine.opening)
            yield f"{ticket.name}: a cut of {format_length(line(step))} is longer than the {opening} {machine.name} opens"


def lies_as_asked(job: PieceJob, grain: Grain, width: Length, height: Length) -> bool:
    """Tell whether a rectangle on the sheet is the job's piece, with its grain where one is asked for."""
    straight = (width, height) == (job.width, job.height)
    turned = (width, height) == (job.height, job.width)
    if job.direction is Direction.ANY:
        return straight or turned
    if job.direction is Direction.NOT_TURNED:
        return straight
    if grain is Grain.NONE:
        return False
    fibres_along_width = job.direction is Direction.GRAIN_ALONG_WIDTH
    return straight if fibres_along_width == (grain is Grain.WIDTH) else turned


def unmet(problem: CuttingProblem, result: CuttingResult) -> Iterator[str]:
    """Yield the jobs for which too little is cut."""
    made: Counter[str] = Counter()
    for ticket in result.tickets:
        names = {one.label: one.job.item for one in ticket.pieces}
        for label, count in count_pieces(ticket.tree).items():
            made[names.get(label, "")] += count * ticket.sheets
    for length in result.lengths:
        made[length.job.item] += length.out * length.rolls
    for job in problem.jobs:
        if made[job.item] < job.count + job.overs:
            yield f"{job.name}: {job.count + job.overs} wanted, {made[job.item]} cut"
