"""The rows of a block or a file, read as far as they can be; a column that is not in it says nothing of its field."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from openpyxl.utils import get_column_letter

from planning.editing.cells import empty_field
from planning.faults.keys import KEYS
from planning.monthfile.codecs import Habits
from planning.monthfile.headings import find_headings, heading_text, split_top, strange_headings
from planning.monthfile.problems import MonthFileError, Problem, refuse
from planning.monthfile.sheets import Column, Sheet
from planning.monthfile.tables import CellReader, Table, cell_texts, is_blank, read_cells, reader_of
from planning.monthfile.xlsx import Row

MOST_ROWS = 20_000


@dataclass(frozen=True, slots=True)
class ReadLine:
    """A row of a block.

    fields: those that could be read; problems: what is wrong with the others. cells: its texts, by the sheet's columns.
    places: letter and heading of the columns in the block, by field.
    """

    number: int
    fields: dict[str, Any]
    problems: tuple[Problem, ...] = ()
    cells: tuple[str, ...] = ()
    places: Mapping[str, tuple[str, str]] = field(default_factory=dict)


def read_lines(sheet: Sheet, rows: Iterable[Row], habits: Habits) -> tuple[ReadLine, ...]:
    """Read a sheet's rows below their headings. Raises MonthFileError where headings are missing, strange or there twice."""
    top, rest = split_top(iter(rows))
    headings = find_headings(sheet, top)
    if headings is None:
        raise refuse(
            "no headings were found in the first ten rows", f"It needs these: {needed_titles(sheet, habits)}."
        )
    table = Table(sheet, sheet.title, head=headings.row)
    lacking = {column.field for column in headings.missing(sheet)}
    for why, allowed in strange_headings(sheet, headings, habits):
        table.problem(headings.row, why, allowed)
    if missing := [one for one in key_columns(sheet) if one.field in lacking and sheet.is_needed(one)]:
        why = f'the heading "{missing[0].title(habits)}" is missing'
        table.problem(headings.row, why, "Without it no row can be told from the others: add the column.")
    if table.problems:
        raise MonthFileError(table.problems)
    for at, column in headings.columns.items():
        table.columns[column.field] = get_column_letter(at), heading_text(headings.cells[at])
    readers = [reader_of(sheet, column, at) for at, column in headings.columns.items()]
    below = [row for row in (*top, *rest) if row[0] > headings.row]
    if len(below) > MOST_ROWS:
        raise refuse(f"there are {len(below):,} rows", f"Divide them: at most {MOST_ROWS:,} at once.")
    return tuple(lines_of(table, below, readers, habits))


def key_columns(sheet: Sheet) -> list[Column]:
    """Return the columns that tell a sheet's rows apart."""
    return [column for column in sheet.columns if column.field in KEYS[sheet.table]]


def needed_titles(sheet: Sheet, habits: Habits) -> str:
    """Return the headings a sheet cannot do without."""
    return ", ".join(column.title(habits) for column in sheet.columns if sheet.is_needed(column))


def lines_of(
    table: Table, rows: Iterable[Row], readers: Sequence[CellReader], habits: Habits
) -> Iterator[ReadLine]:
    """Read the rows that say something."""
    columns = {column.field: column for column in table.sheet.columns}
    for number, cells in rows:
        if all(is_blank(cells.get(reader.at)) for reader in readers):
            continue
        own = replace(table, problems=[])
        fields, _ = read_cells(own, number, cells, list(readers), habits)
        bad = {problem.column for problem in own.problems}
        for reader in readers:  # a cell left empty means what it would in the month file
            if is_blank(cells.get(reader.at)) and table.columns[reader.field][0] not in bad:
                fields.setdefault(reader.field, empty_field(table.sheet, columns[reader.field]))
        yield ReadLine(
            number, fields, tuple(own.problems), cell_texts(table.sheet, cells, readers), table.columns
        )
