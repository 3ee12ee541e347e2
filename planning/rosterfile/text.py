"""CSV: which encoding, which mark between the cells, and its rows as a workbook's reader yields them.

RFC 4180, with the variations spreadsheets write: a byte order mark, semicolons or tabs, a first line `sep=;`, line ends of
any system. What is not certainly readable is refused with the line where it stands: a guess would put a wrong letter into
somebody's address.
"""

import codecs
import csv
import re
from collections.abc import Iterable, Iterator
from io import TextIOWrapper
from itertools import chain, islice
from pathlib import Path
from typing import IO

from planning.faults.texts import shown
from planning.monthfile.headings import LAST_HEADING_ROW, columns_in
from planning.monthfile.problems import MonthFileError, refuse
from planning.monthfile.sheets import Sheet
from planning.monthfile.xlsx import Row, Value

MARKS = {codecs.BOM_UTF8: "utf-8-sig", codecs.BOM_UTF16_LE: "utf-16", codecs.BOM_UTF16_BE: "utf-16"}
BETWEEN_CELLS = (",", ";", "\t", "|")
NAMES_ITS_MARK = re.compile(r'"?sep=(.)"?\s*', re.IGNORECASE)
LINE_BREAKS = re.compile("\r\n?")
LONGEST_CELL = 131_072  # characters the reader takes; a quote that is never closed soon makes a longer one
LONGEST_SHOWN = 40

Record = list[str]


class Records:
    """The records of a CSV file and how many cells the first of them have."""

    def __init__(self, stream: IO[str], sheet: Sheet) -> None:
        self._stream = stream
        self._sheet = sheet
        self.widths: dict[int, int] = {}

    def rows(self) -> Iterator[Row]:
        """Yield the rows that hold something. Raises MonthFileError where a row cannot be told from the next."""
        for number, record in enumerate(self._records(), 1):
            if number <= LAST_HEADING_ROW:
                self.widths[number] = len(record)
            cells: dict[int, Value] = {at: unbroken(cell) for at, cell in enumerate(record, 1) if cell}
            if cells:
                yield number, cells

    def _records(self) -> Iterator[Record]:
        first = self._stream.readline()
        named = NAMES_ITS_MARK.fullmatch(first)
        top = list(islice(self._stream, LAST_HEADING_ROW))
        top = top if named else [first, *top]
        mark = named[1] if named else self._likeliest_mark(top)
        reader = csv.reader(chain(top, self._stream), delimiter=mark, strict=True)
        skipped = [list[str]()] if named else []  # so that rows are numbered as a spreadsheet numbers them
        try:
            yield from chain(skipped, reader)
        except csv.Error as error:
            line = reader.line_num + len(skipped)
            raise refuse(
                f"line {line:,} cannot be read as CSV ({error})",
                "Look for a quotation mark without its partner in this line and those above.",
            ) from None

    def _likeliest_mark(self, top: list[str]) -> str:
        return max(BETWEEN_CELLS, key=lambda mark: self._headings_found(top, mark))

    def _headings_found(self, top: list[str], mark: str) -> int:
        """Return how many headings there are in the best of the first lines, parted by a mark."""
        records = csv.reader(top, delimiter=mark)
        try:
            return max(map(self._count_headings, records), default=0)
        except csv.Error:
            return 0

    def _count_headings(self, record: Record) -> int:
        cells: dict[int, Value] = dict(enumerate(record, 1))
        return len(columns_in(self._sheet, cells))


def unbroken(cell: str) -> str:
    """Return a cell whose lines all end alike."""
    return LINE_BREAKS.sub("\n", cell) if "\r" in cell else cell


def text_of(stream: IO[bytes]) -> TextIOWrapper:
    """Return a file's text in the encoding its first bytes name, else UTF-8; wrong bytes raise UnicodeDecodeError."""
    start = stream.read(4)
    stream.seek(0)
    encoding = next((name for mark, name in MARKS.items() if start.startswith(mark)), "utf-8")
    return TextIOWrapper(stream, encoding, newline="")


def wrong_encoding(path: Path) -> MonthFileError:
    """Return the error of a file that is not in the encoding it should be, with the first line that shows it."""
    with path.open("rb") as lines:
        marked = lines.read(2) in (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)
        lines.seek(0)
        number, line = first_undecodable(lines)
    if marked or not line:
        return refuse("the file ends in the middle of a character", "Copy or download it again.")
    meant = shown(line.decode("cp1252", "replace").strip())
    why = f"line {number:,} is not UTF-8 text; read as Windows-1252 it is: {meant}"
    return refuse(why, "Save the file again as “CSV UTF-8”, or as .xlsx.")


def first_undecodable(lines: Iterable[bytes]) -> tuple[int, bytes]:
    """Return the first line that is no UTF-8 with its number, from 1; nothing where there is none."""
    for number, line in enumerate(lines, 1):
        try:
            line.decode("utf-8")
        except UnicodeDecodeError as error:
            start = max(0, error.start - LONGEST_SHOWN // 2)
            return number, line[start : error.start + LONGEST_SHOWN // 2]
    return 0, b""
