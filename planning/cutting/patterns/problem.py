"""The question: which pieces are wanted, how many of each, and the sheets they may be cut from."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction

from kits.catalogue import Grain
from kits.guillotine import Direction as CutDirection
from kits.guillotine import EdgeTrim, PieceSize, SheetProblem, Turn
from kits.guillotine.sheet import UNTRIMMED
from kits.kit import Direction
from kits.measures import Length, format_length
from planning.cutting.lie import turn_for

MOST_OUT = 65_535  # of one piece from one sheet: more is a slip in a measure


class WantedTooLargeError(ValueError):
    """Pieces that come out of none of the sheets, the way round they may lie. names: of these pieces."""

    def __init__(self, names: tuple[str, ...], message: str) -> None:
        super().__init__(names, message)
        self.names = names
        self.message = message

    def __str__(self) -> str:
        return self.message


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """Pieces of one size. count: how many, overs included. direction: how they may lie, the grain considered.

    sheets: names of the sheets they may be cut from; empty for all.
    """

    name: str
    width: Length
    height: Length
    count: int
    direction: Direction = Direction.ANY
    sheets: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise ValueError("a piece needs a name")
        if self.width <= 0 or self.height <= 0:
            raise ValueError(f"piece {self.name!r} must have a width and a height above zero")
        if self.count < 0:
            raise ValueError(f"the number wanted of piece {self.name!r} must not be negative")


@dataclass(frozen=True, slots=True, kw_only=True)
class ParentSheet:
    """Sheets of one size. price: what one costs, in any money. available: how many there are; None for any number.

    thickness: of one sheet, a length; None where it is not known.
    """

    name: str
    width: Length
    height: Length
    price: Fraction = Fraction(1)
    available: int | None = None
    grain: Grain = Grain.NONE
    edge_trim: EdgeTrim = UNTRIMMED
    thickness: Fraction | None = None

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise ValueError("a sheet needs a name")
        if self.width <= 0 or self.height <= 0:
            raise ValueError(f"sheet {self.name!r} must have a width and a height above zero")
        if self.price < 0:
            raise ValueError(f"the price of sheet {self.name!r} must not be negative")
        if self.available is not None and self.available < 0:
            raise ValueError(f"there cannot be fewer than no sheets {self.name!r}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Rules:
    """What the machine and the operator can do; each as in `kits.guillotine.SheetProblem`.

    opening: the longest cut the machine makes, so that what is longer is parted across first; None for any length.
    """

    spacing: Length = 0
    stages: int | None = None
    final_trim: bool = False
    first: CutDirection | None = None
    smallest_strip: Length = 0
    ruler: Length = 1
    opening: Length | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternProblem:
    """Pieces and the sheets they may be cut from. A piece of which none is wanted plays no part.

    Raises ValueError for two pieces or two sheets of one name and for pieces of which a sheet would yield more than
    MOST_OUT, WantedTooLargeError for pieces that no sheet holds, and what `kits.guillotine.SheetProblem` raises for
    rules that cannot be kept.
    """

    pieces: tuple[Wanted, ...]
    sheets: tuple[ParentSheet, ...]
    rules: Rules = field(default_factory=Rules)

    def __post_init__(self) -> None:
        for what, names in (
            ("pieces", [each.name for each in self.pieces]),
            ("sheets", [s.name for s in self.sheets]),
        ):
            if twice := sorted({name for name in names if names.count(name) > 1}):
                raise ValueError(f"two {what} with one name: {', '.join(twice)}: give each its own")
        if not self.sheets:
            raise ValueError("name at least one sheet to cut from")
        if too_large := [piece for piece in self.pieces if piece.count and not self.sheets_for(piece)]:
            raise WantedTooLargeError(
                tuple(each.name for each in too_large), _too_large(too_large, self.sheets, self.rules.opening)
            )
        if tiny := [piece for piece in self.asked if _number_out(piece, self.sheets) > MOST_OUT]:
            raise ValueError(
                f"more than {MOST_OUT:,} would come out of one sheet of each of these pieces: "
                f"{'; '.join(_described_size(each) for each in tiny)}. Check their measures and those of the sheets"
            )
        for sheet in self.sheets:
            self.on(sheet)

    @property
    def asked(self) -> tuple[Wanted, ...]:
        """The pieces of which some are wanted."""
        return tuple(piece for piece in self.pieces if piece.count)

    def sheets_for(self, piece: Wanted) -> tuple[ParentSheet, ...]:
        """Return the sheets that hold the piece, the way round it may lie."""
        return tuple(sheet for sheet in self.sheets if _fits(piece, sheet, self.rules.opening))

    def on(self, sheet: ParentSheet) -> SheetProblem | None:
        """Return what one such sheet may be cut into, each piece worth 1; None where no piece asked for fits."""
        sizes = tuple(_size(piece, sheet) for piece in self.asked if _fits(piece, sheet, self.rules.opening))
        if not sizes:
            return None
        rules = self.rules
        return SheetProblem(
            sheet.width,
            sheet.height,
            sizes,
            sheet.edge_trim,
            rules.spacing,
            rules.stages,
            rules.final_trim,
            rules.first,
            rules.smallest_strip,
            rules.ruler,
        )


def turn_on(piece: Wanted, sheet: ParentSheet) -> Turn | None:
    """Return how the piece may lie on the sheet; None where that is not one of its own or does not state its grain."""
    if piece.sheets and sheet.name not in piece.sheets:
        return None
    return turn_for(piece.direction, sheet.grain)


def _size(piece: Wanted, sheet: ParentSheet) -> PieceSize:
    return PieceSize(piece.name, piece.width, piece.height, 1, turn_on(piece, sheet) or Turn.NONE)


def _fits(piece: Wanted, sheet: ParentSheet, opening: Length | None) -> bool:
    """Whether a piece comes out of a sheet, the way round it may lie."""
    if turn_on(piece, sheet) is None:
        return False
    width, height = _inside(sheet)
    return any(
        wide <= width and high <= height and _comes_off((wide, high), sheet, opening)
        for wide, high, _ in _size(piece, sheet).ways
    )


def _comes_off(size: tuple[Length, Length], sheet: ParentSheet, opening: Length | None) -> bool:
    """Whether the knife is long enough to free a piece: along its longer side, unless the sheet ends there anyway."""
    whole = sheet.width, sheet.height
    if opening is None or max(whole) <= opening or size == whole:
        return True
    if min(whole) > opening:
        return False
    across, along = (0, 1) if sheet.height > opening else (1, 0)
    return size[along] <= opening or size[across] == whole[across]


def _inside(sheet: ParentSheet) -> tuple[Length, Length]:
    trim = sheet.edge_trim
    return sheet.width - trim.left - trim.right, sheet.height - trim.top - trim.bottom


def _number_out(piece: Wanted, sheets: tuple[ParentSheet, ...]) -> int:
    """Return what no sheet yields more of, by area."""
    return max(sheet.width * sheet.height for sheet in sheets) // (piece.width * piece.height)


def _described_size(piece: Wanted) -> str:
    return f"{piece.name}, {format_length(piece.width)} × {format_length(piece.height)}"


def _too_large(pieces: list[Wanted], sheets: tuple[ParentSheet, ...], opening: Length | None) -> str:
    described = "; ".join(f"{_described_size(piece)}, {piece.direction.value}" for piece in pieces)
    knife = "" if opening is None else f"; no cut may be longer than {format_length(opening)}"
    return (
        f"these pieces come out of none of the sheets, the way round they may lie: {described}. The sheets are, "
        f"inside their edge trims: {'; '.join(_described(sheets))}{knife}. Name a larger sheet or another direction"
    )


def _described(sheets: tuple[ParentSheet, ...]) -> Iterator[str]:
    for sheet in sheets:
        width, height = _inside(sheet)
        grain = "grain not stated" if sheet.grain is Grain.NONE else f"grain along its {sheet.grain.value}"
        yield f"{sheet.name}, {format_length(width)} × {format_length(height)}, {grain}"
