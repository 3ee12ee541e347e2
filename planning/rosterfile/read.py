"""Rows of a roster into people, some at a time, each judged by the rules of the month file."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby, islice
from operator import attrgetter
from pathlib import Path

from planning.faults import faults_by_row
from planning.faults.hints import bare_letters
from planning.month import Month
from planning.monthfile.codecs import Habits
from planning.monthfile.headings import LAST_HEADING_ROW
from planning.monthfile.problems import MonthFileError, Problem, refuse
from planning.monthfile.read import place, problem_of
from planning.monthfile.sheets import TABLES, Sheet
from planning.monthfile.tables import (
    CellReader,
    Table,
    add_row,
    cell_texts,
    find_columns,
    is_blank,
    read_cells,
)
from planning.monthfile.xlsx import Row, Value
from planning.roster import Subscriber
from planning.rosterfile.source import open_roster

SHEET: Sheet = next(sheet for sheet in TABLES if sheet.table == "subscribers")
CHUNK = 2_000  # rows
MOST_ROWS = 1_048_575  # what a sheet holds below its headings
NOTES = ("Row", "What is wrong")  # headings of the columns a file of refused rows has besides
HABITS = Habits()  # a roster has neither lengths nor money
CUT_UP = "Put quotation marks around cells that hold the mark between cells."


@dataclass(frozen=True, slots=True)
class Refused:
    """A row that is not taken: its number in the file, what is wrong, and its cells as texts, by SHEET's columns."""

    number: int
    problems: tuple[Problem, ...]
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Chunk:
    """Some rows. people: those that could be read, by number; faulty: which of these are refused all the same."""

    people: tuple[tuple[int, Subscriber], ...]
    faulty: frozenset[int]
    refused: tuple[Refused, ...]


def read_roster(path: Path, month: Month) -> Iterator[Chunk]:
    """Yield a roster's rows in their order, judged by the month they are for; nobody's reference is compared.

    month: its tiers and its carriers. Raises MonthFileError for a file or headings that cannot be read.
    """
    others = replace(month_of_roster(month), subscribers=())
    with open_roster(path, SHEET) as source:
        table = Table(SHEET, source.title)
        readers, below = find_columns(table, without_notes(source.rows), HABITS)
        if table.problems:
            raise MonthFileError(table.problems)
        width = source.width(table.head)
        seen = 0
        while rows := list(islice(below, CHUNK)):
            seen += len(rows)
            if seen > MOST_ROWS:
                raise refuse(f"the roster has more than {MOST_ROWS:,} rows", "Divide it into several files.")
            yield judged(
                rows, replace(table, rows=[], numbers=[], half=[], problems=[]), readers, width, others
            )


def month_of_roster(month: Month) -> Month:
    """Return what of a month the rules for a roster's rows look at."""
    return Month(
        club=month.club,
        tiers=month.tiers,
        services=month.services,
        zones=month.zones,
        transits=month.transits,
        rates=month.rates,
    )


def without_notes(rows: Iterator[Row]) -> Iterator[Row]:
    """Yield rows without the notes that a file of refused rows has in its headings, so that it can be taken in again."""
    for number, cells in rows:
        yield number, cells if number > LAST_HEADING_ROW else without_note_headings(cells)


NOTE_KEYS = frozenset(map(bare_letters, NOTES))


def without_note_headings(cells: dict[int, Value]) -> dict[int, Value]:
    """Return a row without the headings of the notes, if it has all of them."""
    keys = {at: bare_letters(value) for at, value in cells.items() if isinstance(value, str)}
    if not set(keys.values()) >= NOTE_KEYS:
        return cells
    return {at: value for at, value in cells.items() if keys.get(at) not in NOTE_KEYS}


def judged(
    rows: Sequence[Row], table: Table, readers: Sequence[CellReader], width: int, others: Month
) -> Chunk:
    """Read some rows and find what is wrong with each."""
    cells = dict(rows)
    for number, row in rows:
        read_row(table, number, row, readers, width)
    faults = faults_by_row(replace(others, subscribers=tuple(table.rows)))
    table.problems += [problem_of(fault, table) for found in faults.values() for fault in found]
    refused = [
        Refused(number, tuple(problems), cell_texts(SHEET, cells[number], readers))
        for number, problems in groupby(sorted(table.problems, key=place), key=attrgetter("row"))
    ]
    return Chunk(
        people=tuple(zip(table.numbers, table.rows, strict=True)),
        faulty=frozenset(table.numbers[index] for index in faults),
        refused=tuple(refused),
    )


def read_row(
    table: Table, number: int, cells: dict[int, Value], readers: Sequence[CellReader], width: int
) -> None:
    """Read one row into the table, or note what is wrong with it."""
    if all(is_blank(cells.get(reader.at)) for reader in readers):
        return
    if width and max(cells) > width:
        why = f"the row has {max(cells)} cells, but there are {width} headings"
        table.problem(number, why, CUT_UP)
        return
    fields, is_whole = read_cells(table, number, cells, list(readers), HABITS)
    if is_whole:
        add_row(table, number, fields)
