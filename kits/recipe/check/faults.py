"""What a fault of a recipe is, and how its measures are said."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from operator import attrgetter
from typing import TypeVar

from kits.measures import Length, Ruler, format_exact

T = TypeVar("T")


class FaultName(StrEnum):
    """What is wrong, as it follows on what has it."""

    # sheets and cuts
    NO_PAPER = "is of no paper of the recipe"
    SHEET_SIZE = "is not as large as its paper"
    NO_SUCH_SHEET = "is more than the recipe has of its paper"
    NOT_CUT = "is not cut"
    CUT_TWICE = "is cut more than once"
    CUT_OUTSIDE = "is on or beyond the edge of what is in hand"
    CUT_ORDER = "does not lie beyond the mark before it"
    OFF_RULER = "is on no mark of the ruler"
    TOO_LONG = "is longer than the trimmer"
    NOT_EDGE_TO_EDGE = "is not as large as the cuts leave it"
    OUTSIDE = "reaches over the edge of the sheet"
    OVERLAP = "lies on another part"
    AREA = "is not used up by its pieces and offcuts"
    LIFT_SIZES = "are cut together but differ in size"
    LIFT_TOO_MANY = "are more than the trimmer takes at once"
    LIFT_NO_SHARED_CUT = "are cut together but have no first cut in common"
    # pieces
    UNKNOWN_PIECE = "is not wanted by the recipe"
    PIECE_SIZE = "has the wrong size"
    PIECE_PAPER = "is cut from the wrong paper"
    PIECE_PAGE = "goes to a page that does not want it"
    PIECE_OF_CLUB = "is cut here although the club cuts it"
    TURNED = "lies a way round that it may not"
    MISSING = "is cut too few times"
    TOO_MANY = "is cut too many times"
    LISTED_TWICE = "is listed twice for the same page"
    DIFFERS = "is listed with two sizes, papers or ways"
    PAPER_TWICE = "is listed twice"
    # pages
    NO_PAGE = "is wanted on a page that is not laid out"
    PAGE_TWICE = "is laid out twice"
    OFF_PAGE = "reaches over the edge of the page"
    HIDDEN = "is hidden"
    UNUSED = "is placed too few times"
    PLACED_TOO_OFTEN = "is placed more often than it is wanted"
    WAY_ROUND = "would lie with its print the wrong way round"
    SAME_LAYER = "lies on another piece of its layer"
    MARGIN = "is too close to the edge"
    SPACING = "is too close to another piece"
    OPENING_LARGER = "is larger than its piece"
    OPENING_OUTSIDE = "reaches over the edge of its piece"
    OPENINGS_OVERLAP = "lies on another photo"
    BORDER_THIN = "has a thinner border than asked"


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault. where: the sheet or page; what: the cut, piece or photo; measure: what was found and what is right."""

    name: FaultName
    where: str
    what: str
    measure: str = ""

    def __str__(self) -> str:
        subject = f"{self.where}: {self.what}" if self.what else self.where
        return f"{subject} {self.name}" + (f": {self.measure}" if self.measure else "")


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on a sheet or a page, from its left and top edge."""

    x: Length
    y: Length
    width: Length
    height: Length

    @property
    def right(self) -> Length:
        """Where it ends across."""
        return self.x + self.width

    @property
    def bottom(self) -> Length:
        """Where it ends down."""
        return self.y + self.height

    def gap(self, other: "Box") -> Length:
        """How far the two are apart across or down, whichever is more; below zero where one lies on the other."""
        across = max(self.x - other.right, other.x - self.right)
        down = max(self.y - other.bottom, other.y - self.bottom)
        return max(across, down)


def near(boxes: Sequence[tuple[T, Box]], gap: Length) -> Iterator[tuple[tuple[T, Box], tuple[T, Box]]]:
    """Yield the pairs of boxes that lie on each other or are less than the gap apart."""
    start, end = _ends([box for _, box in boxes])
    ordered = sorted(boxes, key=lambda each: start(each[1]))
    for index, one in enumerate(ordered):
        reach = end(one[1]) + gap
        for number in range(index + 1, len(ordered)):
            other = ordered[number]
            if start(other[1]) >= reach:
                break
            if one[1].gap(other[1]) < gap:
                yield one, other


def _ends(boxes: Sequence[Box]) -> tuple[Callable[[Box], Length], Callable[[Box], Length]]:
    """Return where a box starts and ends, across or down: the way in which fewer lie beside each other."""
    width = sum(box.width for box in boxes) * max((box.bottom for box in boxes), default=0)
    height = sum(box.height for box in boxes) * max((box.right for box in boxes), default=0)
    names = ("x", "right") if width < height else ("y", "bottom")
    return attrgetter(names[0]), attrgetter(names[1])


@dataclass(frozen=True, slots=True)
class Measure:
    """Says lengths, sizes and places on a recipe's ruler."""

    ruler: Ruler

    def length(self, length: Length) -> str:
        """Return a length."""
        return format_exact(length, self.ruler.unit) if length >= 0 else f"-{self.length(-length)}"

    def size(self, width: Length, height: Length) -> str:
        """Return a width and a height."""
        return f"{self.length(width)} × {self.length(height)}"

    def box(self, box: Box) -> str:
        """Return a size and its place."""
        return f"{self.size(box.width, box.height)} at {self.length(box.x)}, {self.length(box.y)}"
