"""Check how sheets are cut: each cut from edge to edge and on the ruler, each part in its place."""

from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

from kits.guillotine import Cut, Direction, Part, Piece
from kits.measures import Length
from kits.recipe.check.faults import Box, Fault, FaultName, Measure, near
from kits.recipe.design import CutSheet, Design, Lift


def sheet_faults(design: Design) -> Iterator[Fault]:
    """Yield the faults of every sheet and of the lifts in which they are cut."""
    say = Measure(design.ruler)
    yield from _counts(design)
    for lift in design.lifts:
        yield from _lift(design, lift)
        for sheet in lift.sheets:
            yield from _sheet(design, sheet, say)
            yield from _cuts(design, sheet, say)
            yield from _leaves(sheet, say)


def _counts(design: Design) -> Iterator[Fault]:
    """Every sheet of every paper is cut once."""
    cut = Counter((sheet.role, sheet.number) for sheet in design.sheets)
    posted = {paper.role: paper.sheets for paper in design.papers}
    for paper in design.papers:
        for number in range(1, paper.sheets + 1):
            if not cut[paper.role, number]:
                yield Fault(FaultName.NOT_CUT, f"sheet {number} of {paper.role}", "")
    for (role, number), count in cut.items():
        where = f"sheet {number} of {role}"
        if count > 1:
            yield Fault(FaultName.CUT_TWICE, where, "", f"{count} times")
        if role not in posted:
            yield Fault(FaultName.NO_PAPER, where, "", f"the papers are {', '.join(posted) or 'none'}")
        elif not 1 <= number <= posted[role]:
            yield Fault(FaultName.NO_SUCH_SHEET, where, "", f"there are {posted[role]}")


def _lift(design: Design, lift: Lift) -> Iterator[Fault]:
    where = " and ".join(f"sheet {sheet.number} of {sheet.role}" for sheet in lift.sheets)
    if len(lift.sheets) == 1:
        return
    if len(lift.sheets) > design.trimmer.sheets:
        yield Fault(
            FaultName.LIFT_TOO_MANY, where, "", f"{len(lift.sheets)} instead of {design.trimmer.sheets}"
        )
    if len({(sheet.tree.width, sheet.tree.height) for sheet in lift.sheets}) > 1:
        yield Fault(FaultName.LIFT_SIZES, where, "")
    first = {_first(sheet.tree) for sheet in lift.sheets}
    if len(first) > 1:
        yield Fault(FaultName.LIFT_NO_SHARED_CUT, where, "")


def _first(tree: Part) -> tuple[Direction, Length] | None:
    """The first cut is at the far mark of the whole sheet; None where it is not cut."""
    return (tree.direction, tree.marks[-1]) if isinstance(tree, Cut) else None


def _sheet(design: Design, sheet: CutSheet, say: Measure) -> Iterator[Fault]:
    paper = design.paper(sheet.role)
    tree, where = sheet.tree, f"sheet {sheet.number} of {sheet.role}"
    if paper and (tree.width, tree.height) != (paper.width, paper.height):
        right = say.size(paper.width, paper.height)
        yield Fault(
            FaultName.SHEET_SIZE, where, "", f"{say.size(tree.width, tree.height)} instead of {right}"
        )
    covered = sum(part.width * part.height for part, _ in _rooms(tree) if not isinstance(part, Cut))
    if covered != tree.width * tree.height:
        areas = f"{covered} instead of {tree.width * tree.height} squares of 1/8 micrometre"
        yield Fault(FaultName.AREA, where, "", areas)


def _rooms(tree: Part) -> Iterator[tuple[Part, Box]]:
    """Yield every part with the room that the cuts around it leave."""
    waiting = [(tree, Box(0, 0, tree.width, tree.height))]
    while waiting:
        part, room = waiting.pop()
        yield part, room
        if isinstance(part, Cut):
            waiting.extend(reversed(list(zip(part.parts, _strips(part, room), strict=True))))


def _strips(cut: Cut, room: Box) -> Iterator[Box]:
    upright = cut.direction is Direction.UPRIGHT
    for start, end in pairwise((0, *cut.marks, room.width if upright else room.height)):
        if upright:
            yield Box(room.x + start, room.y, end - start, room.height)
        else:
            yield Box(room.x, room.y + start, room.width, end - start)


def _cuts(design: Design, sheet: CutSheet, say: Measure) -> Iterator[Fault]:
    where = f"sheet {sheet.number} of {sheet.role}"
    for part, room in _rooms(sheet.tree):
        if (part.width, part.height) != (room.width, room.height):
            measure = f"{say.size(part.width, part.height)} instead of {say.size(room.width, room.height)}"
            yield Fault(FaultName.NOT_EDGE_TO_EDGE, where, _name(part), measure)
        if isinstance(part, Cut):
            yield from _marks(design, where, part, room, say)


def _marks(design: Design, where: str, cut: Cut, room: Box, say: Measure) -> Iterator[Fault]:
    upright = cut.direction is Direction.UPRIGHT
    end, along = (room.width, room.height) if upright else (room.height, room.width)
    for before, mark in pairwise((0, *cut.marks)):
        what = f"the {cut.direction} cut at {say.length(mark)} of the part {say.box(room)}"
        if not 0 < mark < end:
            yield Fault(FaultName.CUT_OUTSIDE, where, what, f"allowed is between 0 and {say.length(end)}")
        if mark <= before and before:
            yield Fault(FaultName.CUT_ORDER, where, what, f"that is at {say.length(before)}")
        if mark % design.ruler.step:
            nearest = design.ruler.step * (mark // design.ruler.step)
            marks = f"{say.length(nearest)} and {say.length(nearest + design.ruler.step)}"
            yield Fault(FaultName.OFF_RULER, where, what, f"the nearest marks are {marks}")
        if along > design.trimmer.length:
            yield Fault(
                FaultName.TOO_LONG,
                where,
                what,
                f"{say.length(along)}, it cuts {say.length(design.trimmer.length)}",
            )


def _leaves(sheet: CutSheet, say: Measure) -> Iterator[Fault]:
    where, tree = f"sheet {sheet.number} of {sheet.role}", sheet.tree
    boxes = [
        (_name(part), Box(room.x, room.y, part.width, part.height))
        for part, room in _rooms(tree)
        if not isinstance(part, Cut)
    ]
    for name, box in boxes:
        over = max(box.right - tree.width, box.bottom - tree.height, -box.x, -box.y)
        if over > 0:
            yield Fault(FaultName.OUTSIDE, where, f"{name}, {say.box(box)},", f"by {say.length(over)}")
    for (name, box), (other, there) in near(boxes, 0):
        yield Fault(FaultName.OVERLAP, where, f"{name}, {say.box(box)},", f"on {other}, {say.box(there)}")


def _name(part: Part) -> str:
    if isinstance(part, Piece):
        return part.name
    return "the part in hand" if isinstance(part, Cut) else "the offcut"
