"""The checker: every fault of a cut sheet at once, found without the code that searches and lays out."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import TypeVar

from kits.guillotine.check_machine import machine_faults
from kits.guillotine.fault import Box, Fault, FaultName, called, measured, rooms, signed
from kits.guillotine.sheet import PieceSize, SheetProblem, SheetResult, Turn
from kits.guillotine.tree import Cut, Direction, Part, Piece
from kits.measures import Length, format_length

AnyPart = TypeVar("AnyPart", bound=Part)


def check(problem: SheetProblem, tree: Part) -> tuple[Fault, ...]:
    """Return every fault of a tree as an answer to the problem; none if it can be cut as it stands."""
    leaves: list[tuple[Part, Box]] = []
    faults: list[Fault] = []
    for part, room in rooms(problem, tree):
        faults.extend(_cutting_faults(part, room))
        if not isinstance(part, Cut):
            leaves.append((part, Box(room.x, room.y, part.width, part.height)))
    sheet = Box(0, 0, problem.width, problem.height)
    faults.extend(_sheet_faults(sheet, tree, leaves))
    wanted = {piece.name: piece for piece in problem.pieces}
    pieces = [(part, box) for part, box in leaves if isinstance(part, Piece)]
    for piece, box in pieces:
        faults.extend(_piece_faults(problem, wanted.get(piece.name), piece, box))
    faults.extend(_surplus(problem, pieces))
    if problem.spacing:
        faults.extend(_closeness(pieces, problem.spacing))
    faults.extend(machine_faults(problem, tree))
    return tuple(faults)


def check_result(problem: SheetProblem, result: SheetResult) -> tuple[Fault, ...]:
    """Return every fault of the tree, and whether its pieces are worth what the result says."""
    worth = {piece.name: piece.worth for piece in problem.pieces}
    total = 0
    for part, _ in rooms(problem, result.tree):
        total += worth.get(part.name, 0) if isinstance(part, Piece) else 0
    faults = check(problem, result.tree)
    if total == result.value:
        return faults
    sheet = Box(0, 0, problem.width, problem.height)
    return (*faults, Fault(FaultName.VALUE, "the sheet", sheet, f"{total} instead of {result.value}"))


def _cutting_faults(part: Part, room: Box) -> Iterator[Fault]:
    about = called(part)
    if (part.width, part.height) != (room.width, room.height):
        size = f"{measured(part.width, part.height)} instead of {measured(room.width, room.height)}"
        yield Fault(FaultName.NOT_EDGE_TO_EDGE, about, room, size)
    if not isinstance(part, Cut):
        return
    if not part.marks or len(part.parts) != len(part.marks) + 1:
        counts = f"cuts {len(part.marks)}, parts {len(part.parts)}"
        yield Fault(FaultName.CUTS_AND_PARTS, about, room, counts)
    end = room.width if part.direction is Direction.UPRIGHT else room.height
    for mark in part.marks:
        if not 0 < mark < end:
            between = f"at {signed(mark)} instead of between 0 and {format_length(end)}"
            yield Fault(FaultName.CUT_OUTSIDE, about, room, between)
    for before, mark in pairwise(part.marks):
        if mark <= before:
            order = f"{signed(mark)} after {signed(before)}"
            yield Fault(FaultName.CUTS_OUT_OF_ORDER, about, room, order)


def _sheet_faults(sheet: Box, tree: Part, leaves: Sequence[tuple[Part, Box]]) -> Iterator[Fault]:
    if (tree.width, tree.height) != (sheet.width, sheet.height):
        yield Fault(FaultName.OTHER_SHEET, "the tree", sheet, measured(tree.width, tree.height))
    covered = sum(part.width * part.height for part, _ in leaves)
    if covered != sheet.width * sheet.height:
        areas = f"{covered} instead of {sheet.width * sheet.height} squares of 1/8 micrometre"
        yield Fault(FaultName.AREA, "the sheet", sheet, areas)
    for part, box in leaves:
        over = max(box.x + box.width - sheet.width, box.y + box.height - sheet.height, -box.x, -box.y)
        if over > 0:
            yield Fault(FaultName.OUTSIDE, called(part), box, f"by {format_length(over)}")
    for (part, box), (other, there) in _near(leaves, 0):
        if not box.is_apart(there, 0):
            yield Fault(FaultName.OVERLAP, called(part), box, f"{called(other)}, {there}")


def _piece_faults(problem: SheetProblem, wanted: PieceSize | None, piece: Piece, box: Box) -> Iterator[Fault]:
    about = called(piece)
    if wanted is None:
        names = ", ".join(repr(each.name) for each in problem.pieces)
        yield Fault(FaultName.UNKNOWN_PIECE, about, box, f"wanted are {names}")
        return
    size = (wanted.height, wanted.width) if piece.turned else (wanted.width, wanted.height)
    if (piece.width, piece.height) != size:
        sizes = f"{measured(piece.width, piece.height)} instead of {measured(*size)}"
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


def _surplus(problem: SheetProblem, pieces: Sequence[tuple[Piece, Box]]) -> Iterator[Fault]:
    for wanted in problem.pieces:
        boxes = [box for piece, box in pieces if piece.name == wanted.name]
        if wanted.limit is not None and len(boxes) > wanted.limit:
            count = f"{len(boxes)} instead of at most {wanted.limit}"
            yield Fault(FaultName.LIMIT, f"piece {wanted.name!r}", boxes[wanted.limit], count)


def _closeness(pieces: Sequence[tuple[Piece, Box]], spacing: Length) -> Iterator[Fault]:
    for (piece, box), (other, there) in _near(pieces, spacing):
        if not box.is_apart(there, spacing):
            gap = f"{called(other)}, {there}, must be {format_length(spacing)} away"
            yield Fault(FaultName.SPACING, called(piece), box, gap)


def _near(
    leaves: Sequence[tuple[AnyPart, Box]], gap: Length
) -> Iterator[tuple[tuple[AnyPart, Box], tuple[AnyPart, Box]]]:
    """Yield the pairs that are less than the gap apart from left to right."""
    ordered = sorted(leaves, key=lambda leaf: leaf[1].x)
    for index, (part, box) in enumerate(ordered):
        for other, there in ordered[index + 1 :]:
            if there.x >= box.x + box.width + gap:
                break
            yield (part, box), (other, there)
