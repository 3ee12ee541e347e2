"""A row is judged the same way in a roster of its own and in a month file."""

import csv
import tracemalloc
from dataclasses import replace
from datetime import date
from io import BytesIO
from pathlib import Path

import openpyxl
import pytest

from planning.faults import ROSTER_RULES, RULES
from planning.month import Month
from planning.monthfile import MonthFileError, month_to_workbook, read_month
from planning.monthfile.problems import Problem
from planning.rosterfile import CHUNK, read, read_roster
from planning.rosterfile.read import NOTES, SHEET
from tests.support.months import tiny_month

HEADINGS = [column.heading for column in SHEET.columns]
GOOD = [
    "A1",
    "Ann",
    "1 Elm",
    "",
    "",
    "Leeds",
    "",
    "LS1",
    "GB",
    "FULL",
    "1",
    "yes",
    "2027-03-29",
    "2027-07",
    "",
    "",
    "",
]


def with_cell(field: str, cell: str, reference: str) -> list[str]:
    """Return a row that is right but for one cell."""
    at = next(at for at, column in enumerate(SHEET.columns) if column.field == field)
    row = [reference, *GOOD[1:]]
    row[at] = cell
    return row


AWKWARD = (
    ("name", ""),
    ("name", "   "),
    ("name", "Bell\x07"),
    ("name", "x" * 121),
    ("name", "=1+1"),
    ("address_2", " \u200b "),
    ("address_1", "a\nb"),
    ("address_1", "l" * 200),
    ("city", ""),
    ("country", "gb"),
    ("country", "UK"),
    ("country", "Germany"),
    ("country", ""),
    ("tier", "full"),
    ("tier", "FULLL"),
    ("tier", ""),
    ("quantity", "0"),
    ("quantity", "-1"),
    ("quantity", "1.5"),
    ("quantity", "10,000"),
    ("quantity", "10001"),
    ("quantity", "many"),
    ("active", "no"),
    ("active", "perhaps"),
    ("joined", "03/04/2027"),
    ("joined", "31 Feb 2027"),
    ("joined", "29 Mar 2027"),
    ("skips", "2027-07, 2027-08"),
    ("skips", "2027-13"),
    ("skips", "July"),
    ("sent", "11"),
    ("sent", "-1"),
    ("sent", "many"),
    ("promotions", "spring, MAY"),
    ("promotions", "SPRING, Spring"),
    ("promotions", '10"OFF'),
    ("note", "n" * 2_001),
    ("postcode", "00123"),
    ("reference", " A 1 "),
    ("reference", "r" * 41),
    ("reference", ""),
)
ROWS = [with_cell(field, cell, f"R{number}") for number, (field, cell) in enumerate(AWKWARD)]


def month() -> Month:
    return replace(tiny_month(), orders=())


def told_by_month_file(rows: list[list[str]]) -> tuple[list[Problem], int]:
    """Return the problems of these rows on a month file's Roster sheet, and the row of its headings."""
    book = openpyxl.load_workbook(BytesIO(month_to_workbook(month())))
    sheet = book["Roster"]
    head = next(row for row in range(1, 10) if sheet.cell(row, 1).value == HEADINGS[0])
    sheet.delete_rows(head + 1, sheet.max_row)
    for at, row in enumerate(rows, head + 1):
        for column, cell in enumerate(row, 1):
            if cell:
                sheet.cell(at, column).value = cell.replace("\x07", "_x0007_")
                sheet.cell(at, column).data_type = "s"
    file = BytesIO()
    book.save(file)
    try:
        read_month(file.getvalue(), date(2027, 3, 1))
    except MonthFileError as error:
        return [one for one in error.problems if one.sheet == "Roster" and one.row], head
    return [], head


def told_by_roster(rows: list[list[str]], path: Path) -> list[Problem]:
    with path.open("w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows([HEADINGS, *rows])
    chunks = read_roster(path, month())
    return [one for chunk in chunks for refused in chunk.refused for one in refused.problems]


def test_every_awkward_row_is_judged_the_same_way_in_a_month_file(tmp_path: Path) -> None:
    in_month_file, head = told_by_month_file(ROWS)
    in_roster = told_by_roster(ROWS, tmp_path / "roster.csv")
    assert len(in_roster) > len(AWKWARD) / 2
    assert [replace(one, sheet="") for one in in_roster] == [
        replace(one, sheet="", row=(one.row or 0) - head + 1) for one in in_month_file
    ]


def test_a_country_out_of_reach_is_told_of_every_active_row(tmp_path: Path) -> None:
    rows = [with_cell("country", "CU", f"R{number}") for number in range(3)]
    rows[1][HEADINGS.index("Active")] = "no"
    problems = told_by_roster(rows, tmp_path / "roster.csv")
    assert [(one.row, one.value, one.why) for one in problems] == [
        (2, "CU (Cuba)", "has no zone at any carrier"),
        (4, "CU (Cuba)", "has no zone at any carrier"),
    ]


def test_the_rules_for_rows_are_rules_of_the_month() -> None:
    names = {rule.__name__ for rule in RULES} | {"rows_out_of_reach"}
    assert {rule.__name__ for rule in ROSTER_RULES} <= names


def test_a_workbook_is_read_like_csv(tmp_path: Path) -> None:
    """A number, a date and a yes or no of the spreadsheet are what the month file takes them for."""
    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    sheet.title = "roster"
    sheet.append(HEADINGS)
    sheet.append(
        [42, "Ann", "1 Elm", None, None, "Leeds", None, 123, "gb", "FULL", 2, True, date(2027, 3, 29)]
    )
    book.create_sheet("Other")
    book.save(tmp_path / "roster.xlsx")
    [chunk] = read_roster(tmp_path / "roster.xlsx", month())
    [(number, one)] = chunk.people
    assert (number, one.reference, one.postcode, one.country) == (2, "42", "123", "GB")
    assert (one.quantity, one.active, one.joined) == (2, True, date(2027, 3, 29))


def test_of_several_sheets_one_must_say_that_it_is_the_roster(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    book.create_sheet("People")
    book.save(tmp_path / "roster.xlsx")
    with pytest.raises(MonthFileError, match="2 sheets, none of them titled Roster"):
        list(read_roster(tmp_path / "roster.xlsx", month()))


def test_rows_come_a_chunk_at_a_time_and_more_than_a_sheet_holds_are_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "roster.csv"
    told_by_roster([[f"R{number}", *GOOD[1:]] for number in range(CHUNK + 1)], path)
    assert [len(chunk.people) for chunk in read_roster(path, month())] == [CHUNK, 1]
    monkeypatch.setattr(read, "MOST_ROWS", CHUNK)
    with pytest.raises(MonthFileError, match="Divide it into several files"):
        list(read_roster(path, month()))


def test_notes_of_a_file_of_refused_rows_are_passed_over(tmp_path: Path) -> None:
    path = tmp_path / "roster.csv"
    with path.open("w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows([[*NOTES, *HEADINGS], ["7", "Name: it is empty.", *GOOD]])
    [chunk] = read_roster(path, month())
    assert [(number, one.reference) for number, one in chunk.people] == [(2, "A1")]


def test_memory_does_not_grow_with_the_rows(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(read, "CHUNK", 200)

    def peak(rows: int) -> int:
        told_by_roster([[f"R{number}", *GOOD[1:]] for number in range(rows)], tmp_path / "roster.csv")
        tracemalloc.start()
        for _ in read_roster(tmp_path / "roster.csv", month()):
            pass
        held = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        return held

    assert peak(2_000) < 1.1 * peak(400) + 50_000
