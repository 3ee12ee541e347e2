"""The checker: every fault of a cut sheet at once, found without the code that searches and lays out."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from kits.guillotine.sheet import PieceSize, SheetProblem, SheetResult, Turn
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
    EDGE_TRIM = "reaches into the edge trim"
    SPACING = "is too close to another piece"
    VALUE = "is not worth what the result says"


@dataclass(frozen=True, slots=True)
class Box:
    """Where a part lies: from the left and the top edge of the sheet."""

    x: Length
    y: Length
    width: Length
    height: Length

    def __str__(self) -> str:
        return f"{_size(self.width, self.height)} at {_signed(self.x)}, {_signed(self.y)}"

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


def check(problem: SheetProblem, tree: Part) -> tuple[Fault, ...]:
    """Return every fault of a tree as an answer to the problem; none if it can be cut as it stands."""
    leaves: list[tuple[Part, Box]] = []
    faults: list[Fault] = []
    for part, room in _rooms(problem, tree):
        faults.extend(_cutting_faults(part, room))
        if not isinstance(part, Cut):
            leaves.append((part, Box(room.x, room.y, part.width, part.height)))
    sheet = Box(0, 0, problem.width, problem.height)
    faults.extend(_sheet_faults(sheet, tree, leaves))
    wanted = {piece.name: piece for piece in problem.pieces}
    pieces = [(part, box) for part, box in leaves if isinstance(part, Piece)]
    for piece, box in pieces:
        faults.extend(_piece_faults(problem, wanted.get(piece.name), piece, box))
    if problem.spacing:
        faults.extend(_closeness(pieces, problem.spacing))
    return tuple(faults)


def check_result(problem: SheetProblem, result: SheetResult) -> tuple[Fault, ...]:
    """Return every fault of the tree, and whether its pieces are worth what the result says."""
    worth = {piece.name: piece.worth for piece in problem.pieces}
    total = 0
    for part, _ in _rooms(problem, result.tree):
        total += worth.get(part.name, 0) if isinstance(part, Piece) else 0
    faults = check(problem, result.tree)
    if total == result.value:
        return faults
    sheet = Box(0, 0, problem.width, problem.height)
    return (*faults, Fault(FaultName.VALUE, "the sheet", sheet, f"{total} instead of {result.value}"))


def _rooms(problem: SheetProblem, tree: Part) -> Iterator[tuple[Part, Box]]:
    """Yield every part with the room that the cuts around it leave for it."""
    waiting = [(tree, Box(0, 0, problem.width, problem.height))]
    while waiting:
        part, room = waiting.pop()
        yield part, room
        if isinstance(part, Cut):
            waiting.extend(reversed(list(zip(part.parts, _strips(part, room), strict=False))))


def _strips(cut: Cut, room: Box) -> Iterator[Box]:
    upright = cut.direction is Direction.UPRIGHT
    for start, end in pairwise((0, *cut.marks, room.width if upright else room.height)):
        if upright:
            yield Box(room.x + start, room.y, end - start, room.height)
        else:
            yield Box(room.x, room.y + start, room.width, end - start)


def _cutting_faults(part: Part, room: Box) -> Iterator[Fault]:
    about = _name(part)
    if (part.width, part.height) != (room.width, room.height):
        size = f"{_size(part.width, part.height)} instead of {_size(room.width, room.height)}"
        yield Fault(FaultName.NOT_EDGE_TO_EDGE, about, room, size)
    if not isinstance(part, Cut):
        return
    if not part.marks or len(part.parts) != len(part.marks) + 1:
        counts = f"cuts {len(part.marks)}, parts {len(part.parts)}"
        yield Fault(FaultName.CUTS_AND_PARTS, about, room, counts)
    end = room.width if part.direction is Direction.UPRIGHT else room.height
    for mark in part.marks:
        if not 0 < mark < end:
            between = f"at {_signed(mark)} instead of between 0 and {format_length(end)}"
            yield Fault(FaultName.CUT_OUTSIDE, about, room, between)
    for before, mark in pairwise(part.marks):
        if mark <= before:
            order = f"{_signed(mark)} after {_signed(before)}"
            yield Fault(FaultName.CUTS_OUT_OF_ORDER, about, room, order)


def _sheet_faults(sheet: Box, tree: Part, leaves: Sequence[tuple[Part, Box]]) -> Iterator[Fault]:
    if (tree.width, tree.height) != (sheet.width, sheet.height):
        yield Fault(FaultName.OTHER_SHEET, "the tree", sheet, _size(tree.width, tree.height))
    covered = sum(part.width * part.height for part, _ in leaves)
    if covered != sheet.width * sheet.height:
        areas = f"{covered} instead of {sheet.width * sheet.height} squares of 1/8 micrometre"
        yield Fault(FaultName.AREA, "the sheet", sheet, areas)
    for part, box in leaves:
        over = max(box.x + box.width - sheet.width, box.y + box.height - sheet.height, -box.x, -box.y)
        if over > 0:
            yield Fault(FaultName.OUTSIDE, _name(part), box, f"by {format_length(over)}")
    for (part, box), (other, there) in _near(leaves, 0):
        if not box.is_apart(there, 0):
            yield Fault(FaultName.OVERLAP, _name(part), box, f"{_name(other)}, {there}")


def _piece_faults(problem: SheetProblem, wanted: PieceSize | None, piece: Piece, box: Box) -> Iterator[Fault]:
    about = _name(piece)
    if wanted is None:
        names = ", ".join(repr(each.name) for each in problem.pieces)
        yield Fault(FaultName.UNKNOWN_PIECE, about, box, f"wanted are {names}")
        return
    size = (wanted.height, wanted.width) if piece.turned else (wanted.width, wanted.height)
    if (piece.width, piece.height) != size:
        sizes = f"{_size(piece.width, piece.height)} instead of {_size(*size)}"
        yield Fault(FaultName.PIECE_SIZE, about, box, sizes)
    if wanted.turn is (Turn.NONE if piece.turned else Turn.QUARTER):
        yield Fault(FaultName.TURN, about, box, f"it must lie {wanted.turn}")
    trim = problem.edge_trim
    over = max(
        trim.left - box.x,
        trim.top - box.y,
        box.x + box.width - (problem.width - trim.right),
        box.y + box.height - (problem.height - trim.bottom),
    )
    if over > 0:
        yield Fault(FaultName.EDGE_TRIM, about, box, f"by {format_length(over)}")


def _closeness(pieces: Sequence[tuple[Part, Box]], spacing: Length) -> Iterator[Fault]:
    for (piece, box), (other, there) in _near(pieces, spacing):
        if not box.is_apart(there, spacing):
            gap = f"{_name(other)}, {there}, must be {format_length(spacing)} away"
            yield Fault(FaultName.SPACING, _name(piece), box, gap)


def _near(
    leaves: Sequence[tuple[Part, Box]], gap: Length
) -> Iterator[tuple[tuple[Part, Box], tuple[Part, Box]]]:
    """Yield the pairs that are less than the gap apart from left to right."""
    ordered = sorted(leaves, key=lambda leaf: leaf[1].x)
    for index, (part, box) in enumerate(ordered):
        for other, there in ordered[index + 1 :]:
            if there.x >= box.x + box.width + gap:
                break
            yield (part, box), (other, there)


def _name(part: Part) -> str:
    if isinstance(part, Piece):
        return f"piece {part.name!r}"
    return "the part in hand" if isinstance(part, Cut) else f"an offcut ({part.cause})"


def _size(width: Length, height: Length) -> str:
    return f"{_signed(width)} × {_signed(height)}"


def _signed(length: Length) -> str:
    return f"-{format_length(-length)}" if length < 0 else format_length(length)
