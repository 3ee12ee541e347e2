"""The designer's sheets: how well each recipe uses its papers, what they cost, and what is left of each paper."""

from collections.abc import Callable, Iterator, Sequence
from typing import TypeVar

from kits.guillotine.marks import size
from kits.measures import Area, ruler
from planning.documents.workbook.recipe_rows import (
    NumberedRole,
    PaperRow,
    RecipeRow,
    cost_of,
    offcut_words,
    paper_rows,
    recipe_rows,
    share,
    unit_of,
)
from planning.documents.workbook.table import Column, Look, Table
from planning.flow import MonthPlan
from planning.month import Month
from planning.recipe_costs import RolePaper, role_papers
from planning.recipes import kit_recipes

RECIPES, ROLES, LEFT = "Recipes", "Recipe papers", "Papers left"

Row = TypeVar("Row")

TAKEN = "Sheets posted, and the part of a sheet that the club's ready-cut pieces are cut from."
PIECES = "Pieces of this recipe that the club cuts, each divided by the number out of a sheet; the Cut sheet has that."
PRICE = "Of one sheet, as this month's order pays it; where nothing is ordered, as an open order or the shelf has it."
COST = "Sheets taken x price each, for one kit. Overs, freight and cutting are on the Cost sheet."
USED = "The area of the pieces that the subscriber cuts."
SHARE = "Used divided by the area of the sheets posted."
OFFCUTS = (
    "Every offcut of the sheets posted, the largest first. Empty where the recipe's cuts are not written."
)
CUTS = "At the subscriber's trimmer, sheets that are cut together counted once."


def recipe_tables(
    month: Month, plan: MonthPlan
) -> tuple[Table[RecipeRow], Table[NumberedRole], Table[PaperRow]]:
    """Return the three sheets: by recipe, by recipe and paper, by paper."""
    papers, recipes = role_papers(month, plan), tuple(kit_recipes(month))
    papers_at = {code: at for at, code in enumerate(dict.fromkeys(one.material for one in papers), 1)}
    recipes_at = {one.code: at for at, one in enumerate(recipes, 1)}
    titles = {one.code: one.title for one in recipes}
    roles = tuple(
        NumberedRole(recipes_at[one.recipe], titles[one.recipe], papers_at[one.material], one)
        for one in papers
    )
    return (
        recipes_table(month, tuple(recipe_rows(month, recipes, papers))),
        roles_table(month, roles),
        left_table(month, tuple(paper_rows(papers, papers_at))),
    )


# --- The tables ---


def recipes_table(month: Month, rows: tuple[RecipeRow, ...]) -> Table[RecipeRow]:
    """Return a row for every recipe in the kit."""
    col, money = Column[RecipeRow], month.club.currency

    def from_roles(key: str) -> str:
        return f"=SUMIFS({{{ROLES}.{key}}},{{{ROLES}.recipe_number}},{{number}})"

    return Table(
        name=RECIPES,
        says="Each recipe, made once: what it takes of this month's papers, how much of them it uses, what they cost.",
        empty="No recipe in this month's kit.",
        rows=rows,
        columns=(
            col("title", "Recipe", lambda one: one.title, width=26),
            col("number", "Number", lambda one: one.number, Look.COUNT),
            col("boxes", "In the boxes of", lambda one: one.boxes, width=28),
            col(
                "sheets",
                "Sheets",
                lambda one: sum(each.sheets for each in one.roles),
                Look.COUNT,
                from_roles("sheets"),
                total=True,
            ),
            col("cuts", "Cuts", lambda one: one.cuts, Look.COUNT, total=True, note=CUTS),
            col("turns", "Turns", lambda one: one.turns, Look.COUNT, total=True),
            col("photos", "Photos", lambda one: one.photos, Look.COUNT, total=True),
            *areas(month, lambda one: one.roles, from_roles),
            col(
                "cost",
                f"Papers ({money})",
                lambda one: cost_of(one.roles),
                Look.PRICE,
                from_roles("cost"),
                width=12,
                total=True,
                note=COST,
            ),
        ),
    )


def roles_table(month: Month, rows: tuple[NumberedRole, ...]) -> Table[NumberedRole]:
    """Return a row for every paper of every recipe."""
    col, money, on = Column[NumberedRole], month.club.currency, ruler(month.club.ruler)
    unit, shown = unit_of(month)
    return Table(
        name=ROLES,
        says="Every paper of every recipe, made once: sheets, area, offcuts and cost.",
        empty="No recipe in this month's kit.",
        rows=rows,
        frozen=3,
        columns=(
            col("title", "Recipe", lambda one: one.title, width=24),
            col("name", "Paper", lambda one: one.paper.name, width=26),
            col("role", "As its", lambda one: one.paper.role, width=12),
            col("recipe_number", "Recipe number", lambda one: one.recipe_number, Look.COUNT),
            col("paper_number", "Paper number", lambda one: one.paper_number, Look.COUNT),
            col("size", "Size", lambda one: size(one.paper.width, one.paper.height, on, unit=True), width=16),
            col("sheets", "Sheets posted", lambda one: one.paper.sheets, Look.COUNT, total=True),
            col(
                "for_pieces",
                "For ready-cut pieces",
                lambda one: one.paper.for_pieces,
                Look.HUNDREDTHS,
                width=10,
                note=PIECES,
            ),
            col(
                "taken",
                "Sheets taken",
                lambda one: one.paper.taken,
                Look.HUNDREDTHS,
                "={sheets}+{for_pieces}",
                width=9,
                total=True,
                note=TAKEN,
            ),
            col(
                "area",
                f"Posted ({unit})",
                lambda one: shown(one.paper.area),
                Look.HUNDREDTHS,
                width=12,
                total=True,
            ),
            col(
                "used",
                f"Used ({unit})",
                lambda one: shown(one.paper.used),
                Look.HUNDREDTHS,
                width=12,
                total=True,
                note=USED,
            ),
            col(
                "share",
                "Share used",
                lambda one: share([one.paper]),
                Look.SHARE,
                lambda one: "={used}/{area}" if one.paper.area else "",
                note=SHARE,
            ),
            col("offcuts", "Offcuts", lambda one: offcut_words([one.paper], on), width=40, note=OFFCUTS),
            col(
                "price",
                f"Price each ({money})",
                lambda one: one.paper.price,
                Look.PRICE,
                width=11,
                note=PRICE,
            ),
            col(
                "cost",
                f"Cost ({money})",
                lambda one: one.paper.cost,
                Look.PRICE,
                lambda one: "" if one.paper.price is None else "={taken}*{price}",
                width=11,
                total=True,
                note=COST,
            ),
        ),
    )


def left_table(month: Month, rows: tuple[PaperRow, ...]) -> Table[PaperRow]:
    """Return a row for every paper that is posted in sheets."""
    col, on = Column[PaperRow], ruler(month.club.ruler)

    def from_roles(key: str) -> str:
        return f"=SUMIFS({{{ROLES}.{key}}},{{{ROLES}.paper_number}},{{number}})"

    return Table(
        name=LEFT,
        says="What is left of every paper once each recipe of the kit is cut once.",
        empty="No sheets are posted this month.",
        rows=rows,
        columns=(
            col("name", "Paper", lambda one: one.name, width=28),
            col("number", "Number", lambda one: one.number, Look.COUNT),
            col(
                "sheets",
                "Sheets",
                lambda one: sum(each.sheets for each in one.roles),
                Look.COUNT,
                from_roles("sheets"),
                total=True,
            ),
            *areas(month, lambda one: one.roles, from_roles),
            col("offcuts", "Offcuts", lambda one: offcut_words(one.roles, on), width=60, note=OFFCUTS),
        ),
    )


# --- What their columns show ---


def areas(
    month: Month, roles: Callable[[Row], Sequence[RolePaper]], from_roles: Callable[[str], str]
) -> Iterator[Column[Row]]:
    """Yield the columns of what several roles post, use and leave."""
    unit, shown = unit_of(month)

    def area(row: Row) -> Area:
        return sum(each.area for each in roles(row))

    def used(row: Row) -> Area:
        return sum(each.used for each in roles(row))

    yield Column(
        "area",
        f"Posted ({unit})",
        lambda row: shown(area(row)),
        Look.HUNDREDTHS,
        from_roles("area"),
        width=12,
        total=True,
    )
    yield Column(
        "used",
        f"Used ({unit})",
        lambda row: shown(used(row)),
        Look.HUNDREDTHS,
        from_roles("used"),
        width=12,
        total=True,
        note=USED,
    )
    yield Column(
        "left",
        f"Left ({unit})",
        lambda row: shown(area(row) - used(row)),
        Look.HUNDREDTHS,
        "={area}-{used}",
        width=12,
        total=True,
    )
    yield Column(
        "share",
        "Share used",
        lambda row: share(roles(row)),
        Look.SHARE,
        lambda row: "={used}/{area}" if area(row) else "",
        note=SHARE,
    )
