"""Rules for recipes that are designed in a text: it reads, it comes out, and this month's papers suit it.

Every fault stands at a line and column of the text, those too that other rules find in the rows that come out of it.
"""

from collections.abc import Iterator
from dataclasses import replace

from kits.catalogue import MaterialKind
from kits.recipe import Fault as DesignFault
from kits.recipe import (
    MisfitName,
    PaperRole,
    Reading,
    Recipe,
    RecipePiece,
    SheetPaper,
    check,
    misfits,
)
from kits.recipe.text.read import piece_key
from planning.faults.book import Book
from planning.faults.model import TITLES, Fault
from planning.recipes import is_designed, reading

SHOWN = 36  # characters of what was found, so that its place fits beside it
TOLD_BY_OTHERS = {MisfitName.NO_PAPER, MisfitName.NO_ROLE, MisfitName.SIZE, MisfitName.LYING}
FROM_TEXTS = ("roles", "pieces")


def designed(book: Book) -> Iterator[tuple[int, Recipe, Reading]]:
    """Yield the recipes that have a text, with what it says."""
    for index, row in enumerate(book.month.recipes):
        if is_designed(row):
            yield index, row, reading(row.text)


def texts_that_do_not_read(book: Book) -> Iterator[Fault]:
    """Every line of a text says something, and no two lines contradict each other."""
    for index, _, read in designed(book):
        for problem in read.problems:
            found = at(problem.line, problem.column, problem.found)
            allowed = f"{problem.allowed.removesuffix('.')}."
            yield Fault("recipes", index, "text", found, problem.why, allowed)


def texts_of_another_recipe(book: Book) -> Iterator[Fault]:
    """A text begins with its own recipe's code and title."""
    for index, row, read in designed(book):
        line, design = read.lines.get("recipe", 0), read.design
        for name, said, own in (("code", design.code, row.code), ("title", design.title, row.title)):
            if line and said != own:
                why = f"is not the {name} of its recipe, {own or 'which has none'}"
                yield Fault(
                    "recipes", index, "text", at(line, 1, said), why, "Write the same in both places."
                )


def rows_beside_a_text(book: Book) -> Iterator[Fault]:
    """What a text says of a recipe's papers and pieces is said nowhere else; told once a sheet."""
    codes = {row.code for _, row, _ in designed(book)}
    for table in FROM_TEXTS:
        told = set()
        for index, row in enumerate(getattr(book.written, table)):
            if row.recipe in codes and row.recipe not in told:
                told.add(row.recipe)
                why = f"has rows on the {TITLES[table]} sheet beside its design, which says its papers and pieces"
                advice = "Take its rows out of this sheet, or empty its design."
                yield Fault(table, index, "recipe", row.recipe, why, advice)


def designs_that_do_not_come_out(book: Book) -> Iterator[Fault]:
    """What the kit uses is cut from edge to edge on the ruler, every piece once, and lies on its page."""
    for index, row, read in designed(book):
        if row.code in book.used_recipes and not read.problems:
            for found in check(read.design):
                yield in_design(index, found, read)


def in_design(index: int, found: DesignFault, read: Reading) -> Fault:
    """Return a fault of a design at the line it belongs to."""
    subject = f"{found.where}: {found.what}" if found.what else found.where
    why = f"{subject} {found.name}" + (f": {found.measure}" if found.measure else "")
    return Fault("recipes", index, "text", at(line_of(found, read)), why, "Correct the line.")


def line_of(found: DesignFault, read: Reading) -> int:
    """Return the line of the sheet, page or piece that a fault is about, 1 where it is about none."""
    first = found.where.split(" and sheet ")[0]
    paper = f"paper {first.partition(' of ')[2]}"
    names = (first, first.replace(" for ", " -> "), f"piece {found.what}", paper)
    exact = (read.lines[name] for name in names if name in read.lines)
    begins = (line for name, line in read.lines.items() if name.startswith(f"{first} -> "))
    return next(exact, next(begins, 1))


def papers_that_do_not_suit(book: Book) -> Iterator[Fault]:
    """A paper's print and weight are as the design asks for."""
    known = {row.code: read.design for _, row, read in designed(book)}
    for index, row in enumerate(book.month.kit_papers):
        paper = sheet_paper(row.material, book)
        if row.recipe in known and paper is not None:
            for misfit in misfits(known[row.recipe], {row.role: paper}):
                if misfit.role == row.role and misfit.name not in TOLD_BY_OTHERS:
                    place = f"{row.role} of {row.recipe}" + (f": {misfit.measure}" if misfit.measure else "")
                    why, advice = f"{misfit.name} ({place})", "Name another paper, or change the recipe."
                    yield Fault("kit_papers", index, "material", row.material, why, advice)


def sheet_paper(code: str, book: Book) -> SheetPaper | None:
    """Return a material as a recipe sees it, None where it is no sheet."""
    one = book.materials.get(code)
    if one is None or one.kind is not MaterialKind.SHEET or one.width is None or one.height is None:
        return None
    return SheetPaper(one.code, one.width, one.height, one.print, one.grammage)


# --- Rows that came out of a text ---


def in_its_text(fault: Fault, book: Book) -> Fault:
    """Return the fault of a row that came out of a text as a fault of the text, any other as it is."""
    if fault.table not in FROM_TEXTS or fault.row is None:
        return fault
    rows = len(getattr(book.written, fault.table))
    if fault.row < rows:
        return replace(fault, first=None) if (fault.first or 0) >= rows else fault
    row: PaperRole | RecipePiece = getattr(book.month, fault.table)[fault.row]
    index, _, read = next(one for one in designed(book) if one[1].code == row.recipe)
    name = piece_key(row.piece, row.page) if isinstance(row, RecipePiece) else f"paper {row.role}"
    found = at(read.lines.get(name, 1), 1, fault.value)
    return replace(fault, table="recipes", row=index, field="text", value=found, first=None)


def at(line: int, column: int = 1, found: str = "") -> str:
    """Return a place in a text, and what stands there."""
    short = found if len(found) <= SHOWN else f"{found[:SHOWN]}…"
    return f"line {line}, column {column}:" + (f" {short}" if short else "")
