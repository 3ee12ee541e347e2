"""From a cut sheet to its ticket: which machine cuts it, in how many lifts, and how long that takes."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Decimal

from kits.guillotine import Part, count_pieces
from planning.cutting.machine import Guillotine
from planning.cutting.model import PieceJob, SheetStock
from planning.cutting.result import CuttingTicket, OnTicket

MINUTES_AN_HOUR = 60

Labels = Mapping[str, PieceJob]


def labels(jobs: Sequence[PieceJob]) -> dict[str, PieceJob]:
    """Name the jobs' pieces for drawings: by their names, and by their items too where two have one name."""
    names = [job.name for job in jobs]
    return {job.name if names.count(job.name) == 1 else f"{job.name} ({job.item})": job for job in jobs}


def ticket(sheet: SheetStock, tree: Part, sheets: int, machine: Guillotine, named: Labels) -> CuttingTicket:
    """Work out lifts, cuts, minutes and cost of sheets that are all cut alike on one machine."""
    per_lift = machine.sheets_per_lift(sheet.thickness)
    lifts = -(-sheets // per_lift)
    cuts, turns = machine.cuts_and_turns(tree)
    minutes = lifts * machine.minutes_for(cuts, turns)
    return CuttingTicket(
        pieces=tuple(on_ticket(tree, named)),
        sheet=sheet,
        machine=machine,
        tree=tree,
        sheets=sheets,
        sheets_per_lift=per_lift,
        lifts=lifts,
        cuts_per_lift=cuts,
        turns_per_lift=turns,
        minutes=minutes,
        cost=minutes * machine.cost_per_hour / MINUTES_AN_HOUR,
    )


def on_ticket(tree: Part, named: Labels) -> Iterator[OnTicket]:
    """Yield the pieces a sheet yields, in the order of the jobs."""
    out = count_pieces(tree)
    for label, job in named.items():
        if label in out:
            yield OnTicket(job=job, label=label, out=out[label])


def cheapest(tickets: Iterable[CuttingTicket]) -> CuttingTicket | None:
    """Return the ticket with no narrow strip if there is one, and of these the one that costs least."""
    ranked = sorted(tickets, key=lambda one: (one.too_narrow is not None, one.cost))
    return ranked[0] if ranked else None


def total_cost(tickets: Iterable[CuttingTicket]) -> Decimal:
    """Return what the machines' time for tickets costs."""
    return sum((one.cost for one in tickets), Decimal(0))
