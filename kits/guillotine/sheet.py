"""The question and the answer: which pieces a sheet may be cut into, and the best way found."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from kits.guillotine.tree import Direction, Part
from kits.measures import Length, format_length


class Turn(StrEnum):
    """How a piece may lie on the sheet."""

    FREE = "either way round"
    NONE = "as given"
    QUARTER = "turned a quarter"  # its grain runs the other way than the sheet's


class Ended(StrEnum):
    """How the search for the best way ended."""

    PROVED = "proved best"
    EFFORT = "stopped at the effort limit"


class PieceTooLargeError(ValueError):
    """A piece does not fit the sheet, the way round it may lie."""

    def __init__(self, piece: "PieceSize", width: Length, height: Length) -> None:
        super().__init__(piece, width, height)
        self.piece = piece
        self.width = width
        self.height = height

    def __str__(self) -> str:
        return (
            f"piece {self.piece.name!r}, {_by(self.piece.width, self.piece.height)} {self.piece.turn}, does "
            f"not fit the {_by(self.width, self.height)} that the sheet has inside its edge trims: "
            "make the piece smaller, choose a larger sheet, or let the piece turn"
        )


class OffRulerError(ValueError):
    """Measures lie between two marks of the ruler on which every cut must be. measures: which, in words."""

    def __init__(self, measures: tuple[str, ...], ruler: Length) -> None:
        super().__init__(measures, ruler)
        self.measures = measures
        self.ruler = ruler

    def __str__(self) -> str:
        return (
            f"every cut must be on a mark of {format_length(self.ruler)}, and these are not: "
            f"{'; '.join(self.measures)}: choose a finer ruler, or change the measures"
        )


class NothingToClampError(ValueError):
    """What the edge trims leave is narrower than the smallest strip, so that no edge can be trimmed."""

    def __init__(self, inside: Length, smallest: Length) -> None:
        super().__init__(inside, smallest)
        self.inside = inside
        self.smallest = smallest

    def __str__(self) -> str:
        return (
            f"the edge trims leave {format_length(self.inside)} of the sheet, and the machine must hold "
            f"{format_length(self.smallest)} to cut them off: choose a larger sheet or smaller trims"
        )


def _by(width: Length, height: Length) -> str:
    return f"{format_length(width)} × {format_length(height)}"


@dataclass(frozen=True, slots=True)
class PieceSize:
    """A piece that is wanted.

    value: what one of them is worth, in any whole unit; None for its area.
    limit: the most that are wanted out of one sheet; None for as many as one likes.
    """

    name: str
    width: Length
    height: Length
    value: int | None = None
    turn: Turn = Turn.FREE
    limit: int | None = None

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise ValueError("a piece needs a name")
        if self.width <= 0 or self.height <= 0:
            raise ValueError(f"piece {self.name!r} must have a width and a height above zero")
        if self.value is not None and self.value < 0:
            raise ValueError(f"the value of piece {self.name!r} must not be negative")
        if self.limit is not None and self.limit < 0:
            raise ValueError(f"the limit of piece {self.name!r} must not be negative")

    @property
    def worth(self) -> int:
        """The value of one piece."""
        return self.width * self.height if self.value is None else self.value

    @property
    def ways(self) -> tuple[tuple[Length, Length, bool], ...]:
        """The ways it may lie: width, height, and whether that is turned. A square lies one way only."""
        as_given, turned = (self.width, self.height, False), (self.height, self.width, True)
        if self.turn is Turn.QUARTER:
            return (turned,)
        if self.turn is Turn.NONE or self.width == self.height:
            return (as_given,)
        return (as_given, turned)


@dataclass(frozen=True, slots=True)
class EdgeTrim:
    """What is cut off each edge of the sheet before anything else."""

    left: Length = 0
    right: Length = 0
    top: Length = 0
    bottom: Length = 0

    def __post_init__(self) -> None:
        if min(self.left, self.right, self.top, self.bottom) < 0:
            raise ValueError("an edge trim must not be negative")


UNTRIMMED = EdgeTrim()


@dataclass(frozen=True, slots=True)
class SheetProblem:
    """A sheet, the pieces it may be cut into, and what the machine and the operator can do.

    spacing: what is cut out between two pieces, for print that runs past the cut.

    stages: the most stages; None for any number. All cuts of one direction that follow each other are one
    stage, however many strips they leave, and trimming the edges of the sheet is none: with two stages, strips
    are cut from the sheet and pieces from the strips. Such a plan is exact: every piece has its size after the
    last stage. final_trim: one more cut may follow that takes nothing but an offcut off a single piece (a
    plan that is not exact); it counts as no stage.

    first: the direction of the first cut, edge trims aside.

    smallest_strip: what the machine can hold. Of the strips of one stage the last is cut off first, then the
    one before, and so on; what is behind the blade is clamped, and at the last of these cuts either of the two
    strips may be. So of the first two strips between parallel cuts one must be at least this wide, where a
    strip of spacing does not count. With a ruler the width counts up to the next mark.

    ruler: every cut is a whole number of this from the left and the top edge.

    Raises PieceTooLargeError where a piece does not fit inside the edge trims, OffRulerError where a measure
    is not on the ruler, NothingToClampError where the edges cannot be trimmed.
    """

    width: Length
    height: Length
    pieces: tuple[PieceSize, ...]
    edge_trim: EdgeTrim = UNTRIMMED
    spacing: Length = 0
    stages: int | None = None
    final_trim: bool = False
    first: Direction | None = None
    smallest_strip: Length = 0
    ruler: Length = 1

    def __post_init__(self) -> None:
        self._check_pieces()
        self._check_machine()
        if self.spacing < 0:
            raise ValueError("the spacing between pieces must not be negative")
        if self.usable_width <= 0 or self.usable_height <= 0:
            raise ValueError("the edge trims leave nothing of the sheet")
        for piece in self.pieces:
            if not self.has_room_for(piece):
                raise PieceTooLargeError(piece, self.usable_width, self.usable_height)
        if off := tuple(self._off_ruler()):
            raise OffRulerError(off, self.ruler)
        trim = self.edge_trim
        for inside, trimmed in (
            (self.usable_width, trim.left or trim.right),
            (self.usable_height, trim.top or trim.bottom),
        ):
            if trimmed and inside < self.clamp:
                raise NothingToClampError(inside, self.clamp)

    def _check_pieces(self) -> None:
        if not self.pieces:
            raise ValueError("a sheet needs at least one piece to be cut into")
        if len({piece.name for piece in self.pieces}) < len(self.pieces):
            raise ValueError("every piece of a sheet needs its own name")

    def _check_machine(self) -> None:
        if self.stages is not None and self.stages < 1:
            raise ValueError("a sheet is cut in at least one stage")
        if self.smallest_strip < 0:
            raise ValueError("the smallest strip that the machine can hold must not be negative")
        if self.ruler < 1:
            raise ValueError("the marks of a ruler must be apart")

    def _off_ruler(self) -> Iterator[str]:
        """Yield each measure that keeps some cut off the ruler."""
        trim = self.edge_trim
        for piece in self.pieces:
            if piece.width % self.ruler or piece.height % self.ruler:
                yield f"piece {piece.name!r}, {_by(piece.width, piece.height)}"
        for name, length in (
            ("the spacing", self.spacing),
            ("the trim at the left edge", trim.left),
            ("the trim at the top edge", trim.top),
            ("the cut that trims the right edge", (self.width - trim.right) if trim.right else 0),
            ("the cut that trims the bottom edge", (self.height - trim.bottom) if trim.bottom else 0),
        ):
            if length % self.ruler:
                yield f"{name}, {format_length(length)}"

    @property
    def clamp(self) -> Length:
        """The smallest strip that the machine can hold, up to the next mark of the ruler."""
        return -(-self.smallest_strip // self.ruler) * self.ruler

    @property
    def usable_width(self) -> Length:
        """The width inside the edge trims."""
        return self.width - self.edge_trim.left - self.edge_trim.right

    @property
    def usable_height(self) -> Length:
        """The height inside the edge trims."""
        return self.height - self.edge_trim.top - self.edge_trim.bottom

    def has_room_for(self, piece: PieceSize) -> bool:
        """Whether the piece fits inside the edge trims, one of the ways round it may lie."""
        return any(
            width <= self.usable_width and height <= self.usable_height for width, height, _ in piece.ways
        )


@dataclass(frozen=True, slots=True)
class SheetResult:
    """The best way found to cut a sheet.

    tree: the cuts. value: of all pieces in it. bound: no way to cut the sheet has a higher value.
    """

    tree: Part
    value: int
    bound: int
    ended: Ended

    def __post_init__(self) -> None:
        if self.value > self.bound:
            raise ValueError("no plan is worth more than its bound")
        if (self.value == self.bound) is not (self.ended is Ended.PROVED):
            raise ValueError("a plan is proved best when its value reaches the bound, and only then")
