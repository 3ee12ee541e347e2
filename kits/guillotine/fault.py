"""What can be wrong with a cut sheet, and where each part of it lies: what the checker speaks of."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from kits.guillotine.sheet import SheetProblem
from kits.guillotine.tree import Cut, Direction, Part, Piece
from kits.measures import Length, format_length


class FaultName(StrEnum):
    """What is wrong."""

    OTHER_SHEET = "is not the sheet that was asked about"
    CUTS_AND_PARTS = "needs at least one cut, and one part more than it has cuts"
    CUT_OUTSIDE = "has a cut on or beyond its edge"
    CUTS_OUT_OF_ORDER = "has parallel cuts whose marks do not rise"
    NOT_EDGE_TO_EDGE = "is not as large as the cuts leave it"
    OUTSIDE = "reaches over the edge of the sheet"
    OVERLAP = "lies on another part"
    AREA = "is not covered exactly by its pieces and offcuts"
    UNKNOWN_PIECE = "is not one of the pieces wanted"
    PIECE_SIZE = "has the wrong size"
    TURN = "lies a way round that it may not"
    LIMIT = "is there more often than it is wanted"
    EDGE_TRIM = "reaches into the edge trim"
    SPACING = "is too close to another piece"
    VALUE = "is not worth what the result says"
    STAGES = "begins a stage too many"
    FIRST_CUT = "is first cut in the wrong direction"
    STRIP = "leaves the machine too little to hold"
    RULER = "has a cut between two marks of the ruler"


@dataclass(frozen=True, slots=True)
class Box:
    """Where a part lies: from the left and the top edge of the sheet."""

    x: Length
    y: Length
    width: Length
    height: Length

    def __str__(self) -> str:
        return f"{measured(self.width, self.height)} at {signed(self.x)}, {signed(self.y)}"

    def is_apart(self, other: "Box", gap: Length) -> bool:
        """Whether at least that gap lies between the two, beside or below each other."""
        return (
            self.x + self.width + gap <= other.x
            or other.x + other.width + gap <= self.x
            or self.y + self.height + gap <= other.y
            or other.y + other.height + gap <= self.y
        )


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault. about: what has it. measure: what was found and what is right."""

    name: FaultName
    about: str
    box: Box
    measure: str

    def __str__(self) -> str:
        return f"{self.about}, {self.box}, {self.name}: {self.measure}"


def rooms(problem: SheetProblem, tree: Part) -> Iterator[tuple[Part, Box]]:
    """Yield every part with the room that the cuts around it leave for it."""
    waiting = [(tree, Box(0, 0, problem.width, problem.height))]
    while waiting:
        part, room = waiting.pop()
        yield part, room
        if isinstance(part, Cut):
            waiting.extend(reversed(list(zip(part.parts, strips(part, room), strict=False))))


def strips(cut: Cut, room: Box) -> Iterator[Box]:
    """Yield the rooms that the cuts leave in the room of a part."""
    upright = cut.direction is Direction.UPRIGHT
    for start, end in pairwise((0, *cut.marks, room.width if upright else room.height)):
        if upright:
            yield Box(room.x + start, room.y, end - start, room.height)
        else:
            yield Box(room.x, room.y + start, room.width, end - start)


def called(part: Part) -> str:
    """Return what a part is called in a fault."""
    if isinstance(part, Piece):
        return f"piece {part.name!r}"
    return "the part in hand" if isinstance(part, Cut) else f"an offcut ({part.cause})"


def measured(width: Length, height: Length) -> str:
    """Return a size in words."""
    return f"{signed(width)} × {signed(height)}"


def signed(length: Length) -> str:
    """Return a length that may be below zero."""
    return f"-{format_length(-length)}" if length < 0 else format_length(length)
