"""The question of the cutting step."""

from dataclasses import dataclass
from fractions import Fraction

from kits.catalogue import Grain
from kits.guillotine import EdgeTrim
from kits.kit import Direction
from kits.measures import Length
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
    """A sheet pieces may be cut from. trim: what is cut off each of its edges before anything else."""

    material: str
    name: str
    width: int
    height: int
    grain: Grain = Grain.NONE
    thickness: Fraction | None = None
    trim: Length = 0

    @property
    def edge_trim(self) -> EdgeTrim:
        """The trim of each edge."""
        return EdgeTrim(self.trim, self.trim, self.trim, self.trim)


@dataclass(frozen=True, slots=True, kw_only=True)
class Roll:
    """A roll lengths are cut from."""

    material: str
    name: str
    length: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingProblem:
    """Jobs, what they may be cut from, where the sheets come from, and the guillotines there are.

    quick: a good plan at once, and not the long search for the best.
    """

    pieces: tuple[PieceJob, ...]
    lengths: tuple[LengthJob, ...] = ()
    sheets: tuple[SheetStock, ...] = ()
    supplies: tuple[Supply, ...] = ()
    rolls: tuple[Roll, ...] = ()
    guillotines: tuple[Guillotine, ...] = ()
    quick: bool = False

    @property
    def jobs(self) -> tuple[PieceJob | LengthJob, ...]:
        """Jobs for sheets, then for rolls."""
        return (*self.pieces, *self.lengths)
