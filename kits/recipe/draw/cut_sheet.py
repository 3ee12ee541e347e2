"""The sheets of a recipe, each with its marks and, on every piece, the page it goes to."""

from dataclasses import replace

from kits.drawing import Drawing
from kits.guillotine import Cut, Part, draw_sheet
from kits.recipe.design import CutSheet, Design, PagePiece


def draw_cut_sheet(design: Design, sheet: CutSheet) -> Drawing:
    """Return the drawing of a cut sheet. Its left edge is the one that comes to the fence first."""
    title = f"{sheet.label[0].upper()}{sheet.label[1:]} of recipe {design.title or design.code}"
    return draw_sheet(_with_pages(sheet.tree), design.ruler, title)


def _with_pages(part: Part) -> Part:
    if isinstance(part, Cut):
        return replace(part, parts=tuple(map(_with_pages, part.parts)))
    if isinstance(part, PagePiece) and part.page:
        return replace(part, name=f"{part.name}, {part.page}")
    return part
