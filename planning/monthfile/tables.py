"""One sheet of a month file, read: its cells turned into rows, and everything wrong noted."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import chain
from typing import Any

from openpyxl.utils import get_column_letter

from planning.faults.texts import shown
from planning.monthfile.codecs import Habits, Lines, Text, text_of
from planning.monthfile.headings import find_headings, heading_text, split_top, wrong_headings
from planning.monthfile.problems import CellError, Problem
from planning.monthfile.sheets import Column, Sheet
from planning.monthfile.xlsx import Broken, Row, Value


@dataclass(slots=True)
class Table:
    """What was read of a sheet.

    columns: letter and heading of each field's column; head: the row they stand in. numbers: row in the file of each row
    read. half: the rows left out, as far as they were read; {} stands for rows of which nothing is known.
    """

    sheet: Sheet
    title: str
    columns: dict[str, tuple[str, str]] = field(default_factory=dict)
    head: int = 0
    rows: list[Any] = field(default_factory=list)
    numbers: list[int] = field(default_factory=list)
    half: list[dict[str, object]] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)

    def problem(
        self, row: int | None, why: str, allowed: str, value: str = "", at: tuple[str, str] = ("", "")
    ) -> None:
        """Note a problem of the sheet, of a row, or of a cell in the column with this letter and heading."""
        column, heading = at
        self.problems.append(
            Problem(
                sheet=self.title,
                row=row,
                column=column,
                heading=heading,
                value=shown(value),
                why=why,
                allowed=allowed,
            )
        )


@dataclass(frozen=True, slots=True)
class CellReader:
    """How the cells of one column become a field."""

    at: int
    field: str
    read: Callable[[Value, Habits], Any]
    is_needed: bool
    keeps_spaces: bool
    note: str


def read_table(sheet: Sheet, title: str, rows: Iterator[Row], habits: Habits) -> Table:
    """Read all rows of a sheet."""
    table = Table(sheet, title)
    readers, below = find_columns(table, rows, habits)
    read_rows(table, below, readers, habits)
    return table


def find_columns(
    table: Table, rows: Iterator[Row], habits: Habits
) -> tuple[list["CellReader"], Iterator[Row]]:
    """Find a sheet's columns and return how each is read, and the rows below its headings; note what is wrong with them."""
    sheet = table.sheet
    top, rest = split_top(rows)
    if not top and not sheet.needed:
        return [], iter(())
    headings = find_headings(sheet, top)
    if headings is None:
        names = ", ".join(column.title(habits) for column in sheet.columns if sheet.is_needed(column))
        table.problem(None, "no headings were found in the first ten rows", f"It needs these: {names}.")
        table.half.append({})
        return [], iter(())
    table.head = headings.row
    for why, allowed in wrong_headings(sheet, headings, habits):
        table.problem(headings.row, why, allowed)
    table.half += [{} for column in headings.missing(sheet) if sheet.is_needed(column)]
    for at, column in headings.columns.items():
        table.columns[column.field] = get_column_letter(at), heading_text(headings.cells[at])
    readers = [reader_of(sheet, column, at) for at, column in headings.columns.items()]
    return readers, chain((row for row in top if row[0] > headings.row), rest)


def reader_of(sheet: Sheet, column: Column, at: int) -> CellReader:
    """Return how the cells of a column are read."""
    return CellReader(
        at=at,
        field=column.field,
        read=column.codec.read,
        is_needed=sheet.is_needed(column),
        keeps_spaces=keeps_spaces(sheet, column),
        note=column.note,
    )


def read_rows(table: Table, rows: Iterator[Row], readers: list[CellReader], habits: Habits) -> None:
    """Turn rows of cells into rows of the month; of those that cannot be, keep what was read."""
    lacks_columns = bool(table.half)
    for number, cells in rows:
        if all(is_blank(cells.get(reader.at)) for reader in readers):
            continue
        fields, is_whole = read_cells(table, number, cells, readers, habits)
        if is_whole and not lacks_columns:
            add_row(table, number, fields)
        else:
            table.half.append(fields)


def read_cells(
    table: Table, number: int, cells: dict[int, Value], readers: list[CellReader], habits: Habits
) -> tuple[dict[str, object], bool]:
    """Return the fields of a row that could be read, and whether that is all of them; note what is wrong."""
    fields: dict[str, object] = {}
    is_whole = True
    for reader in readers:
        value = cells.get(reader.at)
        try:
            if value is not None and not is_blank(value):
                fields[reader.field] = reader.read(value, habits)
            elif reader.is_needed:
                raise CellError("", "it is empty", f"Fill it in. {reader.note}".strip())
            elif value and reader.keeps_spaces:
                fields[reader.field] = value
        except CellError as error:
            is_whole = False
            table.problem(number, error.why, error.allowed, error.value, table.columns[reader.field])
    return fields, is_whole


def add_row(table: Table, number: int, fields: dict[str, object]) -> None:
    """Add a row to the table, unless it breaks a rule of its own type."""
    try:
        table.rows.append(table.sheet.row_type(**fields))
        table.numbers.append(number)
    except ValueError as error:
        table.half.append(fields)
        table.problem(number, str(error), "")


def is_blank(value: Value | None) -> bool:
    """Tell whether a cell holds nothing a person would see."""
    return value is None or (isinstance(value, str) and not value.strip())


def keeps_spaces(sheet: Sheet, column: Column) -> bool:
    """Tell whether spaces alone are a text of their own in a column, and not nothing."""
    return type(column.codec) in (Text, Lines) and not sheet.is_needed(column)


def cell_texts(sheet: Sheet, cells: dict[int, Value], readers: Sequence[CellReader]) -> tuple[str, ...]:
    """Return a row's cells as texts, in the order of the sheet's columns."""
    places = {reader.field: reader.at for reader in readers}
    return tuple(as_text(cells.get(places.get(column.field, 0))) for column in sheet.columns)


def as_text(value: Value | None) -> str:
    """Return what stands in a cell."""
    if value is None:
        return ""
    try:
        return text_of(value)
    except CellError:
        return value.shown if isinstance(value, Broken) else ""
