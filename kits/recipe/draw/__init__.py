"""Drawings of a recipe, as display lists that can be written as SVG or drawn into a PDF."""

from kits.recipe.draw.cut_sheet import draw_cut_sheet
from kits.recipe.draw.spread import describe_page, draw_page, draw_spread
from kits.recipe.draw.step import draw_step

__all__ = ["describe_page", "draw_cut_sheet", "draw_page", "draw_spread", "draw_step"]
