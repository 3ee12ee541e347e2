"""The month workbook: every figure of the plan, each beside what it was worked out from, its totals live formulas."""

from collections.abc import Sequence
from typing import Any

from kits.measures import Currency
from planning.curve import CurveResult
from planning.documents.exceptions import RosterException
from planning.documents.short_boxes import ShortBox
from planning.documents.stamp import Stamp
from planning.documents.workbook.ahead import ahead_tables
from planning.documents.workbook.books import area_balance, materials_balance, pieces_balance
from planning.documents.workbook.buy import buy_table, orders_table
from planning.documents.workbook.cost import cost_table, entries_table
from planning.documents.workbook.cut import cut_table, out_table, pieces_table, ways_table
from planning.documents.workbook.money import money_tables
from planning.documents.workbook.needs import needs_table, roster_table
from planning.documents.workbook.pack import contents_table, pack_table
from planning.documents.workbook.recipes import recipe_tables
from planning.documents.workbook.rules import rules_table
from planning.documents.workbook.ship import days_table, ship_table, waves_table
from planning.documents.workbook.short import short_table
from planning.documents.workbook.summary import summary_table
from planning.documents.workbook.table import Table
from planning.documents.workbook.write import Binding, bound
from planning.flow import MonthPlan
from planning.month import Club, Month

__all__ = ["binding_of", "month_tables", "month_workbook"]


def month_workbook(
    month: Month,
    plan: MonthPlan,
    exceptions: Sequence[RosterException],
    stamp: Stamp,
    short: Sequence[ShortBox] = (),
    curve: CurveResult | None = None,
) -> bytes:
    """Return the month workbook as the bytes of an .xlsx file: the same plan and stamp, the same bytes."""
    return bound(month_tables(month, plan, exceptions, stamp, short, curve), binding_of(month.club, stamp))


def binding_of(club: Club, stamp: Stamp) -> Binding:
    """Return what all sheets of a month's workbooks share."""
    return Binding(
        title=f"{club.name} - {club.kit_name}, {club.month.title}",
        author=club.name,
        paper=club.paper,
        exponent=Currency(club.currency).exponent,
        stamp=stamp,
    )


def month_tables(
    month: Month,
    plan: MonthPlan,
    exceptions: Sequence[RosterException],
    stamp: Stamp,
    short: Sequence[ShortBox] = (),
    curve: CurveResult | None = None,
) -> tuple[Table[Any], ...]:
    """Return the workbook's sheets in their order."""
    needs = needs_table(month, plan, exceptions)
    return (
        summary_table(month, plan, stamp, len(needs.rows), exceptions),
        needs,
        buy_table(month, plan),
        orders_table(month, plan),
        cut_table(month, plan),
        out_table(plan),
        pieces_table(month, plan),
        ways_table(month, plan),
        *recipe_tables(month, plan),
        pack_table(month, plan),
        contents_table(month, plan),
        *([rules_table(plan)] if plan.contents.applied else []),
        ship_table(month, plan),
        days_table(month, plan),
        waves_table(month, plan),
        cost_table(month, plan),
        entries_table(month, plan),
        *money_tables(month, plan, curve),
        *ahead_tables(month, plan),
        materials_balance(month, plan),
        pieces_balance(month, plan),
        area_balance(month, plan),
        roster_table(exceptions),
        *([short_table(short)] if short else []),
    )
