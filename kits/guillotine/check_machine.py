"""Whether a machine and its operator can make the cuts of a sheet: stages, first cut, clamp and ruler."""

from collections.abc import Iterator

from kits.guillotine.fault import Box, Fault, FaultName, called, rooms, strips
from kits.guillotine.sheet import SheetProblem
from kits.guillotine.tree import Cause, Cut, Direction, Offcut, Part, Piece
from kits.measures import format_length


def machine_faults(problem: SheetProblem, tree: Part) -> Iterator[Fault]:
    """Yield every cut that asks too much of the machine or the operator."""
    for part, room in rooms(problem, tree):
        if isinstance(part, Cut):
            yield from _clamp_faults(problem, part, room)
            yield from _ruler_faults(problem, part, room)
    sheet = Box(0, 0, problem.width, problem.height)
    yield from _first_cut_faults(problem, tree, sheet)
    yield from _stage_faults(problem, tree, sheet)


def _clamp_faults(problem: SheetProblem, cut: Cut, room: Box) -> Iterator[Fault]:
    along = [
        0
        if isinstance(part, Offcut) and part.cause is Cause.SPACING
        else (strip.width if cut.direction is Direction.UPRIGHT else strip.height)
        for part, strip in zip(cut.parts, strips(cut, room), strict=False)
    ]
    held = max(0, *along[:2])
    if held < problem.clamp:
        measure = f"{format_length(held)} instead of at least {format_length(problem.clamp)}"
        yield Fault(FaultName.STRIP, called(cut), room, measure)


def _ruler_faults(problem: SheetProblem, cut: Cut, room: Box) -> Iterator[Fault]:
    before = room.x if cut.direction is Direction.UPRIGHT else room.y
    for mark in cut.marks:
        if (before + mark) % problem.ruler:
            ruler = f"{format_length(abs(before + mark))} is no multiple of {format_length(problem.ruler)}"
            yield Fault(FaultName.RULER, called(cut), room, ruler)


def _first_cut_faults(problem: SheetProblem, tree: Part, sheet: Box) -> Iterator[Fault]:
    part, room = tree, sheet
    while isinstance(part, Cut) and (kept := _kept_of_trims(problem, part, room)):
        part, room = kept
    if isinstance(part, Cut) and problem.first not in (None, part.direction):
        yield Fault(FaultName.FIRST_CUT, called(part), room, f"{part.direction} cuts")


def _stage_faults(problem: SheetProblem, tree: Part, sheet: Box) -> Iterator[Fault]:
    """Follow the changes of direction from the sheet to every piece.

    A cut that trims edges changes nothing, nor does a final trim.
    """
    waiting: list[tuple[Part, Box, Direction | None, int]] = [(tree, sheet, None, 0)]
    while waiting:
        part, room, before, stages = waiting.pop()
        if not isinstance(part, Cut):
            continue
        trims = _kept_of_trims(problem, part, room) or (problem.final_trim and _trims_piece(part))
        if not trims and part.direction is not before:
            before, stages = part.direction, stages + 1
            if stages - 1 == problem.stages:
                most = f"at most {problem.stages} may be on the way to a piece"
                yield Fault(FaultName.STAGES, called(part), room, most)
        inside = zip(part.parts, strips(part, room), strict=False)
        waiting.extend((each, box, before, stages) for each, box in inside)


def _kept_of_trims(problem: SheetProblem, cut: Cut, room: Box) -> tuple[Part, Box] | None:
    """Return what a cut leaves that takes nothing but edge trims off, and where that lies; else None."""
    trim = problem.edge_trim
    kept = [
        (part, box)
        for part, box in zip(cut.parts, strips(cut, room), strict=False)
        if box.x + box.width > trim.left
        and box.x < problem.width - trim.right
        and box.y + box.height > trim.top
        and box.y < problem.height - trim.bottom
    ]
    return kept[0] if len(kept) == 1 < len(cut.parts) else None


def _trims_piece(cut: Cut) -> bool:
    kept = [part for part in cut.parts if not isinstance(part, Offcut)]
    return len(kept) == 1 and isinstance(kept[0], Piece)
