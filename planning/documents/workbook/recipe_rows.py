"""The rows of the designer's sheets, and the figures that several of their columns show."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from kits.kit import ItemKind
from kits.measures import Area, Ruler, square_inches, square_metres
from kits.recipe import Recipe, recipe_use
from planning.documents.booklet.left import offcut_size, told
from planning.documents.pdf.words import LETTER
from planning.month import Month
from planning.recipe_costs import RolePaper
from planning.recipes import is_designed, reading

CM2 = 10_000  # in a square metre


@dataclass(frozen=True, slots=True)
class NumberedRole:
    """A role with the numbers of its recipe and of its paper, by which other sheets find it."""

    recipe_number: int
    title: str
    paper_number: int
    paper: RolePaper


@dataclass(frozen=True, slots=True)
class RecipeRow:
    """A recipe, its number and its roles. Cuts, turns and photos are None where they are not written."""

    number: int
    title: str
    boxes: str
    cuts: int | None
    turns: int | None
    photos: int | None
    roles: tuple[RolePaper, ...]


@dataclass(frozen=True, slots=True)
class PaperRow:
    """A paper, its number and the roles it plays."""

    number: int
    name: str
    roles: tuple[RolePaper, ...]


def recipe_rows(month: Month, recipes: Iterable[Recipe], papers: Iterable[RolePaper]) -> Iterator[RecipeRow]:
    """Yield the recipes with their figures."""
    for number, one in enumerate(recipes, 1):
        use = recipe_use(reading(one.text).design) if is_designed(one) else None
        own = tuple(paper for paper in papers if paper.recipe == one.code)
        yield RecipeRow(
            number,
            one.title,
            boxes(month, one.code),
            use.cuts if use else None,
            use.turns if use else None,
            use.photos if use else None,
            own,
        )


def boxes(month: Month, recipe: str) -> str:
    """Return in which boxes a recipe is, and how often."""
    lines = [line for line in month.kit_lines if line.kind is ItemKind.RECIPE and line.item == recipe]
    return "; ".join(f"{line.count} in {', '.join(line.tiers) or 'every box'}" for line in lines)


def paper_rows(papers: Iterable[RolePaper], numbers: dict[str, int]) -> Iterator[PaperRow]:
    """Yield the papers of which whole sheets are posted."""
    found = tuple(papers)
    for code, number in numbers.items():
        own = tuple(paper for paper in found if paper.material == code and paper.sheets)
        if own:
            yield PaperRow(number, own[0].name, own)


# --- Figures ---


def unit_of(month: Month) -> tuple[str, Callable[[Area], Fraction]]:
    """Return the club's unit for the area of a sheet, and how an area is shown in it."""
    if month.club.paper == LETTER:
        return "in²", square_inches
    return "cm²", lambda area: square_metres(area) * CM2


def share(roles: Sequence[RolePaper]) -> Fraction | None:
    """Return the share of the posted sheets that becomes pieces, None where no sheet is posted."""
    area = sum(each.area for each in roles)
    return Fraction(sum(each.used for each in roles), area) if area else None


def cost_of(roles: Sequence[RolePaper]) -> Fraction:
    """Return what roles cost, those without a price left out."""
    return sum((each.cost for each in roles if each.cost is not None), Fraction(0))


def offcut_words(roles: Sequence[RolePaper], on: Ruler) -> str:
    """Return all offcuts, the largest first; nothing without sheets, or where their cuts are not written."""
    if any(each.offcuts is None for each in roles) or not any(each.sheets for each in roles):
        return ""
    placed = [one for each in roles for one in each.offcuts or ()]
    placed.sort(key=lambda one: -one.part.width * one.part.height)
    return "; ".join(told(Counter(offcut_size(one, on) for one in placed))) or "none"
