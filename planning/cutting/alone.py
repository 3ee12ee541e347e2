"""One piece size to a sheet: each job on the sheet that costs least, cut as well as it can be.

The number out is proved by `kits.guillotine`; which sheet to take follows from what the sheets still to be bought cost
(`supply.py`), job after job.
"""

from collections import Counter
from collections.abc import Iterator, Mapping
from decimal import Decimal

from kits.measures import format_length
from planning.cutting.fit import Fit, fit, question
from planning.cutting.model import CuttingError, CuttingProblem, PieceJob, SheetStock
from planning.cutting.result import CuttingTicket
from planning.cutting.supply import Supply
from planning.cutting.tickets import ticket


def alone(named: Mapping[str, PieceJob], problem: CuttingProblem) -> tuple[tuple[CuttingTicket, ...], bool]:
    """Return a ticket for every job, and whether each sheet is proved to yield the most of its piece.

    A job pays for what it adds to the sheets that the jobs before it cut already. Raises CuttingError where no sheet yields
    a piece.
    """
    cut: Counter[str] = Counter()
    tickets: list[CuttingTicket] = []
    is_proved = True
    for label, job in named.items():
        one, proved = cheapest_ticket(label, job, problem, cut)
        cut[one.source] += one.sheets
        tickets.append(one)
        is_proved = is_proved and proved
    return tuple(tickets), is_proved


def cheapest_ticket(
    label: str, job: PieceJob, problem: CuttingProblem, cut: Counter[str]
) -> tuple[CuttingTicket, bool]:
    """Return the best ticket. Sheets that are there in time come before late ones, and these before ones nobody sells.

    Then the least cost of paper and knife time decides, then no narrow strips, then fewest sheets, then the first named.
    """
    tickets = list(possible_tickets(label, job, problem))
    if not tickets:
        raise CuttingError(no_sheet_message(job, problem))
    supplies = {one.material: one for one in problem.supplies}

    def rank(entry: tuple[CuttingTicket, bool]) -> tuple[bool, bool, Decimal, bool, int]:
        one = entry[0]
        paper = supplies.get(one.source, Supply(material=one.source)).outlay(cut[one.source], one.sheets)
        return paper.short, paper.late, paper.cost + one.cost, one.too_narrow is not None, one.sheets

    return min(tickets, key=rank)


def possible_tickets(
    label: str, job: PieceJob, problem: CuttingProblem
) -> Iterator[tuple[CuttingTicket, bool]]:
    """Yield a ticket for every sheet the job may be cut from and every guillotine that takes it, and its proof."""
    for sheet in candidates(job, problem):
        for machine in problem.guillotines:
            if found := fit(label, job, sheet, machine):
                yield ticket(sheet, found.tree, sheets_for(job, found), machine, {label: job}), found.proved


def ways_to_cut(job: PieceJob, problem: CuttingProblem) -> Iterator[CuttingTicket]:
    """Yield a ticket for every sheet a job may be cut from alone, and every guillotine that takes it."""
    yield from (one for one, _ in possible_tickets(job.name, job, problem))


def sheets_for(job: PieceJob, found: Fit) -> int:
    """Return how many sheets a job takes: what is wanted over the number out, rounded up."""
    return -(-job.wanted // found.out)


def candidates(job: PieceJob, problem: CuttingProblem) -> list[SheetStock]:
    """Return the sheets a job names, in its own order."""
    stock = {sheet.material: sheet for sheet in problem.sheets}
    return [stock[name] for name in job.cut_from if name in stock]


def no_sheet_message(job: PieceJob, problem: CuttingProblem) -> str:
    """Say of each sheet named why it does not do."""
    size = f"{format_length(job.width)} x {format_length(job.height)}"
    reasons = [why_not(job, sheet, problem) for sheet in candidates(job, problem)]
    said = "; ".join(reasons) or "names no sheet to cut it from"
    return f"{job.name}, {size}, {said}. Name another sheet, direction or guillotine."


def why_not(job: PieceJob, sheet: SheetStock, problem: CuttingProblem) -> str:
    """Say why a job is not cut from a sheet."""
    name = f"{sheet.name} ({format_length(sheet.width)} x {format_length(sheet.height)})"
    if question(job.name, job, sheet) is None:
        trims = f", trimmed {format_length(sheet.trim)} at each edge," if sheet.trim else ""
        return f"does not come out of {name}{trims} in the direction asked for"
    openings = [machine.opening for machine in problem.guillotines]
    if not openings:
        return f"comes out of {name}, but there is no guillotine"
    widest = format_length(max(openings))
    return f"comes out of {name} only with a cut longer than {widest}, the opening of the widest guillotine"
