"""The month's recipes: those known by their paper roles and pieces alone, and those that are designed in a text.

A recipe with a text has no rows of its own on the sheets of paper roles and pieces: they come out of the text.
"""

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

from kits.kit import ItemKind
from kits.recipe import Design, PaperRole, Reading, Recipe, RecipePiece, read, to_rows
from planning.month import Month


@lru_cache(maxsize=200)  # several steps and every paper ask for the same few recipes
def reading(text: str) -> Reading:
    """Return what a recipe's text says."""
    return read(text)


def is_designed(recipe: Recipe) -> bool:
    """Tell whether a recipe has a text."""
    return bool(recipe.text.strip())


def designs(month: Month) -> dict[str, Design]:
    """Return the designs of the recipes that have one, by the recipe's code."""
    return {one.code: reading(one.text).design for one in month.recipes if is_designed(one)}


def kit_recipes(month: Month) -> Iterator[Recipe]:
    """Yield the recipes that are in the kit, in the order in which it first names them."""
    by_code = {one.code: one for one in month.recipes}
    for code in dict.fromkeys(line.item for line in month.kit_lines if line.kind is ItemKind.RECIPE):
        if code in by_code:
            yield by_code[code]


def paper_roles(month: Month) -> tuple[PaperRole, ...]:
    """Return every paper role of the month: the rows, then those that come out of texts, recipe by recipe."""
    return (*month.roles, *(role for recipe in month.recipes for role in designed_roles(recipe)))


def recipe_pieces(month: Month) -> tuple[RecipePiece, ...]:
    """Return every piece of the month's recipes: the rows, then those that come out of texts."""
    return (*month.pieces, *(piece for recipe in month.recipes for piece in designed_pieces(recipe)))


def designed_roles(recipe: Recipe) -> tuple[PaperRole, ...]:
    """Return the paper roles that come out of a recipe's text, under the recipe's own code."""
    if not is_designed(recipe):
        return ()
    return tuple(replace(role, recipe=recipe.code) for role in to_rows(reading(recipe.text).design).roles)


def designed_pieces(recipe: Recipe) -> tuple[RecipePiece, ...]:
    """Return the pieces that come out of a recipe's text, under the recipe's own code."""
    if not is_designed(recipe):
        return ()
    return tuple(replace(piece, recipe=recipe.code) for piece in to_rows(reading(recipe.text).design).pieces)
