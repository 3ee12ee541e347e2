"""Months, ISO weeks and working days. Pure: nobody here asks what day it is today."""

import re
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

DAY = timedelta(days=1)
FAR = 3_660  # days; a calendar that works on none of them is refused rather than searched for ever


class CalendarError(ValueError):
    """A month, week or calendar that cannot be; the message says what is allowed."""


class Weekday(StrEnum):
    """Days of the week as people write them in a sheet, Monday first."""

    MON = "Mon"
    TUE = "Tue"
    WED = "Wed"
    THU = "Thu"
    FRI = "Fri"
    SAT = "Sat"
    SUN = "Sun"

    @classmethod
    def of(cls, day: date) -> "Weekday":
        """Return the weekday of a date."""
        return tuple(cls)[day.weekday()]


@dataclass(frozen=True, slots=True, order=True)
class YearMonth:
    """A calendar month, written 2027-04."""

    year: int
    month: int

    def __post_init__(self) -> None:
        if not (1 <= self.month <= 12 and 1900 <= self.year <= 9999):
            raise CalendarError(f"{self.year}-{self.month} is not a month: write it as 2027-04")

    @classmethod
    def parse(cls, text: str) -> "YearMonth":
        """Read 2027-04. Raises CalendarError."""
        match = re.fullmatch(r"(\d{4})-(\d{1,2})", text.strip())
        if match is None:
            raise CalendarError(f"{text!r} is not a month: write it as 2027-04")
        return cls(int(match[1]), int(match[2]))

    @classmethod
    def of(cls, day: date) -> "YearMonth":
        """Return the month a date lies in."""
        return cls(day.year, day.month)

    def __str__(self) -> str:
        return f"{self.year:04}-{self.month:02}"

    @property
    def title(self) -> str:
        """The month as a heading: April 2027."""
        return f"{date(self.year, self.month, 1):%B %Y}"


@dataclass(frozen=True, slots=True, order=True)
class IsoWeek:
    """A week of ISO 8601 (Monday first; week 1 holds 4 January), written 2027-W14."""

    year: int
    week: int

    def __post_init__(self) -> None:
        try:
            date.fromisocalendar(self.year, self.week, 1)
        except ValueError:
            raise CalendarError(f"{self.year} has no week {self.week}: write it as 2027-W14") from None

    @classmethod
    def parse(cls, text: str) -> "IsoWeek":
        """Read 2027-W14 (or 2027W14). Raises CalendarError."""
        match = re.fullmatch(r"(\d{4})-?W(\d{1,2})", text.strip().upper())
        if match is None:
            raise CalendarError(f"{text!r} is not a week: write it as 2027-W14")
        return cls(int(match[1]), int(match[2]))

    @classmethod
    def of(cls, day: date) -> "IsoWeek":
        """Return the ISO week a date lies in."""
        year, week, _ = day.isocalendar()
        return cls(year, week)

    def __str__(self) -> str:
        return f"{self.year:04}-W{self.week:02}"

    def day(self, weekday: Weekday) -> date:
        """Return one day of the week."""
        return date.fromisocalendar(self.year, self.week, tuple(Weekday).index(weekday) + 1)


@dataclass(frozen=True, slots=True)
class WorkingCalendar:
    """Which days someone works: given weekdays, less single days off."""

    weekdays: frozenset[Weekday]
    days_off: frozenset[date] = frozenset()

    def __post_init__(self) -> None:
        if not self.weekdays:
            raise CalendarError("a calendar needs at least one working weekday")

    def works(self, day: date) -> bool:
        """Tell whether the day is a working day."""
        return Weekday.of(day) in self.weekdays and day not in self.days_off

    def on_or_before(self, day: date) -> date:
        """Return the latest working day that is not after `day`."""
        return self._walk(day, -DAY)

    def on_or_after(self, day: date) -> date:
        """Return the earliest working day that is not before `day`."""
        return self._walk(day, DAY)

    def before(self, day: date, count: int) -> date:
        """Return the latest working day from which `count` working days have passed by `day`.

        This is the order-by date when `day` is the need date and `count` the lead time.
        """
        day = self.on_or_before(day)
        for _ in range(count):
            day = self.on_or_before(day - DAY)
        return day

    def after(self, day: date, count: int) -> date:
        """Return the `count`-th working day after `day`; the day itself when `count` is 0."""
        for _ in range(count):
            day = self.on_or_after(day + DAY)
        return day

    def days(self, first: date, last: date) -> tuple[date, ...]:
        """Return the working days from `first` to `last`, both included."""
        span = ((first + i * DAY) for i in range((last - first).days + 1))
        return tuple(day for day in span if self.works(day))

    def _walk(self, day: date, step: timedelta) -> date:
        for _ in range(FAR):
            if self.works(day):
                return day
            day += step
        raise CalendarError(f"no working day within {FAR} days of {day - FAR * step}: too many days off")
