"""The question and the answer: pieces wanted from sheets of one paper, and how those sheets are cut."""

from collections.abc import Iterator
from dataclasses import dataclass

from kits.guillotine import Ended, Part
from kits.measures import METRE, Area, Length, Ruler, format_exact

MOST_PIECES = 200
LONGEST_SIDE = 5 * METRE


class ArrangeError(ValueError):
    """What is asked cannot be cut."""


class DoesNotFitError(ArrangeError):
    """A piece is larger than the sheet, the way round it may lie."""


class OffRulerError(ArrangeError):
    """A side of a piece is on no mark of the ruler, and the sheet is not as long."""


class CutTooLongError(ArrangeError):
    """A piece takes a cut that is longer than the trimmer."""


@dataclass(frozen=True, slots=True)
class PieceToCut:
    """Equal pieces wanted. turn: each may lie either way round on the sheet."""

    name: str
    width: Length
    height: Length
    count: int = 1
    turn: bool = True

    def __post_init__(self) -> None:
        if self.width <= 0 or self.height <= 0 or self.count < 1:
            raise ValueError(
                f"piece {self.name!r} needs a width and a height above zero and is wanted at least once"
            )


@dataclass(frozen=True, slots=True)
class ArrangeProblem:
    """A paper's sheet, the pieces wanted from it, and the ruler on whose marks every cut must lie.

    longest_cut: what the trimmer can cut. Raises DoesNotFitError, OffRulerError or CutTooLongError for a piece that no
    sheet yields, ArrangeError where the pieces are too many or the sheet is too large.
    """

    width: Length
    height: Length
    pieces: tuple[PieceToCut, ...]
    ruler: Ruler
    longest_cut: Length = LONGEST_SIDE

    def __post_init__(self) -> None:
        if not 0 < min(self.width, self.height) <= max(self.width, self.height) <= LONGEST_SIDE:
            raise ArrangeError("a sheet has sides above zero, at most 5 m long")
        if len({piece.name for piece in self.pieces}) < len(self.pieces):
            raise ValueError("every piece to be cut needs its own name")
        if not 0 < sum(piece.count for piece in self.pieces) <= MOST_PIECES:
            raise ArrangeError(
                f"1 to {MOST_PIECES} pieces can be arranged: take some out, or give the paper two roles"
            )
        for piece in self.pieces:
            self._check(piece)

    def ways(self, piece: PieceToCut) -> tuple[tuple[Length, Length, bool], ...]:
        """The ways a piece may lie on the sheet: width, height, and whether that is turned."""
        return tuple(way for way in self._measured(piece) if self._can_trim(way[0], way[1]))

    def _measured(self, piece: PieceToCut) -> Iterator[tuple[Length, Length, bool]]:
        """Yield the ways in which both sides are on the ruler."""
        both = [(piece.width, piece.height, False)]
        both += [(piece.height, piece.width, True)] if piece.turn and piece.width != piece.height else []
        for width, height, turned in both:
            if self._can_measure(width, self.width) and self._can_measure(height, self.height):
                yield width, height, turned

    def _can_measure(self, side: Length, of: Length) -> bool:
        return side == of or (side < of and self.ruler.holds(side))

    def _can_trim(self, width: Length, height: Length) -> bool:
        """Whether no cut is too long: the first one across the sheet, and those along the sides it makes."""
        if (width, height) == (self.width, self.height):
            return True
        upright = width == self.width or height <= self.longest_cut
        level = height == self.height or width <= self.longest_cut
        return upright and level and min(self.width, self.height) <= self.longest_cut

    def _check(self, piece: PieceToCut) -> None:
        if self.ways(piece):
            return
        size, sheet = self._size(piece.width, piece.height), self._size(self.width, self.height)
        sides = sorted((piece.width, piece.height)) if piece.turn else [piece.width, piece.height]
        room = sorted((self.width, self.height)) if piece.turn else [self.width, self.height]
        if sides[0] > room[0] or sides[1] > room[1]:
            turn = "" if piece.turn else ", which may not turn,"
            raise DoesNotFitError(
                f"piece {piece.name!r}, {size}{turn} does not fit a sheet of {sheet}: make it smaller"
            )
        if any(self._measured(piece)):
            longest = format_exact(self.longest_cut, self.ruler.unit)
            raise CutTooLongError(
                f"piece {piece.name!r}, {size}, does not come out of a sheet of {sheet} by cuts of at most {longest}: "
                "take smaller paper, or say that the trimmer is longer"
            )
        raise OffRulerError(
            f"piece {piece.name!r}, {size}, is not on the {self.ruler.name} marks of a sheet of {sheet}: "
            f"its sides must be, unless they are as long as the sheet's"
        )

    def _size(self, width: Length, height: Length) -> str:
        return f"{format_exact(width, self.ruler.unit)} × {format_exact(height, self.ruler.unit)}"


@dataclass(frozen=True, slots=True)
class Arrangement:
    """How the sheets are cut: the fewest, then the largest single offcut, then the fewest cuts and turns.

    bound: no way uses fewer sheets. offcut: area of the largest single offcut, which counts as the most useful;
    offcut_bound: with as many sheets none is larger. cuts: on all sheets, each cut on its own; turns likewise;
    cuts_bound: with the same sheets and an offcut as large none makes do with fewer.
    """

    sheets: tuple[Part, ...]
    bound: int
    offcut: Area
    offcut_bound: Area
    cuts: int
    cuts_bound: int
    turns: int

    def __post_init__(self) -> None:
        if len(self.sheets) < self.bound or self.offcut > self.offcut_bound or self.cuts < self.cuts_bound:
            raise ValueError("no arrangement is better than its bounds")

    @property
    def ended(self) -> Ended:
        """Whether no way uses fewer sheets, and none that uses as many leaves a larger offcut."""
        proved = len(self.sheets) == self.bound and self.offcut == self.offcut_bound
        return Ended.PROVED if proved else Ended.EFFORT
