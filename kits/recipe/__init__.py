"""Recipes: how a few sheets become the pages of a spread."""

from kits.recipe.recipe import CutBy, PaperRole, Recipe, RecipePiece

__all__ = ["CutBy", "PaperRole", "Recipe", "RecipePiece"]
