"""Rules for the kit: each line names a thing of its kind, and every tier gets a box with something in it."""

from collections.abc import Iterator

from kits.catalogue import Material, MaterialKind
from kits.kit import ItemKind, KitLine, Tier, When
from planning.faults.book import Book
from planning.faults.hints import did_you_mean
from planning.faults.model import TITLES, Fault

TABLE_OF = {
    ItemKind.RECIPE: "recipes",
    ItemKind.PRE_CUT: "pre_cuts",
    ItemKind.EXTRA: "materials",
    ItemKind.PACKAGING: "materials",
}
KINDS_IN = {
    "recipes": (ItemKind.RECIPE,),
    "pre_cuts": (ItemKind.PRE_CUT,),
    "materials": (ItemKind.EXTRA, ItemKind.PACKAGING),
}


def unknown_items(book: Book) -> Iterator[Fault]:
    """A line names a recipe, a pre-cut or a material, as its kind says."""
    for index, row in enumerate(book.month.kit_lines):
        table = TABLE_OF[row.kind]
        if row.item.strip() and not book.knows(table, ("code",), (row.item,)):
            yield line_fault(
                index, "item", row.item, f"is not on the {TITLES[table]} sheet", other_kind(row, book)
            )


def other_kind(row: KitLine, book: Book) -> str:
    """Say what an unknown item is instead, or what was probably meant."""
    for table, kinds in KINDS_IN.items():
        if (row.item,) in book.keys(table, "code"):
            return f"It is on the {TITLES[table]} sheet: write {' or '.join(kinds)} as its kind."
    codes = {str(code) for (code,) in book.keys(TABLE_OF[row.kind], "code")}
    return did_you_mean(row.item, codes) or "Add it there, or write one that is."


def materials_of_other_kind(book: Book) -> Iterator[Fault]:
    """Packaging lines name packaging, and extras do not."""
    for index, row in enumerate(book.month.kit_lines):
        material = material_of(row, book)
        if material is None or (material.kind is MaterialKind.PACKAGING) == (row.kind is ItemKind.PACKAGING):
            continue
        if row.kind is ItemKind.PACKAGING:
            why, advice = (
                f"is no packaging but of the kind {material.kind}",
                "Write extra here, or correct the material's kind.",
            )
        else:
            why, advice = "is packaging", "Write packaging here, or correct the material's kind."
        yield line_fault(index, "kind", row.item, why, advice)


def lengths_of_rolls(book: Book) -> Iterator[Fault]:
    """Of a roll, and of nothing else, a line says how long each length is: no longer than the roll."""
    for index, row in enumerate(book.month.kit_lines):
        material = material_of(row, book)
        if material is None and TABLE_OF[row.kind] == "materials":
            continue
        if material is not None and material.kind is MaterialKind.ROLL:
            yield from length_off_roll(index, row, material, book)
        elif row.length is not None:
            why = f"is the length of a piece off a roll, but {row.item} is no roll"
            yield line_fault(index, "length", book.length(row.length), why, "Empty the cell.")


def length_off_roll(index: int, row: KitLine, roll: Material, book: Book) -> Iterator[Fault]:
    """Yield what is wrong with the length of a line that names a roll."""
    if row.length is None:
        why = f"{row.item} is a roll, so the line needs the length of each piece"
        yield line_fault(index, "length", "", why, "Fill it in, with its unit.")
    elif roll.roll_length is not None and row.length > roll.roll_length:
        why = f"is longer than a roll of {row.item}, {book.length(roll.roll_length)}"
        yield line_fault(index, "length", book.length(row.length), why, "Correct one of them.")


def lines_for_a_tier_twice(book: Book) -> Iterator[Fault]:
    """No tier gets the same thing by two lines: whether the second adds to the first or replaces it, nobody could say."""
    before: dict[tuple[str, str, int | None, str], list[tuple[int, KitLine]]] = {}
    for index, row in enumerate(book.month.kit_lines):
        earlier = before.setdefault((row.kind, row.item, row.length, row.when), [])
        for first, other in earlier:
            if row.tiers != other.tiers and (both := tiers_of_both(row, other, book)):
                why = f"goes to {both} by this line ({row.count:,} a box) and by another ({other.count:,} a box)"
                advice = "Write one line for each tier, with the whole count in its box."
                yield Fault("kit_lines", index, "item", row.item, why, advice, first)
                break
        earlier.append((index, row))


def tiers_of_both(row: KitLine, other: KitLine, book: Book) -> str:
    """Return the tiers that two lines both go to, an empty text where there is none."""
    every = tuple(tier.code for tier in book.month.tiers)
    return ", ".join(code for code in row.tiers or every if code in (other.tiers or every))


def empty_kit(book: Book) -> Iterator[Fault]:
    """A kit has lines, and tiers to go to."""
    if not book.month.kit_lines and book.whole("kit_lines"):
        advice = "Add a row for everything that goes into a box."
        yield Fault("kit_lines", None, None, "", "the kit is empty", advice)
    if not book.month.tiers and book.whole("tiers"):
        advice = "Add a row for each subscription level, one at least."
        yield Fault("tiers", None, None, "", "there is no tier", advice)


def empty_tiers(book: Book) -> Iterator[Fault]:
    """Every tier's box has something in it, and a carton to lie in."""
    if not book.month.kit_lines or not book.whole("kit_lines", "materials"):
        return
    for index, tier in enumerate(book.month.tiers):
        lines = book.lines_for(tier)
        if all(line.kind is ItemKind.PACKAGING for line in lines):
            yield tier_fault(
                index, tier, "gets nothing but packaging", "Add what goes into its box to the Kit sheet."
            )
        yield from cartons(index, tier, lines, book)


def cartons(index: int, tier: Tier, lines: tuple[KitLine, ...], book: Book) -> Iterator[Fault]:
    """A tier's boxes go into the cartons its lines name, or where none does, into any there is."""
    packaging = [line for line in lines if line.kind is ItemKind.PACKAGING and line.when is When.EVERY_BOX]
    if any(material_of(line, book) is None for line in packaging):
        return  # an unknown code is told on its own row, and might be the carton
    found = [line for line in packaging if is_carton(line, book)]
    if not found and not any(one.is_container for one in book.month.materials):
        advice = (
            "Add packaging for it to the Materials sheet with inside sizes, width, height and depth; the Kit sheet may say "
            "which cartons a tier's boxes go into."
        )
        yield tier_fault(index, tier, "has no carton", advice)


def cartons_counted(book: Book) -> Iterator[Fault]:
    """A line of the kit names a carton boxes may go into, and not how many there are of it."""
    for index, line in enumerate(book.month.kit_lines):
        if is_carton(line, book) and line.count > 1:
            advice = "Write 1: the plan says how many parcels a box makes."
            yield line_fault(
                index, "count", f"{line.count:,}", f"{line.item} is more than one carton of a parcel", advice
            )


def is_carton(line: KitLine, book: Book) -> bool:
    """Tell whether a line's material is a carton."""
    material = material_of(line, book)
    return material is not None and material.is_container


def material_of(row: KitLine, book: Book) -> Material | None:
    """Return the material a line names, None if it names something else or nothing known."""
    return book.materials.get(row.item) if TABLE_OF[row.kind] == "materials" else None


def line_fault(index: int, field: str, value: str, why: str, allowed: str) -> Fault:
    """Word a fault of a kit line."""
    return Fault("kit_lines", index, field, value, why, allowed)


def tier_fault(index: int, tier: Tier, why: str, allowed: str) -> Fault:
    """Word a fault of a tier."""
    return Fault("tiers", index, "code", tier.code, why, allowed)
