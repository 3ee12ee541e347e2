"""Finding the columns of a sheet by their headings, wherever they stand and however they are typed."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import chain

from openpyxl.utils import get_column_letter

from planning.faults.hints import bare_letters
from planning.faults.texts import shown
from planning.monthfile.also_called import probably
from planning.monthfile.codecs import Habits
from planning.monthfile.sheets import Column, Sheet
from planning.monthfile.xlsx import Broken, Row, Value

LAST_HEADING_ROW = 10  # people put titles and notes above a table
BRACKETS = re.compile(r"\([^()]*\)")


@dataclass(frozen=True, slots=True)
class Headings:
    """The row of a sheet's headings: its number, its cells, and which columns of ours stand where in it."""

    row: int
    cells: dict[int, Value]
    columns: dict[int, Column]

    def missing(self, sheet: Sheet) -> list[Column]:
        """Return the columns that do not stand there."""
        return [column for column in sheet.columns if column not in self.columns.values()]


def heading_key(heading: str) -> str:
    """Return a heading as it is compared: without capitals, spaces and its unit in brackets."""
    return bare_letters(BRACKETS.sub("", heading))


def heading_text(value: Value | None) -> str:
    """Return a heading as it stands in the file, on one line."""
    if value is None or isinstance(value, Broken):
        return ""
    return shown(" ".join(str(value).split()))


def split_top(rows: Iterator[Row]) -> tuple[list[Row], Iterator[Row]]:
    """Split off the rows among which the headings must be."""
    top: list[Row] = []
    for row in rows:
        if row[0] > LAST_HEADING_ROW:
            return top, chain([row], rows)
        top.append(row)
    return top, iter(())


def find_headings(sheet: Sheet, top: Iterable[Row]) -> Headings | None:
    """Return the row that has most of a sheet's headings, None if no row has any."""
    rows = (Headings(number, cells, columns_in(sheet, cells)) for number, cells in top)
    best = max(rows, key=lambda row: len(row.columns), default=None)
    return best if best is not None and best.columns else None


def columns_in(sheet: Sheet, cells: dict[int, Value]) -> dict[int, Column]:
    """Return where in a row the headings of a sheet are; of one twice the first."""
    columns = {heading_key(column.heading): column for column in sheet.columns}
    found: dict[int, Column] = {}
    for at in sorted(cells):
        column = columns.pop(heading_key(heading_text(cells[at])), None)
        if column is not None:
            found[at] = column
    return found


def wrong_headings(sheet: Sheet, headings: Headings, habits: Habits) -> Iterator[tuple[str, str]]:
    """Yield what is wrong with headings that are strange, there twice, or missing, and what to do about it."""
    yield from strange_headings(sheet, headings, habits)
    for column in headings.missing(sheet):
        if sheet.is_needed(column):
            yield f'the heading "{column.title(habits)}" is missing', "Add the column."


def strange_headings(sheet: Sheet, headings: Headings, habits: Habits) -> Iterator[tuple[str, str]]:
    """Yield what is wrong with headings that are none of a sheet's, or there twice."""
    missing = [column.title(habits) for column in headings.missing(sheet)]
    for at in sorted(headings.cells.keys() - headings.columns.keys()):
        if text := heading_text(headings.cells[at]):
            yield strange_heading(sheet, text, at, missing)


def strange_heading(sheet: Sheet, text: str, at: int, missing: list[str]) -> tuple[str, str]:
    """Say what is wrong with a heading that was not taken."""
    heading = f"the heading {text} in column {get_column_letter(at)}"
    if heading_key(text) in (heading_key(column.heading) for column in sheet.columns):
        return f"{heading} stands here already", "Keep one of the two."
    meant = probably(text, heading_key(text), missing, [heading_key(one) for one in missing])
    advice = meant or "A column of your own may stay if its heading is empty."
    return f"{heading} is not one of this sheet", advice
