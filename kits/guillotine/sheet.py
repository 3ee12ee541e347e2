"""The question and the answer: which pieces a sheet may be cut into, and the best way found."""

from dataclasses import dataclass
from enum import StrEnum

from kits.guillotine.tree import Part
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


def _by(width: Length, height: Length) -> str:
    return f"{format_length(width)} × {format_length(height)}"


@dataclass(frozen=True, slots=True)
class PieceSize:
    """A piece that is wanted.

    value: what one of them is worth, in any whole unit; None for its area.
    """

    name: str
    width: Length
    height: Length
    value: int | None = None
    turn: Turn = Turn.FREE

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise ValueError("a piece needs a name")
        if self.width <= 0 or self.height <= 0:
            raise ValueError(f"piece {self.name!r} must have a width and a height above zero")
        if self.value is not None and self.value < 0:
            raise ValueError(f"the value of piece {self.name!r} must not be negative")

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
    """A sheet and the pieces it may be cut into, as many of each as one likes.

    spacing: what is cut out between two pieces, for print that runs past the cut.
    Raises PieceTooLargeError where a piece does not fit inside the edge trims.
    """

    width: Length
    height: Length
    pieces: tuple[PieceSize, ...]
    edge_trim: EdgeTrim = UNTRIMMED
    spacing: Length = 0

    def __post_init__(self) -> None:
        if not self.pieces:
            raise ValueError("a sheet needs at least one piece to be cut into")
        if len({piece.name for piece in self.pieces}) < len(self.pieces):
            raise ValueError("every piece of a sheet needs its own name")
        if self.spacing < 0:
            raise ValueError("the spacing between pieces must not be negative")
        if self.usable_width <= 0 or self.usable_height <= 0:
            raise ValueError("the edge trims leave nothing of the sheet")
        for piece in self.pieces:
            if not self.has_room_for(piece):
                raise PieceTooLargeError(piece, self.usable_width, self.usable_height)

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
