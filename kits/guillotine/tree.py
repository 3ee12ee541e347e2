"""The cut tree: a sheet in hand is cut from edge to edge until only pieces and offcuts remain.

Places are measured from the two edges that touch the machine: x from the left edge (at the side guide) and y
from the top edge (at the back stop). All lengths are whole numbers of 1/8 micrometre.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import accumulate
from typing import Annotated, Literal, TypeAlias

from pydantic import Field

from kits.measures import Area, Length


class Direction(StrEnum):
    """Which way a cut runs."""

    UPRIGHT = "upright"  # along the height: parts come to lie side by side
    LEVEL = "level"  # along the width: parts come to lie one below the other

    @property
    def across(self) -> "Direction":
        """The other direction."""
        return Direction.LEVEL if self is Direction.UPRIGHT else Direction.UPRIGHT


class Cause(StrEnum):
    """Why an offcut was left."""

    LEFT_OVER = "left over"
    EDGE_TRIM = "edge trim"
    SPACING = "spacing"  # between two pieces whose print runs past the cut


@dataclass(frozen=True, slots=True)
class Piece:
    """A rectangle that is used; width and height as it lies on the sheet, so after any quarter turn."""

    name: str
    width: Length
    height: Length
    turned: bool = False
    kind: Literal["piece"] = "piece"


@dataclass(frozen=True, slots=True)
class Offcut:
    """A rectangle that is left."""

    width: Length
    height: Length
    cause: Cause = Cause.LEFT_OVER
    kind: Literal["offcut"] = "offcut"


@dataclass(frozen=True, slots=True)
class Cut:
    """A part in hand and the parallel cuts that divide it from edge to edge.

    marks: places of the cuts from the part's own left edge (upright) or top edge (level), rising.
    parts: what lies between the marks, from that edge on, one more than there are marks.

    Nothing here refuses a wrong tree: `kits.guillotine.check` finds every fault at once and says where.
    """

    width: Length
    height: Length
    direction: Direction
    marks: tuple[Length, ...]
    parts: tuple["Part", ...]
    kind: Literal["cut"] = "cut"


Part: TypeAlias = Annotated[Cut | Piece | Offcut, Field(discriminator="kind")]


@dataclass(frozen=True, slots=True)
class Placed:
    """A part of the tree and where it lies on the sheet. level: how many cuts were made around it before."""

    part: Part
    x: Length
    y: Length
    level: int


def divide(direction: Direction, parts: Sequence[Part]) -> Cut:
    """Return the part that these parts came from, laid against each other; all are equally long across."""
    along = [part.width if direction is Direction.UPRIGHT else part.height for part in parts]
    marks = tuple(accumulate(along))
    if direction is Direction.UPRIGHT:
        return Cut(marks[-1], parts[0].height, direction, marks[:-1], tuple(parts))
    return Cut(parts[0].width, marks[-1], direction, marks[:-1], tuple(parts))


def walk(tree: Part) -> Iterator[Placed]:
    """Yield every part of the tree, each before what is cut from it, from the left and top on."""
    waiting = [Placed(tree, 0, 0, 0)]
    while waiting:
        placed = waiting.pop()
        yield placed
        if isinstance(placed.part, Cut):
            waiting.extend(reversed(_parts_placed(placed.part, placed)))


def _parts_placed(cut: Cut, at: Placed) -> list[Placed]:
    level = at.level + 1
    started = list(zip((0, *cut.marks), cut.parts, strict=True))
    if cut.direction is Direction.UPRIGHT:
        return [Placed(part, at.x + start, at.y, level) for start, part in started]
    return [Placed(part, at.x, at.y + start, level) for start, part in started]


def pieces(tree: Part) -> tuple[Placed, ...]:
    """Return every piece and where it lies."""
    return tuple(placed for placed in walk(tree) if isinstance(placed.part, Piece))


def offcuts(tree: Part) -> tuple[Placed, ...]:
    """Return every offcut and where it lies."""
    return tuple(placed for placed in walk(tree) if isinstance(placed.part, Offcut))


def count_pieces(tree: Part) -> dict[str, int]:
    """Return how many pieces of each name there are, in the order they are met."""
    return dict(Counter(placed.part.name for placed in walk(tree) if isinstance(placed.part, Piece)))


def count_cuts(tree: Part) -> int:
    """Return the number of cuts when every part is cut on its own."""
    return sum(len(placed.part.marks) for placed in walk(tree) if isinstance(placed.part, Cut))


def count_stages(tree: Part, *, final_trim: bool = False) -> int:
    """Return how often the direction of cutting changes on the way to a piece, the first one included.

    Trimming the edges of the sheet is no stage. final_trim: nor is a cut that takes nothing but offcuts off a
    single piece.
    """
    deepest = 0
    waiting: list[tuple[Part, Direction | None, int]] = [(tree, None, 0)]
    while waiting:
        part, before, stages = waiting.pop()
        deepest = max(deepest, stages)
        if isinstance(part, Cut):
            free = is_trimming(part) or (final_trim and _is_one_piece(part))
            direction = before if free else part.direction
            waiting.extend((each, direction, stages + (direction is not before)) for each in part.parts)
    return deepest


def _is_one_piece(cut: Cut) -> bool:
    rest = [part for part in cut.parts if not isinstance(part, Offcut)]
    return len(rest) == 1 and isinstance(rest[0], Piece)


def is_trimming(cut: Cut) -> bool:
    """Whether the cuts take nothing but edge trims off what is in hand."""
    rest = [part for part in cut.parts if not (isinstance(part, Offcut) and part.cause is Cause.EDGE_TRIM)]
    return len(rest) == 1 < len(cut.parts)


def area(part: Part) -> Area:
    """Return the area of a part."""
    return part.width * part.height


def piece_area(tree: Part) -> Area:
    """Return the area of all pieces."""
    return sum(area(placed.part) for placed in pieces(tree))


def largest_offcut(tree: Part) -> Offcut | None:
    """Return the largest part left over, which is the one most likely to be of use; trims do not count."""
    kept = [
        placed.part
        for placed in walk(tree)
        if isinstance(placed.part, Offcut) and placed.part.cause is Cause.LEFT_OVER
    ]
    return max(kept, key=area, default=None)
