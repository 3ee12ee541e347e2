"""The list of months, and month files out."""

from datetime import date

from django.test import Client

from kits.models import Month
from planning import load
from planning.models import Plan
from planning.monthfile import read_month
from planning.run import fingerprint
from planning.views.months import XLSX
from tests.web.small_month import SMALL_MONTH


def test_it_works(desk: Client, month: Month) -> None:
    page = desk.get("/").content.decode()
    assert f'<a href="/months/{month.pk}/">Reedbed</a>' in page
    assert "April 2027" in page
    assert "Not planned yet" in page


def test_without_months_it_says_what_to_do_next(desk: Client) -> None:
    page = desk.get("/").content.decode()
    assert "No month is here yet." in page
    assert 'href="/template"' in page


def test_a_planned_month_shows_its_figures(desk: Client, plan: Plan) -> None:
    page = desk.get("/").content.decode()
    assert "Planned, version 1" in page
    assert f"{plan.cost:,.2f}" in page


def test_a_month_goes_out_as_the_file_it_can_come_in_by(desk: Client, month: Month) -> None:
    answer = desk.get(f"/months/{month.pk}/export")
    assert answer["Content-Type"] == XLSX
    assert answer["Content-Disposition"] == 'attachment; filename="HERON-2027-04.xlsx"'
    again = read_month(answer.content, date(2027, 3, 1))
    assert again == SMALL_MONTH == load.month(month.pk)
    assert fingerprint(again) == month.fingerprint


def test_the_empty_file_is_a_workbook(desk: Client) -> None:
    answer = desk.get("/template")
    assert answer["Content-Type"] == XLSX
    assert answer.content.startswith(b"PK")
