"""Export then import changes nothing, and import then export neither."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import HealthCheck, given, settings

from planning.demo.month import demo_month
from planning.faults import faults
from planning.month import Month
from planning.monthfile import month_to_workbook, read_month
from tests.monthfile.strategies import months
from tests.support.months import tiny_month

SOME_DAY = date(2020, 2, 20)


@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(months())
def test_a_month_comes_back_from_its_file_as_it_was(month: Month) -> None:
    assert faults(month) == ()
    file = month_to_workbook(month)
    assert read_month(file, SOME_DAY) == month
    assert month_to_workbook(read_month(file, SOME_DAY)) == file


@pytest.mark.parametrize("month", [tiny_month(), demo_month(200)], ids=["tiny", "demo"])
def test_a_file_comes_back_from_its_month_byte_for_byte(month: Month) -> None:
    file = month_to_workbook(month)
    assert read_month(file, SOME_DAY) == month
    assert month_to_workbook(read_month(file, SOME_DAY)) == file
    assert month_to_workbook(month) == file


def test_another_month_makes_another_file() -> None:
    month = tiny_month()
    other = replace(month, club=replace(month.club, note="changed"))
    assert month_to_workbook(other) != month_to_workbook(month)
