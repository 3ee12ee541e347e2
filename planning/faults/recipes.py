"""Rules for recipes: pieces come out of the sheets posted, and the month's papers are of the roles' sizes."""

from collections import defaultdict
from collections.abc import Iterator

from kits.catalogue import Material, MaterialKind, Print
from kits.measures import square_inches
from kits.recipe import CutBy, PaperRole, RecipePiece
from planning.faults.book import Book
from planning.faults.model import Fault

Size = tuple[int, int]


def pieces_by_role(book: Book) -> dict[tuple[str, str], list[RecipePiece]]:
    """Return each role's pieces."""
    pieces: defaultdict[tuple[str, str], list[RecipePiece]] = defaultdict(list)
    for row in book.month.pieces:
        pieces[row.recipe, row.role].append(row)
    return pieces


def fits(size: Size, into: Size) -> bool:
    """Tell whether one size lies within another, both as they stand."""
    return size[0] <= into[0] and size[1] <= into[1]


def pieces_too_large(book: Book) -> Iterator[Fault]:
    """A piece is no larger than its sheet, turned if it may turn."""
    for index, row in enumerate(book.month.pieces):
        role = book.roles.get((row.recipe, row.role))
        if role is None or fits((row.width, row.height), (role.width, role.height)):
            continue
        fits_turned = fits((row.height, row.width), (role.width, role.height))
        if not (row.turn and fits_turned):
            yield too_large(index, row, role, fits_turned, book)


def too_large(index: int, row: RecipePiece, role: PaperRole, fits_turned: bool, book: Book) -> Fault:
    """Word the fault of a piece its sheet does not hold."""
    field = "width" if row.width > role.width else "height"
    why = f"is larger than its sheet, {book.size(role.width, role.height)} ({row.role} of {row.recipe})"
    turn = "It would fit turned: let it turn if it may."
    advice = turn if fits_turned else "Correct the piece or the sheet."
    return Fault("pieces", index, field, book.size(row.width, row.height), why, advice)


def pieces_too_many(book: Book) -> Iterator[Fault]:
    """The pieces the subscriber cuts have no more area than the sheets posted for them."""
    pieces = pieces_by_role(book)
    for index, role in enumerate(book.month.roles):
        own = [row for row in pieces[role.recipe, role.role] if row.cut_by is CutBy.SUBSCRIBER]
        area, room = (
            sum(row.width * row.height * row.count for row in own),
            role.width * role.height * role.sheets,
        )
        if area > room:
            areas = f"{float(square_inches(area)):,.1f} in², the sheets {float(square_inches(room)):,.1f} in²"
            why = f"is too few: the pieces of {role.role} in {role.recipe} have {areas}"
            advice = "Post more sheets, or take pieces out."
            yield Fault("roles", index, "sheets", f"{role.sheets:,}", why, advice)


def recipes_without_paper(book: Book) -> Iterator[Fault]:
    """A recipe the kit uses has a paper role."""
    if not book.whole("roles"):
        return
    with_roles = {row.recipe for row in book.month.roles}
    for index, row in enumerate(book.month.recipes):
        if row.code in book.used_recipes and row.code not in with_roles | book.half_known_recipes:
            why, advice = "is in the kit but has no paper role", "Add its papers to the Paper roles sheet."
            yield Fault("recipes", index, "code", row.code, why, advice)


def roles_without_paper(book: Book) -> Iterator[Fault]:
    """Every paper role of a recipe the kit uses has a material this month."""
    for index, row in enumerate(book.month.roles):
        place = row.recipe, row.role
        if row.recipe in book.used_recipes and not book.knows("kit_papers", ("recipe", "role"), place):
            why, advice = (
                f"of {row.recipe} has no paper this month",
                "Name its material on the Kit papers sheet.",
            )
            yield Fault("roles", index, "role", row.role, why, advice)


def papers_of_other_size(book: Book) -> Iterator[Fault]:
    """A role's paper is a sheet of the role's size; the other way round only if its print and every piece may turn.

    A piece that may not turn follows the pattern or the grain, and would then lie across it.
    """
    pieces = pieces_by_role(book)
    for index, row in enumerate(book.month.kit_papers):
        role, material = book.roles.get((row.recipe, row.role)), book.materials.get(row.material)
        if role is None or material is None:
            continue
        every_piece = all(piece.turn for piece in pieces[row.recipe, row.role])
        may_turn = every_piece and material.print is Print.NO_DIRECTION
        if material.kind is not MaterialKind.SHEET:
            yield no_sheet("kit_papers", index, "material", material)
        elif why := other_size(role, material, may_turn, book):
            advice = "Name a paper of the role's size, or change the role."
            yield Fault("kit_papers", index, "material", row.material, why, advice)


def other_size(role: PaperRole, material: Material, may_turn: bool, book: Book) -> str:
    """Say how a paper's size differs from its role's, nothing if it does not."""
    if material.width is None or material.height is None:
        return ""  # told of the material itself
    size, wanted = (material.width, material.height), (role.width, role.height)
    turned = size == wanted[::-1]
    if size == wanted or (turned and may_turn):
        return ""
    why = f"is {book.size(*size)}, but {role.role} of {role.recipe} wants {book.size(*wanted)}"
    which = "its print has a top" if material.print is Print.ONE_WAY else "not every piece of it may turn"
    return f"{why}, and {which}" if turned else why


def no_sheet(table: str, index: int, field: str, material: Material) -> Fault:
    """Word the fault of a paper that is none."""
    why = f"is of the kind {material.kind}, so it is no sheet"
    return Fault(table, index, field, material.code, why, "Name a material of the kind sheet.")
