"""What was cut so far against the tickets: what is still to come, and which pieces will be too few."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from planning.cutting import CuttingResult, PieceJob


@dataclass(frozen=True, slots=True)
class Booked:
    """Pieces of one kind that were booked as cut."""

    good: int = 0
    spoiled: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class CutSoFar:
    """One kind of piece. needed: good ones for the boxes; planned: what all tickets make; out: the most one sheet yields.

    Of the planned pieces each is good, spoiled or still to be cut; a booking beyond the tickets leaves nothing to cut.
    """

    item: str
    name: str
    needed: int
    planned: int
    good: int
    spoiled: int
    out: int

    @property
    def to_cut(self) -> int:
        """Pieces the tickets still make."""
        return max(0, self.planned - self.good - self.spoiled)

    @property
    def short(self) -> int:
        """Good pieces that will lack for the boxes even if none of those still to be cut is spoiled."""
        return max(0, self.needed - self.good - self.to_cut)

    @property
    def more_sheets(self) -> int:
        """Sheets of the ticket that yields most of it, cut once more, that make good what is short."""
        return -(-self.short // self.out) if self.short else 0

    @property
    def spoilage(self) -> Fraction | None:
        """The part of what was cut that is spoiled; None before anything is."""
        cut = self.good + self.spoiled
        return Fraction(self.spoiled, cut) if cut else None


def cut_so_far(cutting: CuttingResult, booked: Mapping[str, Booked]) -> Iterator[CutSoFar]:
    """Yield a line for every piece and length that is cut. booked: by item; what is missing was not booked yet."""
    made = cutting.made
    for job in cutting.jobs:
        own = booked.get(job.item, Booked())
        outs = [one.out for ticket in cutting.tickets for one in ticket.pieces if one.job.item == job.item]
        outs += [ticket.out for ticket in cutting.lengths if ticket.job.item == job.item]
        yield CutSoFar(
            item=job.item,
            name=job.name,
            needed=job.count,
            planned=made[job.item] if isinstance(job, PieceJob) else job.wanted,  # the rest stays on the roll
            good=own.good,
            spoiled=own.spoiled,
            out=max(outs),
        )
