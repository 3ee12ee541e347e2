"""A month file becomes a month, or the list of everything to put right in it."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path

from openpyxl.utils import column_index_from_string

from planning.faults import Fault, faults
from planning.faults.hints import bare_letters, did_you_mean
from planning.faults.texts import shown
from planning.month import Month
from planning.monthfile.guard import opened
from planning.monthfile.problems import MonthFileError, Problem
from planning.monthfile.settings import Settings, club_of, read_settings
from planning.monthfile.sheets import CLUB, COUNTRIES_TITLE, README_TITLE, SHEETS, TABLES, Sheet
from planning.monthfile.tables import Table, read_table
from planning.monthfile.xlsx import Workbook

NOTES = "notes"  # in the name of a sheet of one's own
IGNORED = {bare_letters(README_TITLE), bare_letters(COUNTRIES_TITLE)}
ORDER = {sheet.title: at for at, sheet in enumerate(SHEETS)}


def read_month(source: Path | str | bytes, today: date) -> Month:
    """Read a month file from its path or its bytes. `today` is the day the plan is made, where the file names none.

    Raises MonthFileError with every problem of the file: of its cells, and of what could be read of it as a month.
    """
    with opened(source) as archive:
        workbook = Workbook(archive)
        titles = titles_by_table(workbook)
        settings = settings_of(workbook, titles)
        tables = {sheet.table: table_of(sheet, workbook, titles, settings) for sheet in TABLES}
        strange = list(strange_sheets(workbook, titles))
    month = Month(
        club=club_of(settings, today), **{name: tuple(table.rows) for name, table in tables.items()}
    )
    every = {"club": settings} | tables
    unread = {name: table.half for name, table in every.items() if table.half}
    problems = [problem for table in every.values() for problem in table.problems]
    problems += [problem_of(fault, every[fault.table]) for fault in faults(month, unread)]
    if problems or strange:
        raise MonthFileError([*sorted(problems, key=place), *strange])
    return month


def titles_by_table(workbook: Workbook) -> dict[str, str]:
    """Return which sheets of a file are which tables, by their titles without capitals, spaces and hyphens."""
    ours = {bare_letters(sheet.title): sheet.table for sheet in SHEETS}
    titles: dict[str, str] = {}
    for title in workbook.sheets:
        if (table := ours.get(bare_letters(title))) is not None:
            titles.setdefault(table, title)
    return titles


def settings_of(workbook: Workbook, titles: dict[str, str]) -> Settings:
    """Read the settings, or note that there are none."""
    if CLUB.table in titles:
        return read_settings(titles[CLUB.table], workbook.rows(titles[CLUB.table]))
    settings = Settings(CLUB.title)
    note_missing(settings)
    return settings


def table_of(sheet: Sheet, workbook: Workbook, titles: dict[str, str], settings: Settings) -> Table:
    """Read one table; without its sheet it has the rows such a month has, or that is noted."""
    if sheet.table in titles:
        return read_table(sheet, titles[sheet.table], workbook.rows(titles[sheet.table]), settings.habits)
    table = Table(sheet, sheet.title, rows=list(sheet.missing))
    if sheet.needed:
        note_missing(table)
    return table


def note_missing(table: Table) -> None:
    """Note that a sheet no month can do without is not there."""
    table.problem(None, "the file has no such sheet", f"Add a sheet with the title {table.title}.")
    table.half.append({})


def strange_sheets(workbook: Workbook, titles: dict[str, str]) -> Iterator[Problem]:
    """Yield a problem for every sheet with something on it that is none of a month's."""
    absent = [sheet.title for sheet in SHEETS if sheet.table not in titles]
    for title in workbook.sheets:
        if title in titles.values() or bare_letters(title) in IGNORED or NOTES in bare_letters(title):
            continue
        if next(workbook.rows(title), None) is None:
            continue
        if bare_letters(title) in (bare_letters(one) for one in titles.values()):
            yield Problem(
                sheet=title, why="there is another sheet of this name", allowed="Keep one of the two."
            )
        else:
            advice = did_you_mean(title, absent) or "If it is your own, put the word Notes into its name."
            yield Problem(sheet=title, why="this is not a sheet of a month file", allowed=advice)


def problem_of(fault: Fault, table: Table) -> Problem:
    """Return a fault of the month as a problem of the file it was read from."""
    names = {column.field: column.heading.partition(" ({")[0] for column in table.sheet.columns}
    letter, heading = table.columns.get(fault.field or "", ("", names.get(fault.field or "", "")))
    clash = "" if fault.first is None else f", in row {table.numbers[fault.first]}"
    return Problem(
        sheet=table.title,
        row=row_of(fault, table),
        column=letter,
        heading=heading,
        value=shown(fault.value),
        why=f"{fault.why}{clash}",
        allowed=fault.allowed,
    )


def row_of(fault: Fault, table: Table) -> int | None:
    """Return the row in the file where a fault stands."""
    if isinstance(table, Settings):
        return table.places.get(fault.field or "")
    return None if fault.row is None else table.numbers[fault.row]


def place(problem: Problem) -> tuple[int, int, int]:
    """Return where a problem stands among others: the order of the sheets, then rows, then columns."""
    titles = {bare_letters(title): at for title, at in ORDER.items()}
    column = column_index_from_string(problem.column) if problem.column else 0
    return titles.get(bare_letters(problem.sheet), 0), problem.row or 0, column
