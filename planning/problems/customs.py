"""What customs asks of every item that may lie in a parcel, looked up in the month's rows."""

from fractions import Fraction

from kits.catalogue import Material
from kits.kit import PreCut
from planning.customs import CustomsFact, ItemFact, part_of
from planning.cutting import CuttingResult
from planning.month import Month
from planning.problems.items import length_code
from planning.problems.requirements import all_pre_cuts
from planning.requirements import Kind, item


def customs_facts(month: Month, cutting: CuttingResult) -> dict[str, ItemFact]:
    """Return the facts of items by the bill's names.

    A piece without a row goes by the sheet it is cut from, by its share of the area, and a length by its roll.
    """
    rows = {one.item: fact_of(one) for one in month.customs}
    materials = {one.code: one for one in month.materials}
    facts = {item(Kind.MATERIAL, code): fact for code, fact in rows.items() if code in materials}
    for piece in all_pre_cuts(month):
        name = item(Kind.PIECE, piece.code)
        sources = cutting.sources.get(name, piece.cut_from[:1])
        sheet = next((code for code in sources if code in rows), None)
        if piece.code in rows:
            facts[name] = rows[piece.code]
        elif sheet is not None and (share := share_of_sheet(piece, materials[sheet])):
            facts[name] = part_of(rows[sheet], share)
    for line in month.kit_lines:
        roll = materials.get(line.item)
        if line.length is not None and roll is not None and roll.roll_length and roll.code in rows:
            name = item(Kind.LENGTH, length_code(roll.code, line.length))
            facts[name] = part_of(rows[roll.code], Fraction(line.length, roll.roll_length))
    return facts


def fact_of(row: CustomsFact) -> ItemFact:
    """Return a row as a declaration takes it."""
    return ItemFact(words=row.words, hs_code=row.digits, origin=row.origin, value=Fraction(row.value))


def share_of_sheet(piece: PreCut, sheet: Material) -> Fraction | None:
    """Return which part of a sheet a piece is, None where the sheet has no size."""
    if sheet.width is None or sheet.height is None:
        return None
    return Fraction(piece.width * piece.height, sheet.width * sheet.height)
