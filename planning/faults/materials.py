"""Rules for materials: each kind says what planning must know of it."""

from collections.abc import Iterator

from kits.catalogue import Material, MaterialKind
from kits.measures import format_weight
from planning.faults.book import Book
from planning.faults.model import Fault

INSIDE = ("inside_width", "inside_height", "inside_depth")


def sizes_missing(book: Book) -> Iterator[Fault]:
    """A sheet has a width and a height; whatever has one of them has both."""
    for index, row in enumerate(book.month.materials):
        for name, other in (("width", "height"), ("height", "width")):
            if getattr(row, name) is not None:
                continue
            if row.kind is MaterialKind.SHEET:
                yield empty(index, name, f"{row.code} is a sheet, so it needs its {name}")
            elif getattr(row, other) is not None:
                yield empty(index, name, f"{row.code} has a {other} but no {name}")


def paper_weights_without_sheet(book: Book) -> Iterator[Fault]:
    """A paper weight makes grams only of something with a width and a height."""
    for index, row in enumerate(book.month.materials):
        if row.grammage is None:
            continue
        if row.kind is MaterialKind.ROLL:
            advice = "Empty this cell and write grams per metre as its weight."
            yield needless(
                index, "grammage", str(row.grammage), f"says nothing of {row.code}, a roll", advice
            )
        elif row.kind is not MaterialKind.SHEET and row.width is None and row.height is None:
            why = f"says nothing of {row.code} without its width and height"
            yield needless(
                index, "grammage", str(row.grammage), why, "Fill them in, or write its weight each."
            )


def roll_lengths(book: Book) -> Iterator[Fault]:
    """A roll has a length, and nothing else has."""
    for index, row in enumerate(book.month.materials):
        if row.kind is MaterialKind.ROLL and row.roll_length is None:
            yield empty(index, "roll_length", f"{row.code} is a roll, so it needs its length")
        if row.kind is not MaterialKind.ROLL and row.roll_length is not None:
            why = f"is the length of a roll, but {row.code} is of the kind {row.kind}"
            yield needless(
                index,
                "roll_length",
                book.length(row.roll_length),
                why,
                "Empty the cell, or write roll as its kind.",
            )


def insides(book: Book) -> Iterator[Fault]:
    """Only packaging has an inside, with all three sizes, and none larger than its outside."""
    for index, row in enumerate(book.month.materials):
        given = [name for name in INSIDE if getattr(row, name) is not None]
        if not given:
            continue
        if row.kind is not MaterialKind.PACKAGING:
            why = f"is a room inside, but {row.code} is of the kind {row.kind}"
            advice = "Empty the inside sizes, or write packaging as its kind."
            yield needless(index, given[0], book.length(getattr(row, given[0])), why, advice)
        for name in INSIDE:
            if name not in given:
                yield empty(index, name, f"{row.code} needs all three inside sizes to be a carton")
        if row.kind is MaterialKind.PACKAGING:
            yield from inside_larger(index, row, book)


def inside_larger(index: int, row: Material, book: Book) -> Iterator[Fault]:
    """A carton is not larger inside than outside, whichever way round its sides were written."""
    room = sorted((row.inside_width or 0, row.inside_height or 0))
    outside = sorted((row.width or room[0], row.height or room[1]))
    if room[0] > outside[0] or room[1] > outside[1]:
        why = f"inside is more than the outside, {book.size(*outside)}"
        yield needless(index, "inside_width", book.size(*room), why, "Correct one of them.")
    if row.inside_depth is not None and row.thickness is not None and row.inside_depth > row.thickness:
        why = f"inside is more than the outside thickness, {book.length(int(row.thickness))}"
        yield needless(index, "inside_depth", book.length(row.inside_depth), why, "Correct one of them.")


def what_cartons_say(book: Book) -> Iterator[Fault]:
    """Only a carton carries something, or is soft; a soft one has an outside depth."""
    for index, row in enumerate(book.month.materials):
        if row.carries is not None and not row.is_container:
            why = f"is what a carton holds, but {row.code} has no inside sizes"
            yield needless(
                index, "carries", format_weight(row.carries), why, "Empty the cell, or fill those in."
            )
        if row.soft and not row.is_container:
            why = f"is a kind of carton, but {row.code} has no inside sizes"
            yield needless(index, "soft", "yes", why, "Empty the cell, or fill those in.")


def edge_trims(book: Book) -> Iterator[Fault]:
    """Only sheets have their edges trimmed, and something is left of them."""
    for index, row in enumerate(book.month.materials):
        if not row.edge_trim:
            continue
        trim = book.length(row.edge_trim)
        if row.kind is not MaterialKind.SHEET:
            why = f"is cut off the edges of sheets, but {row.code} is of the kind {row.kind}"
            yield needless(index, "edge_trim", trim, why, "Empty the cell, or write sheet as its kind.")
        elif row.width and row.height and 2 * row.edge_trim >= min(row.width, row.height):
            why = f"off each edge leaves nothing of {book.size(row.width, row.height)}"
            yield needless(index, "edge_trim", trim, why, "Correct one of them.")


def empty(index: int, field: str, why: str) -> Fault:
    """Word the fault of a cell that must be filled in."""
    return Fault("materials", index, field, "", why, "Fill it in.")


def needless(index: int, field: str, value: str, why: str, allowed: str) -> Fault:
    """Word the fault of a cell that contradicts another."""
    return Fault("materials", index, field, value, why, allowed)
