"""A block of cells as spreadsheets copy it: a line a row, tabs between cells, quotes around a cell of several lines."""

import re
from collections.abc import Iterator

from planning.monthfile.codecs import Habits
from planning.monthfile.headings import columns_in
from planning.monthfile.sheets import Sheet
from planning.monthfile.xlsx import Row, Value

MOST_PASTED = 5_000  # rows; more come by file
# A quoted cell ends where a tab or a line's end follows its last quote; any other cell holds neither.
CELL = re.compile(r'("(?:[^"]|"")*"(?=[\t\n]|\Z)|[^\t\n]*)(\t|\n|\Z)')
NEEDS_QUOTES = re.compile(r'[\t\n]|""')


def block_rows(text: str, sheet: Sheet, habits: Habits) -> Iterator[Row]:
    """Yield the rows of a block, the first with its headings; a block without them has the sheet's columns in order.

    Rows are numbered from 1, as they stand in the block; headings that were not in it are row 0.
    """
    rows = [(number, cells) for number, cells in enumerate(records(text), 1) if cells]
    if not rows:
        return
    if not has_headings(sheet, rows[0][1]):
        yield 0, {at: column.title(habits) for at, column in enumerate(sheet.columns, 1)}
    yield from rows


def records(text: str) -> Iterator[dict[int, Value]]:
    """Yield the cells of each line that are not empty, by their columns from 1."""
    plain = re.sub("\r\n?", "\n", text).replace("\x00", "").rstrip("\n")
    cells: dict[int, Value] = {}
    at = 1
    for match in CELL.finditer(plain):
        if cell := unquoted(match[1]):
            cells[at] = cell
        at += 1
        if match[2] != "\t":
            yield cells
            cells, at = {}, 1
            if not match[2]:
                return


def unquoted(cell: str) -> str:
    """Return a cell without the quotes a spreadsheet put around it; quotes that somebody typed stay."""
    inner = cell[1:-1]
    if len(cell) < 2 or cell[0] != '"' or cell[-1] != '"' or not NEEDS_QUOTES.search(inner):
        return cell
    return inner.replace('""', '"')


def has_headings(sheet: Sheet, cells: dict[int, Value]) -> bool:
    """Tell whether most cells of a row are headings of a sheet."""
    return 2 * len(columns_in(sheet, cells)) > len(cells)
