"""How well a recipe uses its sheets, what is left, what it costs, and what is left of a whole kit's papers."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from kits.guillotine import Placed, offcuts, piece_area
from kits.measures import Area
from kits.recipe.design import Design
from kits.recipe.steps import trim_steps


@dataclass(frozen=True, slots=True)
class SheetUse:
    """One sheet: its area, that of its pieces, and the offcuts it leaves, the largest first."""

    recipe: str
    role: str
    number: int
    area: Area
    used: Area
    offcuts: tuple[Placed, ...]

    @property
    def share(self) -> Fraction:
        """The share of the sheet that becomes pieces."""
        return Fraction(self.used, self.area)

    @property
    def left(self) -> Area:
        """The area that is left over."""
        return self.area - self.used


@dataclass(frozen=True, slots=True)
class RecipeUse:
    """A recipe: the use of each sheet, the cuts and turns it takes (sheets cut together counted once), its photos."""

    sheets: tuple[SheetUse, ...]
    cuts: int
    turns: int
    photos: int

    @property
    def share(self) -> Fraction:
        """The share of all sheets that becomes pieces; none of nothing."""
        area = sum(sheet.area for sheet in self.sheets)
        return Fraction(sum(sheet.used for sheet in self.sheets), area) if area else Fraction(0)


def recipe_use(design: Design) -> RecipeUse:
    """Return how a recipe uses what it asks for."""
    steps = trim_steps(design)
    photos = sum(len(placed.openings) for page in design.pages for placed in page.placements)
    return RecipeUse(_sheets(design), steps.cuts, steps.turns, photos)


def _sheets(design: Design) -> tuple[SheetUse, ...]:
    uses = []
    for sheet in design.sheets:
        tree = sheet.tree
        left = sorted(offcuts(tree), key=lambda placed: -placed.part.width * placed.part.height)
        area = tree.width * tree.height
        uses.append(SheetUse(design.code, sheet.role, sheet.number, area, piece_area(tree), tuple(left)))
    return tuple(uses)


def paper_cost(design: Design, price_of: Mapping[str, Decimal]) -> Decimal:
    """Return what the posted sheets cost, from the price of one sheet for each role; exact, not rounded.

    Raises KeyError for a role that is posted but has no price.
    """
    return sum((paper.sheets * price_of[paper.role] for paper in design.papers if paper.sheets), Decimal(0))


@dataclass(frozen=True, slots=True)
class PaperLeft:
    """What is left of one paper once a whole kit is cut: how many sheets of it, and all their offcuts."""

    paper: str
    sheets: int
    used: Area
    area: Area
    offcuts: tuple[Placed, ...]

    @property
    def share(self) -> Fraction:
        """The share that becomes pieces."""
        return Fraction(self.used, self.area)


def kit_left(designs: Iterable[Design], paper_of: Mapping[tuple[str, str], str]) -> tuple[PaperLeft, ...]:
    """Return what is left of every paper once all recipes of a kit are cut, by paper in the order they come.

    paper_of: the paper that plays each role, by recipe code and role. A recipe made twice is given twice. Raises
    KeyError for a role that no paper plays.
    """
    by_paper: dict[str, list[SheetUse]] = {}
    for design in designs:
        for use in _sheets(design):
            by_paper.setdefault(paper_of[use.recipe, use.role], []).append(use)
    return tuple(_left(paper, uses) for paper, uses in by_paper.items())


def _left(paper: str, uses: list[SheetUse]) -> PaperLeft:
    left = [placed for use in uses for placed in use.offcuts]
    left.sort(key=lambda placed: -placed.part.width * placed.part.height)
    return PaperLeft(
        paper, len(uses), sum(use.used for use in uses), sum(use.area for use in uses), tuple(left)
    )
