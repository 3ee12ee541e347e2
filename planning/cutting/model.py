"""The question and the answer of the cutting step."""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from kits.catalogue import Grain
from kits.guillotine import Part
from kits.kit import Direction
from kits.measures import Length, format_length
from planning.cutting.machine import Guillotine
from planning.cutting.supply import Supply


class CuttingError(ValueError):
    """A piece that no sheet offered yields; the message names piece and sheets."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceJob:
    """`count` good pieces wanted and `overs` besides, from any one of the sheet materials named."""

    item: str
    name: str
    width: int
    height: int
    count: int
    overs: int = 0
    cut_from: tuple[str, ...]
    direction: Direction = Direction.ANY

    @property
    def wanted(self) -> int:
        """Pieces to cut, overs included."""
        return self.count + self.overs


@dataclass(frozen=True, slots=True, kw_only=True)
class LengthJob:
    """`count` good lengths wanted and `overs` besides, from one roll material."""

    item: str
    name: str
    length: int
    count: int
    overs: int = 0
    cut_from: str

    @property
    def wanted(self) -> int:
        """Lengths to cut, overs included."""
        return self.count + self.overs


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetStock:
    """A sheet pieces may be cut from."""

    material: str
    name: str
    width: int
    height: int
    grain: Grain = Grain.NONE
    thickness: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Roll:
    """A roll lengths are cut from."""

    material: str
    name: str
    length: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingProblem:
    """Jobs, what they may be cut from, where the sheets come from, and the guillotines there are."""

    pieces: tuple[PieceJob, ...]
    lengths: tuple[LengthJob, ...] = ()
    sheets: tuple[SheetStock, ...] = ()
    supplies: tuple[Supply, ...] = ()
    rolls: tuple[Roll, ...] = ()
    guillotines: tuple[Guillotine, ...] = ()

    @property
    def jobs(self) -> tuple[PieceJob | LengthJob, ...]:
        """Jobs for sheets, then for rolls."""
        return (*self.pieces, *self.lengths)


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingTicket:
    """One job on one sheet size: every sheet cut alike by `tree`.

    out: pieces a sheet yields; proved: no guillotine cutting of that sheet yields more. made: pieces of all sheets;
    spare: made beyond good and overs. lifts: stacks under the knife, at most `sheets_per_lift` each. cuts: knife strokes
    of the whole ticket. minutes and cost by the machine's own figures.
    """

    job: PieceJob
    sheet: SheetStock
    machine: Guillotine
    tree: Part
    out: int
    proved: bool
    sheets: int
    sheets_per_lift: int
    lifts: int
    cuts_per_lift: int
    turns_per_lift: int
    minutes: Decimal
    cost: Decimal

    @property
    def source(self) -> str:
        """Code of the material that is cut."""
        return self.sheet.material

    @property
    def units(self) -> int:
        """Buying units of the material that are cut."""
        return self.sheets

    @property
    def made(self) -> int:
        """Pieces all sheets yield."""
        return self.out * self.sheets

    @property
    def spare(self) -> int:
        """Pieces beyond the good ones and the overs, from filling the last sheet."""
        return self.made - self.job.wanted

    @property
    def cuts(self) -> int:
        """Knife strokes of the whole ticket."""
        return self.cuts_per_lift * self.lifts

    @property
    def turns(self) -> int:
        """Quarter turns of the whole ticket."""
        return self.turns_per_lift * self.lifts

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
    def made(self) -> int:
        """Lengths all rolls yield."""
        return self.out * self.rolls

    @property
    def spare(self) -> int:
        """Lengths beyond the good ones and the overs."""
        return self.made - self.job.wanted


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingResult:
    """Tickets in the order of the jobs. ended: what is proved of them, in words."""

    tickets: tuple[CuttingTicket, ...]
    lengths: tuple[LengthTicket, ...]
    ended: str

    @property
    def all(self) -> tuple["CuttingTicket | LengthTicket", ...]:
        """Tickets for sheets, then for rolls."""
        return (*self.tickets, *self.lengths)

    @property
    def sheets(self) -> int:
        """Sheets cut in all."""
        return sum(ticket.sheets for ticket in self.tickets)

    @property
    def minutes(self) -> Decimal:
        """Minutes at the guillotine in all."""
        return sum((ticket.minutes for ticket in self.tickets), Decimal(0))
