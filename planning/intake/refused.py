"""The rows that are not taken, in a workbook: as they were, with what is wrong, ready to be put right and taken in again."""

import json
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import reduce
from heapq import merge
from itertools import groupby, islice
from operator import attrgetter
from pathlib import Path
from tempfile import NamedTemporaryFile, TemporaryFile
from typing import IO

from planning.documents.lists import MOST_ROWS, Listed, write_lists
from planning.documents.stamp import Stamp
from planning.documents.workbook import binding_of
from planning.documents.workbook.table import Column, Look, Table
from planning.models import IntakeRow
from planning.month import Club
from planning.monthfile.codecs import Habits
from planning.monthfile.codecs.codec import Cell
from planning.monthfile.problems import Problem
from planning.monthfile.sheets import Sheet
from planning.rosterfile import Refused
from planning.rosterfile.read import NOTES, SHEET

TITLE = SHEET.title  # under which it is found when it is taken in again
HABITS = Habits()


@dataclass(frozen=True, slots=True)
class Line:
    """A refused row: its number, what is wrong in words, its cells."""

    number: int
    wrong: str
    cells: tuple[str, ...]

    def and_also(self, other: "Line") -> "Line":
        """Return the line with what else is wrong with its row."""
        return Line(self.number, f"{self.wrong} {other.wrong}", self.cells)


class Spool:
    """Refused rows, on disk until all are known."""

    def __init__(self, file: IO[str]) -> None:
        self._file = file
        self.count = 0

    def add(self, refused: Iterable[Refused]) -> None:
        """Keep some rows."""
        for one in refused:
            wrong = " ".join(words_of(problem) for problem in one.problems)
            self._file.write(json.dumps((one.number, wrong, one.cells)) + "\n")
            self.count += 1

    def lines(self) -> Iterator[Line]:
        """Yield the rows in their order."""
        self._file.seek(0)
        for text in self._file:
            row, wrong, cells = json.loads(text)
            yield Line(row, wrong, tuple(cells))


@contextmanager
def spool() -> Iterator[Spool]:
    """Open a spool that is gone afterwards."""
    with TemporaryFile("w+", encoding="ascii") as file:
        yield Spool(file)


def words_of(problem: Problem) -> str:
    """Return a problem without its row, which stands beside it."""
    at = f"{problem.heading}: " if problem.heading else ""
    said = " ".join(part for part in (problem.value, f"{problem.why}.", problem.allowed) if part)
    return f"{at}{said}"


def twice_problem(row: int, first: int, reference: str) -> Problem:
    """Word the problem of a reference that stands in an earlier row."""
    why = f"stands here already, in row {first:,}"
    heading = next(column.heading for column in SHEET.columns if column.field == "reference")
    return Problem(
        sheet=TITLE,
        row=row,
        heading=heading,
        value=reference,
        why=why,
        allowed="Keep one of the two rows.",
    )


def twice_line(row: IntakeRow, problem: Problem) -> Line:
    """Return the line of a row that could be read but for its reference."""
    return Line(row.number, words_of(problem), tuple(as_text(row, column.field) for column in SHEET.columns))


def as_text(row: IntakeRow, field: str) -> str:
    """Return a field as the roster's file would have it."""
    column = next(column for column in SHEET.columns if column.field == field)
    value = getattr(row, field)
    cell: Cell = None if value is None else column.codec.write(value, HABITS)
    return "" if cell is None else str(cell)


number = attrgetter("number")


def together(first: Iterable[Line], second: Iterable[Line]) -> Iterator[Line]:
    """Merge two runs of lines by their numbers; a row in both is one line with all that is wrong."""
    for _, same in groupby(merge(first, second, key=number), key=number):
        yield reduce(Line.and_also, same)


# --- The file ---


@dataclass(frozen=True, slots=True, kw_only=True)
class Looked(Stamp):
    """Which file was looked through, and when."""

    file: str

    @property
    def text(self) -> str:
        """What stands at the foot of every page."""
        return f"Rows of {self.file} that were not taken, {self.made_at:%-d %b %Y %H:%M} UTC"


def write_refused(
    lines: Iterator[Line], path: Path, club: Club, stamp: Looked, most: int, sheet: Sheet = SHEET
) -> None:
    """Write the file, whole or not at all. most: how many lines there may be, maybe too many for a sheet. Raises OSError."""
    titles = [sheet.title, f"{sheet.title} 2"][: -(-most // MOST_ROWS)]
    sheets = [Listed(refused_table(title, sheet), islice(lines, MOST_ROWS)) for title in titles]
    path.parent.mkdir(parents=True, exist_ok=True)
    with NamedTemporaryFile(dir=path.parent, prefix=".", suffix=".part", delete=False) as part:
        try:
            write_lists(sheets, binding_of(club, stamp), part)
            part.close()
            Path(part.name).chmod(0o644)
            Path(part.name).replace(path)
        except BaseException:
            Path(part.name).unlink(missing_ok=True)
            raise


def refused_table(title: str, sheet: Sheet = SHEET) -> Table[Line]:
    """Return a sheet of the refused rows."""
    row, wrong = NOTES
    return Table(
        name=title,
        says="Rows that were not taken. Put them right here and take in this file: the first two columns are passed over.",
        empty="Every row was taken.",
        rows=(),
        frozen=2,
        columns=(
            Column[Line]("row", row, lambda line: line.number, Look.COUNT, width=10),
            Column[Line]("wrong", wrong, lambda line: line.wrong, width=60),
            *(cells_column(at, one.heading, one.codec.width) for at, one in enumerate(sheet.columns)),
        ),
    )


def cells_column(at: int, heading: str, width: float) -> Column[Line]:
    """Return a column of a sheet as it was typed."""
    return Column[Line](heading, heading, lambda line: line.cells[at], width=width)
