"""The club's settings, read: a name in one column, its value in the next."""

from collections.abc import Iterator
from datetime import date
from typing import Any

from openpyxl.utils import get_column_letter

from kits.measures import LengthUnit, UnknownRulerError, ruler
from planning.calendar import IsoWeek, YearMonth
from planning.month import Club
from planning.monthfile.also_called import probably
from planning.monthfile.codecs import Habits
from planning.monthfile.headings import heading_key, heading_text, split_top
from planning.monthfile.problems import CellError
from planning.monthfile.sheets import CLUB, Column
from planning.monthfile.tables import Table, is_blank, keeps_spaces
from planning.monthfile.xlsx import Row, Value

SETTING, VALUE, NOTE = "Setting", "Value", "What to type"
DEFAULT_RULER: str = next(CLUB.default(column) for column in CLUB.columns if column.field == "ruler")


class Settings(Table):
    """What was read of the sheet of settings; `places` says in which row each stands."""

    def __init__(self, title: str) -> None:
        super().__init__(CLUB, title)
        self.places: dict[str, int] = {}
        self.cells: dict[str, Value] = {}
        self.values: dict[str, Any] = {}

    @property
    def habits(self) -> Habits:
        """The club's ways, as far as its settings could be read."""
        try:
            unit = ruler(self.values.get("ruler", DEFAULT_RULER)).unit
        except UnknownRulerError:
            unit = LengthUnit.INCH
        return Habits(unit, self.values.get("currency", Habits().money))


def read_settings(title: str, rows: Iterator[Row]) -> Settings:
    """Read the sheet of settings."""
    table = Settings(title)
    top, rest = split_top(rows)
    places = (find_columns(number, row) for number, row in top)
    found = next((place for place in places if place is not None), None)
    if found is None:
        table.problem(
            None,
            f"the headings {SETTING} and {VALUE} were not found in the first ten rows",
            "Write them above the names of the settings and their values.",
        )
        table.half.append({})
        return table
    heading_row, at_name, at_value = found
    for number, row in (*(one for one in top if one[0] > heading_row), *rest):
        take_setting(table, number, row.get(at_name), row.get(at_value), at_name, at_value)
    # the ruler first, for the lengths among them
    for column in sorted(CLUB.columns, key=lambda one: one.field != "ruler"):
        read_setting(table, column)
    return table


def find_columns(number: int, row: dict[int, Value]) -> tuple[int, int, int] | None:
    """Return the row and the columns of the two headings, if they stand in this row."""
    at = {heading_key(value): column for column, value in row.items() if isinstance(value, str)}
    name, value = at.get(heading_key(SETTING)), at.get(heading_key(VALUE))
    return None if name is None or value is None else (number, name, value)


def take_setting(
    table: Settings, number: int, name: Value | None, value: Value | None, at_name: int, at_value: int
) -> None:
    """Put by the value of one setting, or note that there is no such setting or that it stands twice."""
    text = heading_text(name)
    if not text:
        return
    here = get_column_letter(at_name), SETTING
    column = next((one for one in CLUB.columns if heading_key(one.heading) == heading_key(text)), None)
    if column is None:
        titles = [one.title(Habits()) for one in CLUB.columns if one.field not in table.places]
        advice = probably(text, heading_key(text), titles, [heading_key(one) for one in titles])
        table.problem(number, "is not a setting", advice or "Take the row out.", text, here)
    elif column.field in table.places:
        why = f"stands here already, in row {table.places[column.field]}"
        table.problem(number, why, "Keep one of the two.", text, here)
    else:
        table.places[column.field] = number
        table.columns[column.field] = get_column_letter(at_value), text
        if value is not None and (not is_blank(value) or keeps_spaces(CLUB, column)):
            table.cells[column.field] = value


def read_setting(table: Settings, column: Column) -> None:
    """Read one setting, or note what is wrong with it."""
    number, at = table.places.get(column.field), table.columns.get(column.field, ("", ""))
    try:
        if column.field in table.cells:
            table.values[column.field] = column.codec.read(table.cells[column.field], table.habits)
        elif CLUB.is_needed(column):
            missing = f'the setting "{column.title(Habits())}" is missing'
            raise CellError("", "it is empty" if number else missing, f"Fill it in. {column.note}")
    except CellError as error:
        table.half = [table.values]
        table.problem(number, error.why, error.allowed, error.value, at)


def club_of(table: Settings, today: date) -> Club:
    """Return the club; where a setting is wrong or missing, with one that no rule complains of."""
    month = table.values.get("month", YearMonth.of(today))
    name = table.values.get("name", "?")
    stand_in = {
        "name": name,
        "code": initials(name),
        "month": month,
        "kit_name": month.title,
        "currency": "EUR",
        "country": "GB",
        "planned_on": today,
        "promised": IsoWeek.of(today),
        "packing_starts": today,
    }
    return Club(**(stand_in | table.values))


def initials(name: str) -> str:
    """Return a code for a club that has not given itself one."""
    letters = [word[0] for word in name.split() if word[0].isascii() and word[0].isalnum()]
    return "".join(letters)[:12].upper() or "CLUB"
