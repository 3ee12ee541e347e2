"""The sheets that look ahead: their figures are the plan's, and a spreadsheet program draws the fan."""

from dataclasses import replace
from io import BytesIO

import openpyxl
import pytest

from planning.documents.workbook import binding_of
from planning.documents.workbook.ahead import MONTHS, SWINGS, ahead_tables
from planning.documents.workbook.write import bound
from planning.flow import MonthPlan, plan_month
from tests.documents.small_month import STAMP
from tests.web.small_month import SMALL_MONTH


@pytest.fixture(scope="module")
def plan() -> MonthPlan:
    return plan_month(SMALL_MONTH, quick=True)


def test_the_sheets_hold_the_plans_figures_and_the_fan_is_a_chart_of_its_own(plan: MonthPlan) -> None:
    tables = ahead_tables(SMALL_MONTH, plan)
    file = bound(tables, binding_of(SMALL_MONTH.club, STAMP))
    book = openpyxl.load_workbook(BytesIO(file), data_only=True)
    assert book.sheetnames == [
        "Months ahead",
        "Forecast methods",
        "Chances",
        "What matters most",
        "More or fewer",
    ]
    assert plan.forecast is not None
    assert plan.chances is not None
    months = list(book[MONTHS].iter_rows(min_row=4, values_only=True))
    assert [row[:2] for row in months[:3]] == [("January 2027", 3), ("February 2027", 4), ("March 2027", 7)]
    april = plan.forecast.months[0]
    assert months[3][:5] == ("April 2027", None, april.boxes(10), april.boxes(50), april.boxes(90))
    assert months[6][9] == "a workshop"
    [fan] = vars(book[MONTHS])["_charts"]  # openpyxl keeps them nowhere else
    assert len(fan.series) == 4
    swings = list(book[SWINGS].iter_rows(min_row=4, values_only=True))
    assert [row[3] for row in swings] == [float(one.span) for one in plan.chances.swings]


def test_where_nothing_is_told_and_nothing_uncertain_there_are_none(plan: MonthPlan) -> None:
    assert ahead_tables(SMALL_MONTH, replace(plan, forecast=None, chances=None)) == ()
