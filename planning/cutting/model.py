"""The question of the cutting step."""

from dataclasses import dataclass
from fractions import Fraction

from kits.catalogue import Grain
from kits.guillotine import EdgeTrim
from kits.kit import Direction
from kits.measures import Length, format_length
from planning.cutting.machine import Guillotine
from planning.cutting.supply import Supply


class CuttingError(ValueError):
    """What cannot be cut: a piece that no sheet offered yields, say; the message names piece and sheets."""


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

    def __post_init__(self) -> None:
        refuse_counts(self.name, self.count, self.overs)
        refuse_sizes(self.name, self.width, self.height)

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

    def __post_init__(self) -> None:
        refuse_counts(self.name, self.count, self.overs)
        refuse_sizes(self.name, self.length)

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

    def __post_init__(self) -> None:
        refuse_sizes(self.name, self.width, self.height)
        if not 0 <= 2 * self.trim < min(self.width, self.height):
            trim, size = format_length(self.trim), format_length(min(self.width, self.height))
            raise CuttingError(
                f"{self.name}: a trim of {trim} off each edge leaves nothing of a side of {size}"
            )

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

    def __post_init__(self) -> None:
        refuse_sizes(self.name, self.length)


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingProblem:
    """Jobs, what they may be cut from, where the sheets come from, and the guillotines there are.

    quick: a good plan at once, and not the long search for the best. ruler: every piece, and so every cut, is a whole number
    of this. Raises CuttingError for two jobs or sheets of one name, a roll that is not there, pieces not on the ruler.
    """

    pieces: tuple[PieceJob, ...]
    lengths: tuple[LengthJob, ...] = ()
    sheets: tuple[SheetStock, ...] = ()
    supplies: tuple[Supply, ...] = ()
    rolls: tuple[Roll, ...] = ()
    guillotines: tuple[Guillotine, ...] = ()
    quick: bool = False
    ruler: Length = 1

    def __post_init__(self) -> None:
        refuse_twice("pieces or lengths", [job.item for job in self.jobs])
        refuse_twice("sheets", [sheet.material for sheet in self.sheets])
        rolls = {roll.material for roll in self.rolls}
        for job in self.lengths:
            if job.cut_from not in rolls:
                raise CuttingError(f"{job.name}: {job.cut_from!r} is none of the rolls")
        if off := [job for job in self.pieces if job.width % self.ruler or job.height % self.ruler]:
            named = ", ".join(
                f"{job.name} ({format_length(job.width)} x {format_length(job.height)})" for job in off
            )
            mark = format_length(self.ruler)
            raise CuttingError(
                f"not whole numbers of {mark}, the ruler: {named}. Change them, or take a finer ruler"
            )

    @property
    def jobs(self) -> tuple[PieceJob | LengthJob, ...]:
        """Jobs for sheets, then for rolls."""
        return (*self.pieces, *self.lengths)


def refuse_counts(name: str, *counts: int) -> None:
    """Refuse less than none of something, and what has no name."""
    if not name.strip():
        raise CuttingError("a piece needs a name")
    if any(count < 0 for count in counts):
        raise CuttingError(f"{name}: the number wanted must not be below 0")


def refuse_sizes(name: str, *lengths: Length) -> None:
    """Refuse sizes that are none."""
    if any(length <= 0 for length in lengths):
        raise CuttingError(f"{name}: every side must be longer than 0")


def refuse_twice(what: str, names: list[str]) -> None:
    """Refuse one name for two things."""
    if twice := sorted({name for name in names if names.count(name) > 1}):
        raise CuttingError(f"two {what} with one name: {', '.join(twice)}: give each its own")
