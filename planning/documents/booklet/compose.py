"""The booklet of a month, put together."""

from dataclasses import replace

from kits.measures import ruler
from kits.recipe import Design, Recipe, kit_left
from planning.documents.booklet.box import box_contents
from planning.documents.booklet.chapter import chapter, paper_names
from planning.documents.booklet.left import rest_of
from planning.documents.booklet.model import Booklet
from planning.month import Month
from planning.recipes import kit_recipes, reading


def booklet(month: Month) -> Booklet:
    """Return what the booklet of a month says: a chapter for every recipe that some box holds."""
    club = month.club
    recipes = tuple(kit_recipes(month))
    chapters = tuple(chapter(month, recipe) for recipe in recipes)
    whole = [recipe for recipe, one in zip(recipes, chapters, strict=True) if one.work]
    designs = [design_of(recipe) for recipe in whole]
    left = kit_left(designs, papers_of(month, designs))
    return Booklet(
        club=club.name,
        kit=club.kit_name,
        month=club.month.title,
        note=club.note,
        box=box_contents(month),
        chapters=chapters,
        rest=rest_of(left, ruler(club.ruler)),
    )


def design_of(recipe: Recipe) -> Design:
    """Return a recipe's design under the code the month knows it by."""
    return replace(reading(recipe.text).design, code=recipe.code)


def papers_of(month: Month, designs: list[Design]) -> dict[tuple[str, str], str]:
    """Return the paper that plays each role, by its name; a role without one is its own paper."""
    papers: dict[tuple[str, str], str] = {}
    for design in designs:
        names = paper_names(month, design.code)
        papers |= {(design.code, one.role): names.get(one.role, one.role) for one in design.papers}
    return papers
