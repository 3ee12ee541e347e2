"""Rules for sheets that may be cut from larger ones instead of being bought."""

from collections.abc import Iterator

from kits.catalogue import Grain, Material, MaterialKind
from planning.faults.book import Book
from planning.faults.cutting import size_of
from planning.faults.model import Fault
from planning.faults.recipes import fits, no_sheet

ONE_STEP = "Name the sheet that is bought, or empty this cell."


def parents_that_do_not_suit(book: Book) -> Iterator[Fault]:
    """A sheet is cut from larger sheets, which are themselves bought, and on which its grain can lie as it must."""
    for index, row in enumerate(book.month.materials):
        if row.cut_from and row.kind is not MaterialKind.SHEET:
            why = f"says what {row.code} is cut from, but it is of the kind {row.kind}"
            yield parent_fault(
                index, ", ".join(row.cut_from), why, "Empty the cell, or write sheet as its kind."
            )
            continue
        for code in row.cut_from:
            parent = book.materials.get(code)
            if parent is not None:
                yield from unsuitable(index, row, parent, book)


def unsuitable(index: int, row: Material, parent: Material, book: Book) -> Iterator[Fault]:
    """Yield what is wrong with one parent sheet, the first thing only."""
    if parent.code == row.code:
        yield parent_fault(index, parent.code, "is the material itself", ONE_STEP)
    elif parent.kind is not MaterialKind.SHEET:
        yield no_sheet("materials", index, "cut_from", parent)
    elif parent.cut_from:
        why = f"is itself cut from {', '.join(parent.cut_from)}"
        yield parent_fault(index, parent.code, why, ONE_STEP)
    elif all((*size_of(row), *size_of(parent))) and not lies_on(row, parent):
        size, sheet = book.size(*size_of(row)), book.size(*size_of(parent))
        grain = "" if row.grain is Grain.NONE else f" with the grain along its {row.grain}"
        grains = f"{sheet}, {'no grain stated' if parent.grain is Grain.NONE else f'grain along the {parent.grain}'}"
        why = f"yields no {size}{grain}: it is {grains if grain else sheet}"
        yield parent_fault(index, parent.code, why, "Name a larger sheet, or correct size or grain.")


def lies_on(row: Material, parent: Material) -> bool:
    """Tell whether a sheet comes out of another, its fibres along the same side of it as asked."""
    upright, turned = fits(size_of(row), size_of(parent)), fits(size_of(row)[::-1], size_of(parent))
    if row.grain is Grain.NONE:
        return upright or turned
    if parent.grain is Grain.NONE:
        return False
    return upright if row.grain is parent.grain else turned


def parent_fault(index: int, value: str, why: str, allowed: str) -> Fault:
    """Word a fault of what a sheet may be cut from."""
    return Fault("materials", index, "cut_from", value, why, allowed)
