"""One sheet of a month file, read: its headings found, its cells turned into rows, and everything wrong noted."""

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from itertools import chain
from typing import Any

from openpyxl.utils import get_column_letter

from planning.faults.hints import bare_letters, did_you_mean
from planning.faults.texts import shown
from planning.monthfile.codecs import Habits, Text
from planning.monthfile.problems import CellError, Problem
from planning.monthfile.sheets import Column, Sheet
from planning.monthfile.xlsx import Row, Value

LAST_HEADING_ROW = 10  # people put titles and notes above a table
BRACKETS = re.compile(r"\([^()]*\)")


@dataclass(slots=True)
class Table:
    """What was read of a sheet.

    columns: letter and heading of each field's column. numbers: row in the file of each row read. half: the rows left
    out, as far as they were read; {} stands for rows of which nothing is known.
    """

    sheet: Sheet
    title: str
    columns: dict[str, tuple[str, str]] = field(default_factory=dict)
    rows: list[Any] = field(default_factory=list)
    numbers: list[int] = field(default_factory=list)
    half: list[dict[str, object]] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)

    @property
    def has_all_needed(self) -> bool:
        """Whether every column that must be filled in is there."""
        return all(one.field in self.columns for one in self.sheet.columns if self.sheet.is_needed(one))

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

    def add(self, number: int, fields: dict[str, object], *, is_whole: bool) -> None:
        """Add a row, or what was read of it if that is not all."""
        if not is_whole:
            self.half.append(fields)
            return
        try:
            self.rows.append(self.sheet.row_type(**fields))
            self.numbers.append(number)
        except ValueError as error:  # the row's own rule
            self.half.append(fields)
            self.problem(number, str(error), "")


@dataclass(frozen=True, slots=True)
class Cells:
    """How the cells of one column become a field."""

    at: int
    field: str
    read: Callable[[Value, Habits], Any]
    is_needed: bool
    keeps_spaces: bool
    note: str


def heading_key(heading: str) -> str:
    """Return a heading as it is compared: without capitals, spaces and its unit in brackets."""
    return bare_letters(BRACKETS.sub("", heading))


def read_table(sheet: Sheet, title: str, rows: Iterator[Row], habits: Habits) -> Table:
    """Read all rows of a sheet."""
    table = Table(sheet, title)
    top, rest = split_top(rows)
    if not top and not sheet.needed:
        return table
    heading_row, found = find_headings(sheet, top)
    if not found:
        names = ", ".join(column.title(habits) for column in sheet.columns if sheet.is_needed(column))
        table.problem(None, "no headings were found in the first ten rows", f"It needs these: {names}.")
        table.half.append({})
        return table
    note_headings(table, heading_row, dict(top)[heading_row], found, habits)
    cells = [cells_of(sheet, found[at], at) for at in sorted(found)]
    for number, row in chain((one for one in top if one[0] > heading_row), rest):
        read_row(table, number, row, cells, habits)
    return table


def split_top(rows: Iterator[Row]) -> tuple[list[Row], Iterator[Row]]:
    """Split off the rows among which the headings must be."""
    top: list[Row] = []
    for row in rows:
        if row[0] > LAST_HEADING_ROW:
            return top, chain([row], rows)
        top.append(row)
    return top, iter(())


def find_headings(sheet: Sheet, top: Iterable[Row]) -> tuple[int, dict[int, Column]]:
    """Return the row that has most of a sheet's headings, and where in it they are; of one twice the first."""
    best: tuple[int, dict[int, Column]] = (0, {})
    for number, row in top:
        found = headings_in(sheet, row)
        if len(found) > len(best[1]):
            best = number, found
    return best


def headings_in(sheet: Sheet, row: dict[int, Value]) -> dict[int, Column]:
    """Return where in a row the headings of a sheet are."""
    columns = {heading_key(column.heading): column for column in sheet.columns}
    found: dict[int, Column] = {}
    for at, value in sorted(row.items()):
        column = columns.get(heading_key(value)) if isinstance(value, str) else None
        if column is not None and column not in found.values():
            found[at] = column
    return found


def note_headings(
    table: Table, number: int, row: dict[int, Value], found: dict[int, Column], habits: Habits
) -> None:
    """Note where the columns are, and the headings that are missing, strange or there twice."""
    for at, column in found.items():
        table.columns[column.field] = get_column_letter(at), heading_text(row[at])
    known = {column.title(habits): heading_key(column.heading) for column in table.sheet.columns}
    missing = [column for column in table.sheet.columns if column not in found.values()]
    for at, value in sorted(row.items()):
        text = heading_text(value)
        if at in found or not text:
            continue
        where = f"column {get_column_letter(at)}"
        if heading_key(text) in known.values():
            table.problem(
                number, f"the heading {text} in {where} stands here already", "Keep one of the two."
            )
        else:
            advice = did_you_mean(text, [column.title(habits) for column in missing])
            advice = advice or "A column of your own may stay if its heading is empty."
            table.problem(number, f"the heading {text} in {where} is not one of this sheet", advice)
    for column in missing:
        if table.sheet.is_needed(column):
            table.problem(number, f'the heading "{column.title(habits)}" is missing', "Add the column.")
            table.half.append({})


def heading_text(value: Value | None) -> str:
    """Return a heading as it stands in the file, on one line."""
    return shown(" ".join(value.split())) if isinstance(value, str) else ""


def cells_of(sheet: Sheet, column: Column, at: int) -> Cells:
    """Return how the cells of a column are read."""
    return Cells(
        at=at,
        field=column.field,
        read=column.codec.read,
        is_needed=sheet.is_needed(column),
        keeps_spaces=keeps_spaces(sheet, column),
        note=column.note,
    )


def read_row(table: Table, number: int, row: dict[int, Value], cells: list[Cells], habits: Habits) -> None:
    """Turn one row's cells into a row of the month, or note what is wrong with them."""
    if all(is_blank(row.get(column.at)) for column in cells):
        return
    fields: dict[str, object] = {}
    is_whole = table.has_all_needed
    for column in cells:
        value = row.get(column.at)
        try:
            if value is not None and not is_blank(value):
                fields[column.field] = column.read(value, habits)
            elif column.is_needed:
                raise CellError("", "it is empty", f"Fill it in. {column.note}".strip())
            elif value and column.keeps_spaces:
                fields[column.field] = value
        except CellError as error:
            is_whole = False
            table.problem(number, error.why, error.allowed, error.value, table.columns[column.field])
    table.add(number, fields, is_whole=is_whole)


def is_blank(value: Value | None) -> bool:
    """Tell whether a cell holds nothing a person would see."""
    return value is None or (isinstance(value, str) and not value.strip())


def keeps_spaces(sheet: Sheet, column: Column) -> bool:
    """Tell whether spaces alone are a text of their own in a column, and not nothing."""
    return type(column.codec) is Text and not sheet.is_needed(column)
