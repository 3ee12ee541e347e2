"""What the rows call a thing, and what the bill calls it."""

from kits.kit import ItemKind, KitLine
from kits.measures import format_length
from planning.month import Month
from planning.requirements import Kind, item


def kit_item(line: KitLine) -> str:
    """Return the bill's name for what a kit line adds."""
    if line.kind is ItemKind.RECIPE:
        return item(Kind.RECIPE, line.item)
    if line.kind is ItemKind.PRE_CUT:
        return item(Kind.PIECE, line.item)
    if line.length is not None:
        return item(Kind.LENGTH, length_code(line.item, line.length))
    return item(Kind.MATERIAL, line.item)


def length_code(material: str, length: int) -> str:
    """Return the code of a length cut from a roll."""
    return f"{material}@{format_length(length)}"


def item_of(code: str, month: Month) -> str:
    """Return the bill's name for what an order or a rule names by its code alone.

    Whatever is no material, pre-cut, recipe or length of the kit is a piece of a recipe that the club cuts.
    """
    if any(one.code == code for one in month.materials):
        return item(Kind.MATERIAL, code)
    if any(one.code == code for one in month.pre_cuts):
        return item(Kind.PIECE, code)
    if any(one.code == code for one in month.recipes):
        return item(Kind.RECIPE, code)
    lengths = {length_code(line.item, line.length) for line in month.kit_lines if line.length is not None}
    return item(Kind.LENGTH if code in lengths else Kind.PIECE, code)
