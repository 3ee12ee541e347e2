"""What a month's recipes take of its papers, and what that costs: one kit's worth, at the prices the plan pays.

Overs, freight and the knife's time are not in it: they are the month's, and the cost step splits them over the kits.
"""

from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from kits.guillotine import Placed
from kits.measures import Area, Length
from kits.recipe import CutBy, PaperRole, Recipe, recipe_use
from planning.buying import BuyingResult
from planning.cutting import CuttingResult
from planning.flow import MonthPlan
from planning.month import Month
from planning.problems.requirements import piece_code
from planning.recipes import is_designed, kit_recipes, paper_roles, reading, recipe_pieces
from planning.requirements import Kind, item


@dataclass(frozen=True, slots=True, kw_only=True)
class RolePaper:
    """One paper role of a recipe, made once.

    material, name: the paper that plays it. sheets: posted; for_pieces: sheets, mostly a part of one, that the club's
    ready-cut pieces take. area, used: of the posted sheets. offcuts: None where it is not known how they are cut.
    price: of one sheet, None where nothing tells it.
    """

    recipe: str
    role: str
    material: str
    name: str
    width: Length
    height: Length
    sheets: int
    for_pieces: Fraction
    area: Area
    used: Area
    offcuts: tuple[Placed, ...] | None
    price: Decimal | None

    @property
    def taken(self) -> Fraction:
        """Sheets in all."""
        return self.sheets + self.for_pieces

    @property
    def cost(self) -> Fraction | None:
        """What they cost, exactly."""
        return None if self.price is None else self.taken * Fraction(self.price)


def role_papers(month: Month, plan: MonthPlan) -> tuple[RolePaper, ...]:
    """Return every paper role of the recipes in the kit, recipe by recipe in the kit's order."""
    prices, uses = paper_prices(month, plan.buying), Uses(month, plan.cutting)
    names = {one.code: one.name for one in month.materials}
    material = {(row.recipe, row.role): row.material for row in month.kit_papers}
    found = []
    for recipe in kit_recipes(month):
        for role in paper_roles(month):
            if role.recipe == recipe.code:
                code = material.get((recipe.code, role.role), "")
                found.append(uses.of(recipe, role, code, names.get(code, role.role), prices.get(code)))
    return tuple(found)


def paper_prices(month: Month, buying: BuyingResult) -> dict[str, Decimal]:
    """Return the price of one of each material: what the plan's order pays; without one, an open order or the shelf."""
    prices = {line.item: line.value_each for line in month.stock}
    prices |= {
        order.material: order.price for order in sorted(month.open_orders, key=lambda order: order.due)
    }
    bought = {line.need.material: line.price for line in buying.lines if line.offer and line.quantity}
    return prices | bought


def sheets_each(cutting: CuttingResult) -> Iterator[tuple[str, Fraction]]:
    """Yield each item that is cut, and the part of a sheet that one of it takes: sheets are shared by the area of pieces."""
    sheets: Counter[str] = Counter()
    shares: defaultdict[str, Fraction] = defaultdict(Fraction)
    for ticket in cutting.tickets:
        areas = ticket.areas
        for name, area in areas.items():
            shares[name] += Fraction(ticket.sheets * area, sum(areas.values()))
            sheets[name] += ticket.made_of(name)
    yield from ((name, share / sheets[name]) for name, share in shares.items())


class Uses:
    """How the recipes use their sheets."""

    def __init__(self, month: Month, cutting: CuttingResult) -> None:
        self.pieces = recipe_pieces(month)
        self.each = dict(sheets_each(cutting))

    def of(
        self, recipe: Recipe, role: PaperRole, material: str, name: str, price: Decimal | None
    ) -> RolePaper:
        """Return what a role takes."""
        used, offcuts = self.cut(recipe, role)
        return RolePaper(
            recipe=recipe.code,
            role=role.role,
            material=material,
            name=name,
            width=role.width,
            height=role.height,
            sheets=role.sheets,
            for_pieces=self.for_pieces(role),
            area=role.sheets * role.width * role.height,
            used=used,
            offcuts=offcuts,
            price=price,
        )

    def cut(self, recipe: Recipe, role: PaperRole) -> tuple[Area, tuple[Placed, ...] | None]:
        """Return the area of a role's pieces, and its offcuts as far as its cuts are designed."""
        if not is_designed(recipe):
            own = (piece for piece in self.pieces if (piece.recipe, piece.role) == (recipe.code, role.role))
            posted = (piece for piece in own if piece.cut_by is CutBy.SUBSCRIBER)
            return sum(piece.count * piece.width * piece.height for piece in posted), None
        sheets = [use for use in recipe_use(reading(recipe.text).design).sheets if use.role == role.role]
        return sum(use.used for use in sheets), tuple(placed for use in sheets for placed in use.offcuts)

    def for_pieces(self, role: PaperRole) -> Fraction:
        """Return the sheets that a role's ready-cut pieces take; pieces from the shelf take none."""
        counts: Counter[str] = Counter()
        for piece in self.pieces:
            if (piece.recipe, piece.role, piece.cut_by) == (role.recipe, role.role, CutBy.CLUB):
                counts[item(Kind.PIECE, piece_code(piece))] += piece.count
        return sum(
            (count * self.each[name] for name, count in counts.items() if name in self.each),
            Fraction(0),
        )
