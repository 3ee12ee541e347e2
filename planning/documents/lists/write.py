"""Long tables into a workbook as fast as bytes can be written, in the memory of one piece of rows.

The sheet around the rows - heads, widths, filter, page, styles - is made by the writer of the month workbook; only the
rows are written here, as the elements of ECMA-376 part 1, 18.3.1, into the middle of it. So a list keeps every rule of
the workbook without repeating one of them. Rows carry no height: spreadsheets measure wrapped text when they open a file.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from io import BytesIO
from itertools import chain, islice
from typing import IO, Any, Generic, TypeVar
from zipfile import ZIP_DEFLATED, ZipFile

from openpyxl.cell import WriteOnlyCell
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from planning.documents.lists.cells import Styles, column_writer, values_writer
from planning.documents.workbook import looks
from planning.documents.workbook.save import workbook_bytes
from planning.documents.workbook.table import FIRST_ROW, HEAD_ROW, Look, Table
from planning.documents.workbook.write import Binding, begin, furnish, lay_out, opened
from planning.monthfile.package import timeless

LAST_ROW = 1_048_576  # of a sheet
MOST_ROWS = LAST_ROW - HEAD_ROW
FILTER_END = str(LAST_ROW).encode()
END_OF_ROWS = b"</sheetData>"
EXTENT = re.compile(rb"<dimension [^>]*/>")  # of the sheet without its rows; readers do without
PIECE = 250  # rows
QUICK = 3  # of zlib's levels: a tenth larger than at its usual one, in half the time

Row = TypeVar("Row")


class ListTooLongError(ValueError):
    """A list has more rows than a sheet can."""


@dataclass(frozen=True, slots=True)
class Listed(Generic[Row]):
    """A sheet of a list. table: its columns, without rows, formulas, totals; rows: read once, while it is written."""

    table: Table[Row]
    rows: Iterable[Row]


def write_lists(sheets: Sequence[Listed[Any]], binding: Binding, file: IO[bytes]) -> None:
    """Write a workbook of lists: the same rows, the same bytes. Raises ListTooLongError."""
    frame, styles = framed([sheet.table for sheet in sheets], binding)
    rows = {f"xl/worksheets/sheet{at}.xml": sheet for at, sheet in enumerate(sheets, 1)}
    ends: list[int] = []  # the last row of each sheet, known once it is written
    with ZipFile(BytesIO(frame)) as before, ZipFile(file, "w", ZIP_DEFLATED, compresslevel=QUICK) as after:
        for name in sorted(before.namelist(), key=lambda name: (name not in rows, len(name), name)):
            if name in rows:
                with after.open(name, "w", force_zip64=True) as part:  # by name alone it carries no time
                    ends.append(write_sheet(part, before.read(name), rows[name], styles))
            else:
                after.writestr(timeless(name), with_ends(before.read(name), ends))


def framed(tables: Sequence[Table[Any]], binding: Binding) -> tuple[bytes, Styles]:
    """Return the workbook without its rows, each filter reaching down to LAST_ROW, and the numbers of its styles."""
    book = opened(binding)
    for table in tables:
        sheet = book.create_sheet(table.name)
        begin(sheet, table)
        furnish(sheet, table)
        lay_out(sheet, table, binding)
        sheet.auto_filter.ref = f"A{HEAD_ROW}:{get_column_letter(len(table.columns))}{LAST_ROW}"
    styles = styles_of(book.worksheets[0])
    return workbook_bytes(book, {table.name: {} for table in tables}, binding.stamp), styles


def styles_of(sheet: Worksheet) -> Styles:
    """Return the number of every style of a cell."""
    names = [f"{look}{state}" for look in Look for state in ("", f" {looks.NEEDS_YOU}")]
    return {(name, quoted): style_number(sheet, name, quoted) for name in names for quoted in (False, True)}


def style_number(sheet: Worksheet, name: str, quoted: bool) -> int:
    """Return the number under which a workbook keeps a style, made with the first cell that has it."""
    cell = WriteOnlyCell(sheet)
    cell.style, cell.quotePrefix = name, quoted
    return int(cell.style_id)


def write_sheet(part: IO[bytes], frame: bytes, sheet: Listed[Any], styles: Styles) -> int:
    """Write a sheet with its rows, or with what it says without any; return the number of the last."""
    above, below = frame.split(END_OF_ROWS)
    part.write(EXTENT.sub(b"", above))
    last = HEAD_ROW
    for elements in row_elements(sheet, styles):
        last += len(elements)
        part.write("".join(elements).encode())
    if last == HEAD_ROW:
        last = FIRST_ROW
        [says] = values_writer(Look.TEXT, Look.TEXT.value, styles)([sheet.table.empty])
        part.write(f'<row r="{last}"><c r="A{last}"{says}</row>'.encode())
    part.write(END_OF_ROWS + with_ends(below, [last]))
    return last


def row_elements(sheet: Listed[Any], styles: Styles) -> Iterator[list[str]]:
    """Yield the rows below the heads, some at a time."""
    columns = [column_writer(one, styles) for one in sheet.table.columns]
    element = row_element(len(columns))
    rows, last = iter(sheet.rows), HEAD_ROW
    while piece := list(islice(rows, PIECE)):
        if last + len(piece) > LAST_ROW:
            raise ListTooLongError(
                f"{sheet.table.name} has more than {MOST_ROWS:,} rows, the most a sheet can."
            )
        numbers = [str(number) for number in range(last + 1, last + len(piece) + 1)]
        cells = chain.from_iterable((numbers, write(piece)) for write in columns)
        yield [element % row for row in zip(numbers, *cells, strict=True)]
        last += len(piece)


def row_element(columns: int) -> str:
    """Return a row to be filled in: its number, then the number again and the cell for each column."""
    cells = "".join(f'<c r="{get_column_letter(at)}%s"%s' for at in range(1, columns + 1))
    return f'<row r="%s">{cells}</row>'


def with_ends(part: bytes, ends: Sequence[int]) -> bytes:
    """Return a part of the workbook whose filters reach as far as their rows do, sheet by sheet."""
    for end in ends:
        part = part.replace(FILTER_END, str(end).encode(), 1)
    return part
