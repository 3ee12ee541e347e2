"""The tree as the cuts an operator makes, in order.

A part lies with one edge against the back stop. The gauge is what stays behind the blade: from the blade to
the stop. Parallel cuts go from the far mark down, so that the edge stays at the stop from one to the next.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from kits.guillotine.tree import Cut, Direction, Offcut, Part, Piece
from kits.measures import Length


class Edge(StrEnum):
    """An edge of the part in hand, as it lies in the drawing of the sheet."""

    TOP = "top"
    LEFT = "left"
    BOTTOM = "bottom"
    RIGHT = "right"

    @property
    def opposite(self) -> "Edge":
        """The edge on the other side."""
        return _OPPOSITE[self]

    def turns_to(self, other: "Edge") -> int:
        """Return how many quarter turns bring the other edge where this one is; 3 are 1 the other way."""
        if self is other:
            return 0
        return 2 if self.opposite is other else 1


_OPPOSITE = {
    Edge.TOP: Edge.BOTTOM,
    Edge.BOTTOM: Edge.TOP,
    Edge.LEFT: Edge.RIGHT,
    Edge.RIGHT: Edge.LEFT,
}
_STOP = {Direction.UPRIGHT: Edge.LEFT, Direction.LEVEL: Edge.TOP}


@dataclass(frozen=True, slots=True)
class Lot:
    """A part and what it is called: a piece by its name, an offcut by its cause, a part to be cut by number.

    Part 2.1 is the first part, from the left or the top, of part 2.
    """

    name: str
    part: Part


@dataclass(frozen=True, slots=True)
class Step:
    """One cut.

    hand: name of the part in hand; width, height: its size at this moment, as it lies in the drawing.
    stop: its edge at the back stop. gauge: what stays behind the blade. turns: quarter turns before the cut.
    off: what comes off in front of the blade. kept: what lies behind it after the last of parallel cuts.
    """

    hand: str
    width: Length
    height: Length
    stop: Edge
    gauge: Length
    turns: int
    off: Lot
    kept: Lot | None


def steps(tree: Part, smallest_strip: Length = 0) -> tuple[Step, ...]:
    """Return every cut of the tree in the order of cutting. Parts are finished one after the other.

    smallest_strip: what the machine can hold. Where the last of parallel cuts would leave less than that
    behind the blade, and more in front of it, the part is turned half round before.
    """
    made: list[Step] = []
    waiting: list[tuple[Lot, Edge | None]] = [(Lot("sheet", tree), None)]
    while waiting:
        lot, stop = waiting.pop()
        if isinstance(lot.part, Cut):
            made.extend(parallel_cuts(lot.name, lot.part, stop, smallest_strip))
            waiting.extend((each, made[-1].stop) for each in reversed(lots_of(lot.name, lot.part)))
    return tuple(made)


def count_turns(made: tuple[Step, ...]) -> int:
    """Return how often something is turned, by a quarter or a half."""
    return sum(step.turns > 0 for step in made)


def parallel_cuts(name: str, cut: Cut, stop_before: Edge | None, smallest: Length) -> Iterator[Step]:
    """Yield the cuts of one part in hand, the farthest first. stop_before: its edge at the stop until now."""
    lots, stop = lots_of(name, cut), _STOP[cut.direction]
    ahead = stop_before
    end = cut.width if cut.direction is Direction.UPRIGHT else cut.height
    for index in range(len(cut.marks) - 1, -1, -1):
        gauge, off, kept = cut.marks[index], lots[index + 1], lots[index] if index == 0 else None
        if index == 0 and _turns_round(lots[0].part, gauge, end - gauge, smallest):
            stop, gauge, off, kept = stop.opposite, end - gauge, lots[0], lots[1]
        width, height = (end, cut.height) if cut.direction is Direction.UPRIGHT else (cut.width, end)
        turns = ahead.turns_to(stop) if ahead else 0  # a sheet is first laid down as it is needed
        yield Step(name, width, height, stop, gauge, turns, off, kept)
        ahead, end = stop, cut.marks[index]


def _turns_round(part: Part, behind: Length, front: Length, smallest: Length) -> bool:
    """Whether the other side goes to the stop before the last of parallel cuts."""
    if (behind < smallest) is not (front < smallest):
        return behind < smallest
    # A trim at the near edge comes off in front of the blade, so what is kept goes to the stop.
    return isinstance(part, Offcut)


def lots_of(name: str, cut: Cut) -> list[Lot]:
    """Return the parts that a part in hand is cut into, by name."""
    prefix = "" if name == "sheet" else f"{name}."
    return [Lot(_name(part, f"{prefix}{number}"), part) for number, part in enumerate(cut.parts, 1)]


def _name(part: Part, number: str) -> str:
    if isinstance(part, Piece):
        return part.name
    return str(part.cause) if isinstance(part, Offcut) else number
