"""A month becomes a month file: the same month, the same bytes."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import MISSING
from datetime import date, datetime
from typing import Any

from openpyxl import Workbook
from openpyxl.utils import get_column_letter

from kits.measures import LengthUnit, UnknownRulerError, ruler
from planning.countries import COUNTRIES
from planning.month import Club, Month
from planning.monthfile import look
from planning.monthfile.cells import filled
from planning.monthfile.codecs import TEXT, Habits
from planning.monthfile.lists import LAST_ROW, enforced_list
from planning.monthfile.package import saved
from planning.monthfile.readme import LINES, TITLE
from planning.monthfile.settings import NOTE, SETTING, VALUE
from planning.monthfile.sheets import CLUB, COUNTRIES_TITLE, README_TITLE, TABLES, Column, Sheet

HEADING_ROW, FIRST_ROW = 2, 3
EPOCH = date(2000, 1, 1)
README_WIDTH = 110  # characters

Rows = Mapping[str, Sequence[Any]]


def month_to_workbook(month: Month) -> bytes:
    """Return a month as the bytes of its file. `read_month` gives the same month back, if it has no faults."""
    habits = Habits(unit_of(month.club), month.club.currency)
    return built(month.club, {sheet.table: getattr(month, sheet.table) for sheet in TABLES}, habits)


def sheet_to_workbook(club: Club, sheet: Sheet, rows: Sequence[Any]) -> bytes:
    """Return the rows of one sheet as a workbook of its own, which the sheet can be taken in from again."""
    workbook = begun(club)
    write_table(
        workbook.create_sheet(sheet.title),
        sheet,
        rows,
        Habits(unit_of(club), club.currency),
        club.paper,
        alone=True,
    )
    return saved(workbook)


def template() -> bytes:
    """Return a month file to fill in: all headings, lists and notes, and the rows a month has without a sheet."""
    return built(None, {sheet.table: sheet.missing for sheet in TABLES}, Habits())


def unit_of(club: Club) -> LengthUnit:
    """Return the unit of the club's ruler."""
    try:
        return ruler(club.ruler).unit
    except UnknownRulerError:
        return LengthUnit.INCH


def built(club: Club | None, rows: Rows, habits: Habits) -> bytes:
    """Return the file of a club and its rows."""
    workbook = begun(club)
    paper = club.paper if club else ""
    write_readme(workbook.create_sheet(README_TITLE), paper)
    write_settings(workbook.create_sheet(CLUB.title), club, habits, paper)
    for sheet in TABLES:
        write_table(workbook.create_sheet(sheet.title), sheet, rows[sheet.table], habits, paper)
    write_countries(workbook.create_sheet(COUNTRIES_TITLE), paper)
    return saved(workbook)


def begun(club: Club | None) -> Workbook:
    """Return a workbook without sheets."""
    workbook = Workbook(write_only=True)
    made_on = club.planned_on if club else EPOCH
    workbook.properties.creator = "Kit production planning"
    workbook.properties.title = "Month file"
    # the day the plan is made, and not the day this was written: the same month, the same bytes
    workbook.properties.created = datetime(made_on.year, made_on.month, made_on.day)  # noqa: DTZ001
    workbook.properties.modified = workbook.properties.created
    return workbook


def write_readme(tab: look.Tab, paper: str) -> None:
    """Write the sheet that explains the others."""
    tab.column_dimensions["A"].width = README_WIDTH
    look.lay_out_page(tab, paper)
    tab.row_dimensions[1].height = look.TITLE_HEIGHT
    for number, text in enumerate(LINES, 2):
        tab.row_dimensions[number].height = look.LINE_HEIGHT * (2 if len(text) > README_WIDTH else 1) + 4
    title, line = look.styled(tab, font=look.TITLE), look.styled(tab, wrap=True)
    tab.append([filled(title, TITLE)])
    for text in LINES:
        tab.append([filled(line, text)])


def write_settings(tab: look.Tab, club: Club | None, habits: Habits, paper: str) -> None:
    """Write the club's settings, a row each."""
    last = HEADING_ROW + len(CLUB.columns)
    look.lay_out_table(tab, paper, HEADING_ROW, f"A{HEADING_ROW}:C{last}", (34, 34, 96))
    heading, name = look.heading(tab), look.styled(tab, font=look.BOLD)
    note, quiet = look.styled(tab, font=look.QUIET), look.styled(tab, font=look.QUIET, wrap=True)
    tab.append([filled(note, "One setting a row; leave the names as they are.")])
    tab.append(filled(heading, title) for title in (SETTING, VALUE, NOTE))
    for number, column in enumerate(CLUB.columns, FIRST_ROW):
        value = look.styled(tab, shown_as=column.codec.shown_as)
        field = setting(club, column)
        cell = None if field is None else column.codec.write(field, habits)
        tab.append(
            [
                filled(name, column.title(habits)),
                filled(value, cell),
                filled(quiet, note_of(CLUB, column, habits)),
            ]
        )
        enforced_list(tab, CLUB, column, f"B{number}")


def setting(club: Club | None, column: Column) -> Any:
    """Return what stands beside a setting: the club's own, or in an empty file what it would be anyway."""
    if club is not None:
        return getattr(club, column.field)
    default = CLUB.default(column)
    return None if default is MISSING else default


def write_table(
    tab: look.Tab, sheet: Sheet, rows: Sequence[Any], habits: Habits, paper: str, *, alone: bool = False
) -> None:
    """Write one table of the month. alone: without the other sheets, which lists to pick from may lie on."""
    last = max(HEADING_ROW + len(rows), FIRST_ROW)
    ends = get_column_letter(len(sheet.columns))
    widths = tuple(width_of(column, habits) for column in sheet.columns)
    look.lay_out_table(tab, paper, HEADING_ROW, f"A{HEADING_ROW}:{ends}{last}", widths)
    for at, column in enumerate(sheet.columns, 1):
        letter = get_column_letter(at)
        # so that what is typed below the last row is not taken for something else
        tab.column_dimensions[letter].number_format = column.codec.shown_as
        if column.codec.choices or not alone:
            enforced_list(tab, sheet, column, f"{letter}{FIRST_ROW}:{letter}{LAST_ROW}")
    write_headings(tab, sheet, habits, widths)
    set_heights(tab, sheet, rows)
    for cells in row_cells(tab, sheet, rows, habits):
        tab.append(cells)


def write_headings(tab: look.Tab, sheet: Sheet, habits: Habits, widths: tuple[int, ...]) -> None:
    """Write the notes, and the headings below them."""
    notes = [note_of(sheet, column, habits) for column in sheet.columns]
    tab.row_dimensions[1].height = look.note_height(notes, widths)
    note = look.styled(tab, font=look.QUIET, wrap=True)
    tab.append(filled(note, text) for text in notes)  # one cell, filled again once it is written
    left, right = look.heading(tab), look.heading(tab, right=True)
    titles = ((right if column.codec.is_number else left, column.title(habits)) for column in sheet.columns)
    tab.append(filled(cell, title) for cell, title in titles)


def set_heights(tab: look.Tab, sheet: Sheet, rows: Sequence[Any]) -> None:
    """Give rows with texts of many lines the room to show them."""
    wrapped = [column.field for column in sheet.columns if column.codec.wraps]
    for number, row in enumerate(rows if wrapped else (), FIRST_ROW):
        tab.row_dimensions[number].height = look.text_height([getattr(row, field) for field in wrapped])


def row_cells(tab: look.Tab, sheet: Sheet, rows: Sequence[Any], habits: Habits) -> Iterator[list[Any]]:
    """Yield the cells of each row, which are filled anew once they are written."""
    columns = [
        (
            column.field,
            column.codec.write,
            look.styled(
                tab, shown_as=column.codec.shown_as, right=column.codec.is_number, wrap=column.codec.wraps
            ),
        )
        for column in sheet.columns
    ]
    for row in rows:
        fields = ((getattr(row, field), write, cell) for field, write, cell in columns)
        yield [None if value is None else filled(cell, write(value, habits)) for value, write, cell in fields]


def note_of(sheet: Sheet, column: Column, habits: Habits) -> str:
    """Return what stands above a heading: how to fill the cells in, and what an empty one means."""
    if sheet.is_needed(column):
        return f"Needed. {column.note}".strip()
    default = sheet.default(column)
    empty = column.empty or (
        "" if default in (MISSING, None, "", ()) else column.codec.write(default, habits)
    )
    return f"{column.note} If empty: {empty}.".strip() if empty not in ("", None) else column.note


def width_of(column: Column, habits: Habits) -> int:
    """Return the width of a column: its cells', or that of its heading in two lines."""
    return max(column.codec.width, 3 + -(-len(column.title(habits)) * 6 // 10))


def write_countries(tab: look.Tab, paper: str) -> None:
    """Write the list of countries the cells for a country pick from."""
    look.lay_out_table(tab, paper, 1, f"A1:B{len(COUNTRIES) + 1}", (10, 50))
    heading, text = look.heading(tab), look.styled(tab, shown_as=TEXT)
    tab.append(filled(heading, title) for title in ("Code", "Country"))
    name = look.styled(tab, shown_as=TEXT)
    for code, country in COUNTRIES.items():
        tab.append([filled(text, code), filled(name, country)])
