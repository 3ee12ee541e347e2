"""What the offcuts of a recipe could still yield."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from kits.catalogue import Print
from kits.guillotine import Offcut, PieceSize, Placed, SheetProblem, SheetResult, Turn, best_use, offcuts
from kits.measures import Length
from kits.recipe.design import Design


@dataclass(frozen=True, slots=True)
class StillYields:
    """An offcut of a sheet, where it lies, and the best use of it."""

    sheet: str
    offcut: Placed
    result: SheetResult


def still_yields(design: Design, handy: Sequence[PieceSize]) -> tuple[StillYields, ...]:
    """Return for each offcut that holds any of the handy sizes the pieces that use most of it, the largest first.

    Sizes that the recipe's ruler cannot measure are left out; on one-way paper none is turned.
    """
    found = []
    for sheet in design.sheets:
        paper = design.paper(sheet.role)
        one_way = paper is not None and paper.print is Print.ONE_WAY
        for placed in offcuts(sheet.tree):
            width, height = placed.part.width, placed.part.height
            sizes = [replace(size, turn=Turn.NONE) if one_way else size for size in handy]
            fitting = tuple(size for size in sizes if _fits(design, size, width, height))
            if fitting and isinstance(placed.part, Offcut):
                result = best_use(SheetProblem(width, height, fitting))
                found.append(StillYields(sheet.label, placed, result))
    return tuple(sorted(found, key=lambda each: -each.offcut.part.width * each.offcut.part.height))


def _fits(design: Design, size: PieceSize, width: Length, height: Length) -> bool:
    on_ruler = design.ruler.holds(size.width) and design.ruler.holds(size.height)
    return on_ruler and any(wide <= width and high <= height for wide, high, _ in size.ways)
