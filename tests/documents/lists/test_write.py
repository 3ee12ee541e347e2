"""Lists are read back as what went in, by our own reader, by openpyxl and by LibreOffice."""

import tracemalloc
from collections.abc import Callable, Iterator, Sequence
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from io import BytesIO
from pathlib import Path
from typing import Any
from zipfile import ZipFile

import openpyxl
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from openpyxl import Workbook

from planning.documents.lists import Listed, ListTooLongError, write, write_lists
from planning.documents.workbook import binding_of
from planning.documents.workbook.cells import put
from planning.documents.workbook.table import FIRST_ROW, HEAD_ROW, Column, Look, Table, Value
from planning.monthfile import xlsx
from tests.documents.small_month import CLUB, STAMP
from tests.support.effort import examples, thorough

Pair = tuple[Value, Value]
Convert = Callable[[Path, str], Path]

BINDING = binding_of(CLUB, STAMP)
ANY_TEXT = st.text(st.characters(codec="utf-8"), max_size=30)
LEADS = st.sampled_from(
    ["", "=", "+", "-", "@", " ", "&", "<", "_x0041_", "#N/A", "=HYPERLINK(", "\x1f", "TRUE"]
)
TEXTS = st.builds("{}{}{}".format, LEADS, ANY_TEXT, st.sampled_from(["", " ", "\n", "\x1f"]))


def table(look: Look = Look.COUNT, name: str = "List", **more: Any) -> Table[Pair]:
    """Return a sheet of a text and a figure a row."""
    columns = (
        Column[Pair]("text", "Text", lambda pair: pair[0], width=30),
        Column[Pair]("figure", "Figure", lambda pair: pair[1], look, **more),
    )
    return Table(name=name, says="Pairs.", empty="Nothing here.", columns=columns, rows=())


def written(rows: Sequence[Pair], look: Look = Look.COUNT, **more: Any) -> bytes:
    file = BytesIO()
    write_lists([Listed(table(look, **more), rows)], BINDING, file)
    return file.getvalue()


def shown(file: bytes) -> list[tuple[Any, Any]]:
    sheet = openpyxl.load_workbook(BytesIO(file)).worksheets[0]
    return [(row[0].value, row[1].value) for row in sheet.iter_rows(min_row=FIRST_ROW)]


def one_by_one(text: str) -> Any:
    """Return what a cell holds that the writer of the month workbook has filled."""
    cell = Workbook().worksheets[0]["A1"]
    put(cell, text)
    file = BytesIO()
    cell.parent.parent.save(file)
    return openpyxl.load_workbook(file).worksheets[0]["A1"].value


def test_it_works() -> None:
    rows: list[Pair] = [("Ann", 3), ("Łukasz & Co <1>", 12_000), (None, None)]
    assert shown(written(rows)) == [("Ann", 3), ("Łukasz & Co <1>", 12_000), (None, None)]


@given(st.lists(TEXTS, min_size=1, max_size=6))
@settings(max_examples=examples(60))
@example(["a" * 40_000, "\N{PAPERCLIP}" * 20_000])
@example(["_x0041_", "a\x00b", "\ufffe", "a\r\nb"])
def test_texts_are_what_the_month_workbook_makes_of_them_one_by_one(texts: list[str]) -> None:
    found = shown(written([(text, 1) for text in texts]))
    assert [text for text, _ in found] == [one_by_one(text) for text in texts]


@given(TEXTS)
@settings(max_examples=examples(40))
def test_no_text_becomes_a_formula_or_is_left_to_be_taken_for_one(text: str) -> None:
    cell = openpyxl.load_workbook(BytesIO(written([(text, 1)]))).worksheets[0][f"A{FIRST_ROW}"]
    assert cell.data_type in ("s", "n")
    assert cell.data_type == "s" or cell.value is None
    assert cell.quotePrefix == text.startswith(("=", "+", "-", "@"))


def test_a_cell_holds_32767_characters_and_those_beyond_the_first_plane_count_twice() -> None:
    """Limits of a cell as spreadsheets publish them; counted in UTF-16 (from memory)."""
    [(long, _), (wide, _)] = shown(
        written([("a" * 40_000, 1), ("\N{PAPERCLIP}" + "\N{GRINNING FACE}" * 20_000, 1)])
    )
    assert len(long) == 32_767
    assert len(wide.encode("utf-16-le")) // 2 in (32_766, 32_767)
    assert wide.endswith("\N{GRINNING FACE}")


@pytest.mark.parametrize(
    ("look", "figure", "found"),
    [
        (Look.COUNT, 999_999_999_999_999, 999_999_999_999_999),
        (Look.COUNT, 10**15, "1000000000000000"),  # a cell keeps 15 digits
        (Look.MONEY, Decimal("12.50"), 12.5),
        (Look.MONEY, Decimal("NaN"), "NaN"),
        (Look.TENTHS, Fraction(1, 8), 0.125),
        (Look.DAY, date(2027, 3, 3), datetime(2027, 3, 3)),  # noqa: DTZ001 - what a cell holds
        (Look.DAY, date(1890, 3, 3), "3 Mar 1890"),
        (Look.CHECK, True, True),
        (Look.CHECK, False, False),
        (Look.COUNT, "none", "none"),
        (Look.COUNT, None, None),
    ],
)
def test_figures_are_typed(look: Look, figure: Value, found: object) -> None:
    [(_, cell)] = shown(written([("a", figure)], look))
    assert cell == found
    assert type(cell) is type(found)


def test_equal_figures_of_different_kinds_stay_apart() -> None:
    rows: list[Pair] = [("a", True), ("a", Decimal(1)), ("a", 1), ("a", Fraction(1))]
    assert [type(figure) for _, figure in shown(written(rows, Look.CHECK))] == [bool, int, int, int]


def test_a_row_that_needs_you_stands_out() -> None:
    file = written([("a", 1), ("b", 0)], needs_you=lambda pair: not pair[1])
    sheet = openpyxl.load_workbook(BytesIO(file)).worksheets[0]
    assert [sheet[f"B{row}"].font.bold for row in (FIRST_ROW, FIRST_ROW + 1)] == [False, True]


def test_a_list_keeps_the_rules_of_the_month_workbook() -> None:
    book = openpyxl.load_workbook(BytesIO(written([("a", 1)] * 600)))
    sheet = book.worksheets[0]
    assert sheet["A1"].value == "List"
    assert sheet["A2"].value == "Pairs."
    assert [cell.value for cell in sheet[HEAD_ROW]] == ["Text", "Figure"]
    assert sheet.freeze_panes == f"B{FIRST_ROW}"
    assert sheet.auto_filter.ref == f"A{HEAD_ROW}:B{HEAD_ROW + 600}"
    assert sheet.print_title_rows == f"${HEAD_ROW}:${HEAD_ROW}"
    assert sheet.column_dimensions["A"].width == 30
    assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 0)
    assert sheet.page_setup.paperSize == 9  # A4
    assert sheet.oddFooter is not None
    assert STAMP.text in str(sheet.oddFooter.left.text)
    assert sheet[f"B{FIRST_ROW}"].number_format == "#,##0"
    assert book.properties.identifier == STAMP.plan_id


def test_each_sheet_has_a_filter_of_its_own_length() -> None:
    file = BytesIO()
    sheets = [Listed(table(name=f"List {rows}"), [("a", 1)] * rows) for rows in (0, 3, 300)]
    write_lists(sheets, BINDING, file)
    book = openpyxl.load_workbook(file)
    assert [sheet.auto_filter.ref for sheet in book] == ["A3:B4", "A3:B6", "A3:B303"]
    names = ZipFile(file).read("xl/workbook.xml").decode()
    assert [f"$A$3:$B${last}" in names for last in (4, 6, 303)] == [True] * 3
    assert book.worksheets[0][f"A{FIRST_ROW}"].value == "Nothing here."


def test_our_own_reader_reads_it() -> None:
    rows = [(f"=text {number}", number) for number in range(700)]
    with ZipFile(BytesIO(written(rows))) as archive:
        found = list(xlsx.Workbook(archive).rows("List"))
    assert [(cells[1], cells[2]) for number, cells in found if number >= FIRST_ROW] == rows
    assert [number for number, _ in found][-1] == HEAD_ROW + 700


@thorough  # it starts the office program once more
def test_libreoffice_opens_it_and_finds_the_same(libreoffice: Convert, tmp_path: Path) -> None:
    rows = [("=1+1", 1), ("  spaced ", 2), ("two\nlines", 3), ("a\x07b", 4), ("'quoted", 5), ("é水😀", 6)]
    (tmp_path / "list.xlsx").write_bytes(written(rows))
    again = openpyxl.load_workbook(libreoffice(tmp_path / "list.xlsx", "xlsx")).worksheets[0]
    found = [(row[0].value, row[1].value) for row in again.iter_rows(min_row=FIRST_ROW)]
    assert found == [(text.replace("\x07", "\ufffd"), number) for text, number in rows]
    assert again.auto_filter.ref == f"A{HEAD_ROW}:B{HEAD_ROW + len(rows)}"
    assert again.print_title_rows == f"${HEAD_ROW}:${HEAD_ROW}"


def test_the_same_rows_are_the_same_bytes() -> None:
    assert written([("a", 1)] * 10) == written([("a", 1)] * 10)


def test_more_rows_than_a_sheet_has_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(write, "LAST_ROW", HEAD_ROW + 500)
    written([("a", 1)] * 500)
    with pytest.raises(ListTooLongError, match="more than"):
        written([("a", 1)] * 501)


def test_memory_does_not_grow_with_the_rows(tmp_path: Path) -> None:
    def rows(count: int) -> Iterator[Pair]:
        return ((f"text {number}", number) for number in range(count))

    def peak(count: int) -> int:
        tracemalloc.start()
        with (tmp_path / "list.xlsx").open("wb") as file:
            write_lists([Listed(table(), rows(count))], BINDING, file)
        held = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        return held

    assert peak(20_000) < 1.2 * peak(1_000) + 200_000
