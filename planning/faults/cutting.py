"""Rules for what the club cuts: some sheet and some guillotine must yield it."""

from collections.abc import Iterator

from kits.catalogue import Grain, Material, MaterialKind
from kits.kit import Direction, ItemKind, PreCut
from planning.faults.book import Book
from planning.faults.model import Fault
from planning.faults.recipes import fits, no_sheet


def nothing_to_cut_from(book: Book) -> Iterator[Fault]:
    """A pre-cut names what it may be cut from, and all of it is sheets."""
    for index, row in enumerate(book.month.pre_cuts):
        if not row.cut_from:
            why = f"{row.code} names nothing to cut it from"
            yield pre_cut_fault(
                index, "cut_from", "", why, "Write the code of a sheet material, or of several."
            )
        for code in row.cut_from:
            material = book.materials.get(code)
            if material is not None and material.kind is not MaterialKind.SHEET:
                yield no_sheet("pre_cuts", index, "cut_from", material)


def pre_cuts_too_large(book: Book) -> Iterator[Fault]:
    """A pre-cut comes out of one of its sheets at least, and that one passes under a guillotine."""
    for index, row in enumerate(book.month.pre_cuts):
        sheets = sheets_of(row, book)
        if not sheets or len(sheets) < len(row.cut_from):
            continue  # what is missing might have been the one that yields it
        fitting = [sheet for sheet in sheets if yields(row, sheet)]
        if not fitting:
            yield too_large(index, row, sheets, book)
        elif not any(goes_under_a_knife(sheet, book) for sheet in fitting):
            why = f"passes under no guillotine, the widest of which takes {book.length(widest(book))}"
            advice = "Name a narrower sheet as well."
            yield pre_cut_fault(index, "cut_from", ", ".join(row.cut_from), why, advice)


def sheets_of(row: PreCut, book: Book) -> list[Material]:
    """Return the sheets a pre-cut may be cut from, as far as they are known and have a size."""
    named = (book.materials.get(code) for code in row.cut_from)
    return [one for one in named if one is not None and one.kind is MaterialKind.SHEET and all(size_of(one))]


def yields(row: PreCut, sheet: Material) -> bool:
    """Tell whether a sheet yields a pre-cut that lies as its direction asks."""
    inside = inside_of(sheet)
    upright, turned = fits(size_of(row), inside), fits(size_of(row)[::-1], inside)
    match row.direction:
        case Direction.ANY:
            return upright or turned
        case Direction.GRAIN_ALONG_WIDTH:
            return {Grain.WIDTH: upright, Grain.HEIGHT: turned, Grain.NONE: False}[sheet.grain]
        case Direction.GRAIN_ALONG_HEIGHT:
            return {Grain.WIDTH: turned, Grain.HEIGHT: upright, Grain.NONE: False}[sheet.grain]
        case Direction.NOT_TURNED:
            return upright


def too_large(index: int, row: PreCut, sheets: list[Material], book: Book) -> Fault:
    """Word the fault of a pre-cut no sheet yields, and say whether only its direction is in the way."""
    sizes = ", ".join(f"{one.code} {book.size(*inside_of(one))}{trimmed(one)}" for one in sheets)
    size, turned = size_of(row), size_of(row)[::-1]
    if not any(fits(size, inside_of(one)) or fits(turned, inside_of(one)) for one in sheets):
        why = f"is larger than every sheet it may be cut from: {sizes}"
        return pre_cut_fault(index, "width", book.size(*size), why, "Correct it, or name a larger sheet.")
    if row.direction is not Direction.NOT_TURNED and all(one.grain is Grain.NONE for one in sheets):
        why = f"asks for a grain, but none is stated of {', '.join(row.cut_from)}"
        return pre_cut_fault(index, "direction", row.direction, why, "State the sheet's grain, or write any.")
    why = f"does not let {book.size(*size)} lie on any of its sheets: {sizes}"
    advice = "It would fit the other way: write any if it may turn."
    return pre_cut_fault(index, "direction", row.direction, why, advice)


def size_of(one: Material | PreCut) -> tuple[int, int]:
    """Return the width and height of a sheet or a piece."""
    return one.width or 0, one.height or 0


def inside_of(sheet: Material) -> tuple[int, int]:
    """Return what is left of a sheet once its edges are trimmed."""
    width, height = size_of(sheet)
    return width - 2 * sheet.edge_trim, height - 2 * sheet.edge_trim


def trimmed(sheet: Material) -> str:
    """Say that a size is what the edge trims leave; nothing where there are none."""
    return " inside its edge trims" if sheet.edge_trim else ""


def goes_under_a_knife(sheet: Material, book: Book) -> bool:
    """Tell whether the sheet's shorter side passes under a guillotine; that there is none is another fault."""
    machines = book.month.guillotines
    return not machines or not book.whole("guillotines") or min(size_of(sheet)) <= widest(book)


def widest(book: Book) -> int:
    """Return the widest opening of all guillotines."""
    return max((one.opening for one in book.month.guillotines), default=0)


def no_guillotine(book: Book) -> Iterator[Fault]:
    """Where the club cuts, it has something to cut with; what lies on the shelf may be enough, which the plan finds out."""
    if book.month.guillotines or not book.whole("guillotines"):
        return
    pre_cuts = {line.item for line in book.month.kit_lines if line.kind is ItemKind.PRE_CUT}
    ordered = {order.item for order in book.month.orders} & {row.code for row in book.month.pre_cuts}
    pieces = {code for code, row in book.club_pieces.items() if row.recipe in book.used_recipes}
    on_shelf = {line.item for line in book.month.stock if line.on_hand > 0}
    if wanted := sorted((pre_cuts | ordered | pieces) - on_shelf):
        others = f" and {len(wanted) - 1} more" if len(wanted) > 1 else ""
        why = f"there is no guillotine, but the club cuts {wanted[0]}{others}"
        advice = (
            "Add the machine it is cut on (a hand trimmer will do), or count as stock what is cut already."
        )
        yield Fault("guillotines", None, None, "", why, advice)


def sheets_too_wide(book: Book) -> Iterator[Fault]:
    """The paper of a piece the club cuts passes under a guillotine."""
    cut = {(row.recipe, row.role) for row in book.club_pieces.values()}
    for index, row in enumerate(book.month.kit_papers):
        sheet = book.materials.get(row.material)
        if (row.recipe, row.role) in cut and sheet is not None and not goes_under_a_knife(sheet, book):
            why = f"passes under no guillotine, but the club cuts pieces of {row.recipe} from it"
            advice = f"The widest takes {book.length(widest(book))}."
            yield Fault("kit_papers", index, "material", row.material, why, advice)


def pre_cut_fault(index: int, field: str, value: str, why: str, allowed: str) -> Fault:
    """Word a fault of a pre-cut."""
    return Fault("pre_cuts", index, field, value, why, allowed)
