"""How the written workbook is laid out, read back by a library of its own and by LibreOffice."""

import csv
import io
import re
from collections.abc import Callable
from pathlib import Path
from zipfile import ZipFile

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from planning.countries import COUNTRIES
from planning.monthfile import template
from planning.monthfile.cells import filled
from planning.monthfile.codecs import Habits
from planning.monthfile.headings import heading_key
from planning.monthfile.look import styled
from planning.monthfile.package import saved
from planning.monthfile.sheets import SHEETS, TABLES
from planning.monthfile.xlsx import Workbook as OurWorkbook
from tests.monthfile.files import TINY_FILE
from tests.monthfile.strategies import AWKWARD
from tests.support.effort import thorough

TITLES = ["Read me", *(sheet.title for sheet in SHEETS), "Countries"]


@pytest.fixture(scope="module")
def book() -> Workbook:
    return openpyxl.load_workbook(io.BytesIO(TINY_FILE))


def page(book: Workbook, title: str) -> Worksheet:
    found = book[title]
    assert isinstance(found, Worksheet)
    return found


def test_the_sheets_follow_the_flow(book: Workbook) -> None:
    assert book.sheetnames == TITLES
    assert all(len(title) <= 31 for title in TITLES)  # the longest title a workbook takes


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.title)
def test_headings_are_told_apart_without_their_units(sheet: object) -> None:
    headings = [heading_key(column.heading) for column in sheet.columns]  # type: ignore[attr-defined]
    assert len(set(headings)) == len(headings)
    assert all(headings)


@pytest.mark.parametrize("title", TITLES[1:-1])
def test_every_table_has_notes_headings_that_stay_a_filter_and_a_page(title: str, book: Workbook) -> None:
    sheet = page(book, title)
    assert sheet.freeze_panes == "B3"
    assert sheet.print_title_rows == "$2:$2"
    assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 0)
    assert sheet.sheet_properties.pageSetUpPr is not None
    assert sheet.sheet_properties.pageSetUpPr.fitToPage
    assert re.fullmatch(rf"A2:[A-Z]+{max(sheet.max_row, 3)}", sheet.auto_filter.ref or "")
    assert sheet["A1"].font.italic
    assert sheet["A2"].font.bold
    assert sheet["A2"].fill.fgColor.rgb == "00F3EEE3"


def test_units_and_money_stand_in_the_headings(book: Workbook) -> None:
    assert [cell.value for cell in page(book, "Price breaks")[2]] == [
        "Offer",
        "From quantity (units)",
        "Price each (GBP)",
    ]
    assert page(book, "Offers")["G2"].value == "Lead time (working days)"
    assert page(book, "Club")["A13"].value == "Goods in (working days)"
    assert (
        page(openpyxl.load_workbook(io.BytesIO(template())), "Price breaks")["C2"].value
        == "Price each (the club's money)"
    )


def test_notes_say_what_to_type_and_what_an_empty_cell_means(book: Workbook) -> None:
    assert page(book, "Kit")["A1"].value == "Needed. Pick from the list."
    assert page(book, "Kit")["C1"].value == "For each box. Of a roll, how many lengths. If empty: 1."
    assert page(book, "Roster")["L1"].value == "No if the subscription rests. If empty: yes."
    assert page(book, "Club")["C10"].value == (
        "The day the plan is made, like 1 Mar 2027. Orders are late or in time from here. If empty: today."
    )


def test_numbers_dates_and_texts_have_their_formats(book: Workbook) -> None:
    assert page(book, "Price breaks")["C3"].number_format == "#,##0.00####"
    assert page(book, "Price breaks")["B3"].number_format == "#,##0"
    assert page(book, "Days off")["A3"].number_format == "d mmm yyyy"
    assert page(book, "Roster")["H3"].number_format == "@"
    # and what is typed below the last row has them too
    assert page(book, "Roster").column_dimensions["H"].number_format == "@"


def rules(sheet: Worksheet) -> dict[str, tuple[str, bool, bool]]:
    """Return the enforced lists of a sheet: cells -> list, whether enforced, whether blanks are allowed."""
    return {
        str(rule.sqref): (str(rule.formula1), bool(rule.showErrorMessage), bool(rule.allow_blank))
        for rule in sheet.data_validations.dataValidation
    }


def test_lists_are_enforced(book: Workbook) -> None:
    last = 1_048_576
    assert rules(page(book, "Offers")) == {
        f"B3:B{last}": (f"'Suppliers'!$A$3:$A${last}", True, False),
        f"C3:C{last}": (f"'Materials'!$A$3:$A${last}", True, False),
        f"J3:J{last}": ('"all units,incremental"', True, True),
        f"K3:K{last}": ('"yes,no"', True, True),
    }
    assert rules(page(book, "Kit")) == {
        f"A3:A{last}": ('"recipe,pre-cut,extra,packaging"', True, False),
        f"F3:F{last}": ('"every box,first box"', True, True),
    }
    assert rules(page(book, "Roster")) == {
        f"I3:I{last}": ("Countries!$A$2:$A$250", True, False),
        f"J3:J{last}": (f"'Tiers'!$A$3:$A${last}", True, False),
        f"L3:L{last}": ('"yes,no"', True, True),
    }
    assert rules(page(book, "Pieces"))[f"B3:B{last}"] == (f"'Paper roles'!$B$3:$B${last}", True, False)
    assert rules(page(book, "Club"))["B9"] == ('"1/8 in,1/16 in,1/32 in,0.5 mm,1 mm"', True, True)


def test_no_list_is_longer_than_a_rule_may_be(book: Workbook) -> None:
    for title in TITLES:
        for formula, _, _ in rules(page(book, title)).values():
            assert len(formula) <= 255


def test_the_countries_to_pick_from_are_listed(book: Workbook) -> None:
    listed = list(page(book, "Countries").iter_rows(min_row=2, values_only=True))
    assert listed == list(COUNTRIES.items())


def test_nothing_in_the_file_says_when_it_was_written() -> None:
    with ZipFile(io.BytesIO(TINY_FILE)) as archive:
        assert {part.date_time for part in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        core = archive.read("docProps/core.xml").decode()
    assert re.findall(r"\d{4}-\d\d-\d\dT[^<]*", core) == ["2027-03-01T00:00:00Z"] * 2


STORABLE = st.characters(exclude_categories=("Cs", "Cc", "Cn"), include_characters="\n")


@given(
    st.lists(
        st.one_of(st.sampled_from([*AWKWARD, "=HYPERLINK(0)", "\t", "-", "@", "+"]), st.text(STORABLE)),
        min_size=1,
    )
)
def test_a_text_is_stored_as_the_text_it_is_and_never_as_a_formula(texts: list[str]) -> None:
    workbook = Workbook(write_only=True)
    tab = workbook.create_sheet("One")
    cell = styled(tab)
    texts = [text for text in texts if text and text != "\t"]
    for text in texts:
        tab.append([filled(cell, text)])
    file = saved(workbook)
    ours = OurWorkbook(ZipFile(io.BytesIO(file)))
    assert [cells[1] for _, cells in ours.rows("One")] == texts
    theirs = openpyxl.load_workbook(io.BytesIO(file))["One"]
    assert all(cell.data_type == "s" for row in theirs.iter_rows() for cell in row)


def test_what_no_workbook_can_hold_is_written_as_a_mark() -> None:
    workbook = Workbook(write_only=True)
    tab = workbook.create_sheet("One")
    tab.append([filled(styled(tab), "a\0b\ud800c\ufffed\re")])
    ours = OurWorkbook(ZipFile(io.BytesIO(saved(workbook))))
    assert [cells for _, cells in ours.rows("One")] == [{1: "a\N{REPLACEMENT CHARACTER}b�c�d�e"}]


@thorough
def test_libreoffice_reads_the_numbers_and_texts_that_were_written(
    tmp_path: Path, libreoffice: Callable[[Path, str], Path]
) -> None:
    path = tmp_path / "month.xlsx"
    path.write_bytes(TINY_FILE)
    # one sheet alone, by its number, as CSV in UTF-8
    at = TITLES.index("Price breaks") + 1
    shown = libreoffice(
        path, f"csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,false,false,false,{at}"
    )
    rows = list(csv.reader(shown.read_text(encoding="utf-8").splitlines()))
    assert rows[1:4] == [
        ["Offer", "From quantity (units)", "Price each (GBP)"],
        ["M-CARD", "1", "0.4"],
        ["M-CARD", "20", "0.15"],
    ]


def test_the_columns_of_every_table_are_the_fields_of_its_rows() -> None:
    titles = [column.title(Habits(money="EUR")) for sheet in TABLES for column in sheet.columns]
    assert not [title for title in titles if "{" in title]
