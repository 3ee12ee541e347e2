"""Cells that hold dates, months and weeks."""

import re
from datetime import date, datetime, time
from typing import ClassVar

from planning.calendar import CalendarError, IsoWeek, YearMonth
from planning.faults.texts import shown
from planning.monthfile.codecs.codec import Cell, Codec, Habits, text_of
from planning.monthfile.codecs.words import parts_of
from planning.monthfile.problems import CellError
from planning.monthfile.xlsx import Value

MONTHS = (
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
)
ISO_DAY = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})(?:[T ][0:.]*)?")
NAMED_DAY = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?[ .-]*([A-Za-z]{3,9})[ .,-]*(\d{4})")
MONTH_FIRST = re.compile(r"([A-Za-z]{3,9})[ .-]*(\d{1,2})(?:st|nd|rd|th)?[ ,.-]+(\d{4})")
NAMED_MONTH = re.compile(r"([A-Za-z]{3,9})[ .,-]*(\d{4})")
IN_NUMBERS = re.compile(r"(\d{4}|\d{1,2})[/.-](\d{1,2})[/.-](\d{4}|\d{1,2})")
OF_DAY = re.compile(r"(\d{1,2})(?:[:.](\d{2})(?::00)?)? ?([ap]\.?m\.?)?", re.IGNORECASE)
FIRST_DAY = date(1900, 3, 1)  # spreadsheets have a 29 February 1900, so older dates are written as text


class Date(Codec[date]):
    """A date: a real one, or 2027-03-29, or 29 Mar 2027."""

    shown_as: ClassVar[str] = "d mmm yyyy"
    width: ClassVar[int] = 13
    is_number: ClassVar[bool] = True

    def read(self, value: Value, habits: Habits) -> date:
        """Return the date; a time of day with it does not count."""
        return day_of(value) if isinstance(value, date) else parse_date(text_of(value))

    def write(self, field: date, habits: Habits) -> Cell:
        """Return the date."""
        return field if field >= FIRST_DAY else field.isoformat()


def day_of(value: date) -> date:
    """Return the day of a date that may have a time as well."""
    return value.date() if isinstance(value, datetime) else value


def parse_date(text: str) -> date:
    """Read a date in a spelling nobody can read two ways. Raises CellError."""
    tidy = " ".join(text.split())
    try:
        if match := ISO_DAY.fullmatch(tidy):
            return date(int(match[1]), int(match[2]), int(match[3]))
        if match := NAMED_DAY.fullmatch(tidy):
            return date(int(match[3]), month_number(match[2]), int(match[1]))
        if match := MONTH_FIRST.fullmatch(tidy):
            return date(int(match[3]), month_number(match[1]), int(match[2]))
    except ValueError:
        raise not_a(text, "is not a date: there is no such day") from None
    if match := IN_NUMBERS.fullmatch(tidy):
        raise in_numbers(text, readings(match[1], match[2], match[3]))
    raise not_a(text, "is not a date")


def in_numbers(text: str, meant: list[str]) -> CellError:
    """Return the error of a date in numbers alone, whose order differs from country to country."""
    if not meant:
        return not_a(text, "is not a date: there is no such day")
    if len(meant) > 1:
        return not_a(text, f"could be read in two ways, {' or '.join(meant)}")
    return CellError(shown(text), "says day and month in numbers alone", f"Did you mean {meant[0]}?")


def readings(first: str, second: str, third: str) -> list[str]:
    """Return the days three numbers may stand for: day or month first, or the year."""
    whole = third if len(third) > 2 else f"20{third:0>2}"
    ways = [(first, second, third)] if len(first) > 2 else [(whole, second, first), (whole, first, second)]
    days = (a_day(*map(int, way)) for way in ways)
    return list(dict.fromkeys(f"{day:%-d %b %Y}" for day in days if day is not None))


def a_day(year: int, month: int, day: int) -> date | None:
    """Return a day, None if there is no such one."""
    try:
        return date(year, month, day)
    except ValueError:
        return None


def not_a(text: str, why: str) -> CellError:
    """Return the error of a text that is no date."""
    return CellError(shown(text), why, "Write a date as 2027-03-29 or 29 Mar 2027.")


def month_number(name: str) -> int:
    """Return the number of a month by its English name, or three letters of it or more. Raises ValueError."""
    numbers = [number for number, whole in enumerate(MONTHS, 1) if whole.startswith(name.casefold())]
    if not numbers:
        raise ValueError(name)
    return numbers[0]


class Month(Codec[YearMonth]):
    """A month: 2027-04, or Apr 2027, or any date in it."""

    width: ClassVar[int] = 11

    def read(self, value: Value, habits: Habits) -> YearMonth:
        """Return the month."""
        return YearMonth.of(value) if isinstance(value, date) else parse_month(text_of(value))

    def write(self, field: YearMonth, habits: Habits) -> Cell:
        """Return 2027-04."""
        return str(field)


def parse_month(text: str) -> YearMonth:
    """Read a month. Raises CellError."""
    try:
        if match := NAMED_MONTH.fullmatch(" ".join(text.split())):
            return YearMonth(int(match[2]), month_number(match[1]))
        return YearMonth.parse(text)
    except ValueError:
        raise CellError(shown(text), "is not a month", "Write it as 2027-04 or Apr 2027.") from None


class Time(Codec[time | None]):
    """A time of day: 15:00, or 3 pm."""

    width: ClassVar[int] = 9

    def read(self, value: Value, habits: Habits) -> time | None:
        """Return the time, to the minute."""
        text = f"{value:%H:%M}" if isinstance(value, datetime) else text_of(value)
        match = OF_DAY.fullmatch(" ".join(text.split()))
        hour, minute = (int(match[1]), int(match[2] or 0)) if match else (24, 0)
        half = (match[3] or "").replace(".", "").casefold() if match else ""
        if half and 1 <= hour <= 12:
            hour = hour % 12 + (12 if half == "pm" else 0)
        if match is None or (not half and match[2] is None) or hour > 23 or minute > 59:
            raise CellError(shown(text), "is not a time of day", "Write it as 15:00 or 3 pm.")
        return time(hour, minute)

    def write(self, field: time | None, habits: Habits) -> Cell:
        """Return 15:00, or an empty cell."""
        return None if field is None else f"{field:%H:%M}"


class Months(Codec[tuple[YearMonth, ...]]):
    """Months in one cell, with commas."""

    width: ClassVar[int] = 20

    def read(self, value: Value, habits: Habits) -> tuple[YearMonth, ...]:
        """Return the months in the order they were written."""
        if isinstance(value, date):  # spreadsheets take a lone 2027-04 for its first day
            return (YearMonth.of(value),)
        return tuple(parse_month(part) for part in parts_of(text_of(value)))

    def write(self, field: tuple[YearMonth, ...], habits: Habits) -> Cell:
        """Return the months with commas, or an empty cell."""
        return ", ".join(map(str, field)) or None


class Week(Codec[IsoWeek]):
    """A week of ISO 8601: 2027-W14, or any date in it."""

    width: ClassVar[int] = 11

    def read(self, value: Value, habits: Habits) -> IsoWeek:
        """Return the week."""
        if isinstance(value, date):
            return IsoWeek.of(value)
        try:
            return IsoWeek.parse(text_of(value))
        except CalendarError:
            return IsoWeek.of(self._date_in(text_of(value)))

    def write(self, field: IsoWeek, habits: Habits) -> Cell:
        """Return 2027-W14."""
        return str(field)

    def _date_in(self, text: str) -> date:
        try:
            return parse_date(text)
        except CellError:
            advice = "Write it as 2027-W14, or write a date in it as 29 Mar 2027."
            raise CellError(shown(text), "is not a week of a year", advice) from None
