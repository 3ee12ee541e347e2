"""Export then import changes nothing, and import then export neither."""

from dataclasses import replace
from datetime import date
from io import BytesIO

import openpyxl
import pytest
from hypothesis import HealthCheck, given, settings

from planning.demo.month import demo_month
from planning.faults import faults
from planning.month import Month
from planning.monthfile import MonthFileError, month_to_workbook, read_month
from tests.monthfile.strategies import months
from tests.support.effort import examples
from tests.support.months import DAISY, designed_month, tiny_month

SOME_DAY = date(2020, 2, 20)


@settings(max_examples=examples(25), suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(months())
def test_a_month_comes_back_from_its_file_as_it_was(month: Month) -> None:
    assert faults(month) == ()
    file = month_to_workbook(month)
    assert read_month(file, SOME_DAY) == month
    assert month_to_workbook(read_month(file, SOME_DAY)) == file


@pytest.mark.parametrize(
    "month", [tiny_month(), designed_month(), demo_month(200)], ids=["tiny", "designed", "demo"]
)
def test_a_file_comes_back_from_its_month_byte_for_byte(month: Month) -> None:
    file = month_to_workbook(month)
    assert read_month(file, SOME_DAY) == month
    assert month_to_workbook(read_month(file, SOME_DAY)) == file
    assert month_to_workbook(month) == file


def test_a_design_typed_with_tabs_and_other_line_ends_is_the_same_design() -> None:
    month = designed_month()
    [recipe] = month.recipes
    typed = recipe.text.replace("    ", "\t").replace("\n", "\r\n")
    book = openpyxl.load_workbook(BytesIO(month_to_workbook(month)))
    book["Recipes"]["D3"] = typed
    book.save(file := BytesIO())
    assert read_month(file.getvalue(), SOME_DAY) == month


def test_a_broken_design_is_reported_with_its_cell_and_its_line() -> None:
    file = month_to_workbook(designed_month(DAISY.replace("    cut at 3:", "    cut at 13:")))
    with pytest.raises(MonthFileError) as error:
        read_month(file, SOME_DAY)
    assert str(error.value) == (
        'Recipes, row 3, column D "Design": line 24, column 12: 13 is beyond the edge: what is in hand reaches to 12 in. '
        "Cut between 1/8 in and 11 7/8 in."
    )


def test_another_month_makes_another_file() -> None:
    month = tiny_month()
    other = replace(month, club=replace(month.club, note="changed"))
    assert month_to_workbook(other) != month_to_workbook(month)
