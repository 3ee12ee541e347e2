"""The recipes of the demo: what each is stands in its text."""

from kits.recipe import Recipe, parse
from planning.demo.designs import GATE, KITE, LETTERS, MARKET, TABLE


def recipe(text: str, note: str) -> Recipe:
    """Return a recipe with its code and title as its text has them."""
    design = parse(text)
    return Recipe(code=design.code, title=design.title, note=note, text=text)


RECIPES = (
    recipe(GATE, "Three photos of 4 x 6 in."),
    recipe(MARKET, "Two photos of 4 x 6 in and one of 5 1/2 in square."),
    recipe(LETTERS, "The pockets hold folded letters; cut by the club."),
    recipe(KITE, "Fly the tail over both pages."),
    recipe(TABLE, "Two photos of 5 x 7 in."),
)
