"""The whole of it in one table: what each role may look at, and what it may change. No Django here.

A page belongs to one area (`planning/urls.py` says to which). Whoever may change an area may look at it.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum


class Role(StrEnum):
    """What somebody does for the club."""

    OWNER = "owner"
    DESIGNER = "designer"
    BUYER = "buyer"
    PACKER = "packer"
    VIEWER = "viewer"


class Area(StrEnum):
    """What a page is about, in words that stand after "may not look at"."""

    OPEN = "the list of months"
    PLAN = "plans"
    BOOK = "whole month files"
    FIGURES = "what a month needs"
    RECIPES = "recipes"
    ROSTER = "subscribers and their addresses"
    CUTTING = "cutting"
    BUYING = "buying and orders"
    STOCK = "the stock book"
    PACKING = "boxes and who they go to"
    SHIPPING = "shipping days"
    COST = "cost"
    PEOPLE = "people and their rights"


class Act(StrEnum):
    """What somebody does with an area."""

    LOOK = "look at"
    CHANGE = "change"


EVERYTHING = dict.fromkeys(Area, Act.CHANGE)
SHOWN = dict.fromkeys(
    (Area.OPEN, Area.PLAN, Area.FIGURES, Area.RECIPES, Area.CUTTING, Area.STOCK, Area.SHIPPING), Act.LOOK
)
PRICED = SHOWN | dict.fromkeys((Area.BUYING, Area.COST), Act.LOOK)

MAY: Mapping[Role, Mapping[Area, Act]] = {
    Role.OWNER: EVERYTHING,
    Role.DESIGNER: PRICED | dict.fromkeys((Area.RECIPES, Area.PLAN, Area.COST), Act.CHANGE),
    Role.BUYER: PRICED | dict.fromkeys((Area.BUYING, Area.STOCK, Area.PLAN), Act.CHANGE),
    Role.PACKER: SHOWN | dict.fromkeys((Area.PACKING, Area.SHIPPING, Area.STOCK, Area.CUTTING), Act.CHANGE),
    Role.VIEWER: PRICED,
}

TASKS: Mapping[Role, str] = {
    Role.OWNER: "Sees and changes everything, and says who may do what.",
    Role.DESIGNER: "Works on recipes, plans and prices. Sees no subscriber.",
    Role.BUYER: "Orders, receives and counts stock, and plans. Sees no subscriber.",
    Role.PACKER: "Cuts, packs and ships: sees names and addresses, and no prices.",
    Role.VIEWER: "Looks at figures, prices too, and changes nothing. Sees no subscriber.",
}


@dataclass(frozen=True, slots=True)
class Rights:
    """What one person may do. role: None for somebody who was given none, and may do nothing."""

    role: Role | None

    def may(self, act: Act, area: Area) -> bool:
        """Tell whether somebody may look at an area, or change it."""
        most = MAY[self.role].get(area) if self.role else None
        return most is Act.CHANGE or most is act

    def may_look(self, area: Area) -> bool:
        """Tell whether somebody may look at an area."""
        return self.may(Act.LOOK, area)


PAPERS: Mapping[str, Area] = {
    "orders/": Area.BUYING,
    "tickets/": Area.CUTTING,
    "picks/": Area.PACKING,
    "slips/": Area.PACKING,
    "lists/": Area.PACKING,
    "labels/": Area.PACKING,
    "collections/": Area.PACKING,
    "cartons-and-pallets": Area.PACKING,
    "short-picks": Area.PACKING,
    "booklet/": Area.RECIPES,
    "cutting-tickets": Area.CUTTING,
    "month-workbook": Area.COST,
    "shipping": Area.SHIPPING,
    "roster-exceptions": Area.ROSTER,
    "short-boxes": Area.ROSTER,
}


def paper_area(name: str) -> Area:
    """Return what a paper is about, by how its name begins. One that nobody placed is the whole book's."""
    return next((area for begins, area in PAPERS.items() if name.startswith(begins)), Area.BOOK)


SHEETS: Mapping[str, Area] = {
    **dict.fromkeys(
        ("materials", "suppliers", "offers", "price_breaks", "open_orders", "rates", "surcharges"),
        Area.BUYING,
    ),
    **dict.fromkeys(
        ("forecasts", "spoilages", "outlooks", "quantiles", "choices", "substitutes"), Area.BUYING
    ),
    **dict.fromkeys(
        ("recipes", "roles", "pieces", "kit_papers", "pre_cuts", "kit_lines", "rules"), Area.RECIPES
    ),
    **dict.fromkeys(("subscribers", "orders"), Area.ROSTER),
    **dict.fromkeys(
        ("week", "days_off", "crew_days", "services", "zones", "transits", "customs", "delivery_weeks"),
        Area.SHIPPING,
    ),
    **dict.fromkeys(("past", "stayed", "promoted", "announced", "by_hand", "uncertain"), Area.COST),
    **dict.fromkeys(
        ("tiers", "charges", "aims", "budget", "price_points", "promotions", "actuals", "variants"), Area.COST
    ),
    "stock": Area.STOCK,
    "guillotines": Area.CUTTING,
}


def sheet_area(table: str) -> Area:
    """Return what a sheet of the month is about. One that nobody placed is the whole book's."""
    return SHEETS.get(table, Area.BOOK)
