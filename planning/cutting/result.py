"""The answer of the cutting step: tickets, what is proved of them, and the plans there were to choose from."""

from collections import Counter
from dataclasses import dataclass
from decimal import Decimal

from kits.guillotine import Line, Part, lines
from kits.measures import Length, format_length
from planning.cutting.machine import Guillotine
from planning.cutting.model import LengthJob, PieceJob, Roll, SheetStock


@dataclass(frozen=True, slots=True, kw_only=True)
class OnTicket:
    """The pieces of one job that a ticket cuts. label: their name in the drawing; out: how many one sheet yields."""

    job: PieceJob
    label: str
    out: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingTicket:
    """Sheets of one size, all cut alike by `tree`.

    pieces: what one sheet yields, in the order of the jobs. lifts: stacks under the knife, of `sheets_per_lift` but for
    the last. cuts_per_lift, turns_per_lift: parts cut alike cut and turned as one. minutes and cost by the machine's own
    figures.
    """

    pieces: tuple[OnTicket, ...]
    sheet: SheetStock
    machine: Guillotine
    tree: Part
    sheets: int
    sheets_per_lift: int
    lifts: int
    cuts_per_lift: int
    turns_per_lift: int
    minutes: Decimal
    cost: Decimal

    @property
    def name(self) -> str:
        """The pieces it cuts, in words."""
        return ", ".join(one.job.name for one in self.pieces)

    @property
    def source(self) -> str:
        """Code of the material that is cut."""
        return self.sheet.material

    @property
    def units(self) -> int:
        """Buying units of the material that are cut."""
        return self.sheets

    @property
    def out(self) -> int:
        """Pieces of all jobs that one sheet yields."""
        return sum(one.out for one in self.pieces)

    @property
    def made(self) -> int:
        """Pieces of all jobs that all sheets yield."""
        return self.out * self.sheets

    @property
    def items(self) -> tuple[str, ...]:
        """The jobs' items."""
        return tuple(one.job.item for one in self.pieces)

    def made_of(self, item: str) -> int:
        """Return the pieces of one job that all sheets yield."""
        return sum(one.out for one in self.pieces if one.job.item == item) * self.sheets

    @property
    def areas(self) -> dict[str, int]:
        """The area on one sheet of each job's pieces, by item: the paper is shared out by it."""
        return {one.job.item: one.out * one.job.width * one.job.height for one in self.pieces}

    @property
    def cuts(self) -> int:
        """Knife strokes of the whole ticket."""
        return self.cuts_per_lift * self.lifts

    @property
    def turns(self) -> int:
        """Quarter turns of the whole ticket."""
        return self.turns_per_lift * self.lifts

    @property
    def lines(self) -> tuple[Line, ...]:
        """The cuts of one lift, in order."""
        return lines(self.tree, self.machine.smallest_strip, self.machine.opening)

    @property
    def too_narrow(self) -> Length | None:
        """The narrowest strip a cut would hold, where that is below the machine's smallest; else None."""
        return self.machine.too_narrow(self.tree)

    @property
    def narrow_words(self) -> str:
        """That a strip is too narrow for the machine, in words; nothing where none is."""
        if (strip := self.too_narrow) is None:
            return ""
        smallest = format_length(self.machine.smallest_strip)
        return f"a cut would hold a strip of {format_length(strip)}, and {self.machine.name} is set for {smallest} or more"


@dataclass(frozen=True, slots=True, kw_only=True)
class LengthTicket:
    """One length cut from rolls. A length never runs over from one roll to the next."""

    job: LengthJob
    roll: Roll
    out: int
    rolls: int

    @property
    def source(self) -> str:
        """Code of the material that is cut."""
        return self.roll.material

    @property
    def units(self) -> int:
        """Buying units of the material that are cut."""
        return self.rolls

    @property
    def items(self) -> tuple[str, ...]:
        """The job's item."""
        return (self.job.item,)

    @property
    def made(self) -> int:
        """Lengths all rolls yield."""
        return self.out * self.rolls

    def made_of(self, item: str) -> int:
        """Return the lengths of one job that all rolls yield."""
        return self.made if item == self.job.item else 0

    @property
    def areas(self) -> dict[str, int]:
        """The whole roll is the job's."""
        return {self.job.item: 1}

    @property
    def spare(self) -> int:
        """Lengths beyond the good ones and the overs."""
        return self.made - self.job.wanted


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """A way to cut the jobs of a group, as a line of a table.

    words: what makes it different. paper: what its sheets add to the orders; knife: the machine's time, both in money.
    narrow: some cut would hold a strip narrower than the machine is set for.
    """

    words: str
    sheets: int
    patterns: int
    minutes: Decimal
    paper: Decimal
    knife: Decimal
    narrow: bool
    is_taken: bool

    @property
    def cost(self) -> Decimal:
        """Paper and knife together."""
        return self.paper + self.knife


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Jobs that may share a sheet. proof: what is proved of how they are cut, in words; choices: the best first."""

    items: tuple[str, ...]
    names: tuple[str, ...]
    proof: str
    is_proved: bool
    choices: tuple[Choice, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingResult:
    """Tickets, group by group in the order of the jobs. ended: what is proved of them, in words."""

    tickets: tuple[CuttingTicket, ...]
    lengths: tuple[LengthTicket, ...]
    groups: tuple[Group, ...] = ()
    ended: str

    @property
    def all(self) -> tuple["CuttingTicket | LengthTicket", ...]:
        """Tickets for sheets, then for rolls."""
        return (*self.tickets, *self.lengths)

    @property
    def jobs(self) -> tuple[PieceJob | LengthJob, ...]:
        """Every job once, in the order of the tickets."""
        pieces = {one.job.item: one.job for ticket in self.tickets for one in ticket.pieces}
        return (*pieces.values(), *(ticket.job for ticket in self.lengths))

    @property
    def made(self) -> Counter[str]:
        """Pieces and lengths that all tickets yield, by item."""
        made: Counter[str] = Counter()
        for ticket in self.all:
            for item in ticket.items:
                made[item] += ticket.made_of(item)
        return made

    @property
    def spare(self) -> dict[str, int]:
        """Pieces and lengths beyond the good ones and the overs, by item: what filling sheets and rolls yields."""
        made = self.made
        return {job.item: made[job.item] - job.wanted for job in self.jobs}

    @property
    def sources(self) -> dict[str, tuple[str, ...]]:
        """The materials each item is cut from."""
        found: dict[str, tuple[str, ...]] = {}
        for ticket in self.all:
            for item in ticket.items:
                found[item] = tuple(dict.fromkeys((*found.get(item, ()), ticket.source)))
        return found

    @property
    def sheets(self) -> int:
        """Sheets cut in all."""
        return sum(ticket.sheets for ticket in self.tickets)

    @property
    def minutes(self) -> Decimal:
        """Minutes at the guillotine in all."""
        return sum((ticket.minutes for ticket in self.tickets), Decimal(0))
