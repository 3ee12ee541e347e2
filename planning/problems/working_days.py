"""Who works when: the club, its crew, the carriers, and those who bring parcels to the door."""

from collections.abc import Callable
from datetime import date, time
from fractions import Fraction
from functools import cache

from planning.calendar import Weekday, WorkingCalendar
from planning.month import Month
from planning.shipping import Before, CrewOn, OffFor, WeekdayCrew

ABROAD = "abroad"  # countries of which no row says anything
OFFICE_WEEK = frozenset({Weekday.MON, Weekday.TUE, Weekday.WED, Weekday.THU, Weekday.FRI})


def days_off(month: Month, country: str, *stopped: OffFor) -> frozenset[date]:
    """Return the days off of a country, its own and everywhere's, that stop somebody."""
    return frozenset(row.day for row in month.days_off if row.who in stopped and row.country in ("", country))


def club_calendar(month: Month) -> WorkingCalendar:
    """Return the days the club works: weekdays with crew, or Monday to Friday, less its days off."""
    weekdays = frozenset(row.weekday for row in month.week if row.minutes) or OFFICE_WEEK
    return WorkingCalendar(weekdays, days_off(month, month.club.country, OffFor.EVERYONE, OffFor.CLUB))


def suppliers_calendar(month: Month) -> WorkingCalendar:
    """Return the days suppliers work, which lead times are counted in: Monday to Friday, less everyone's days off.

    Neither the crew's weekdays nor the club's or the carriers' own days off keep a mill from working.
    """
    return WorkingCalendar(OFFICE_WEEK, days_off(month, month.club.country, OffFor.EVERYONE))


def carrier_calendar(month: Month) -> WorkingCalendar:
    """Return the days on which parcels are collected and move at home."""
    return delivery_calendar(month, month.club.country)


def delivery_calendar(month: Month, country: str) -> WorkingCalendar:
    """Return the days on which parcels move and arrive in a country: Monday to Friday or its own, less days off there."""
    own = (frozenset(row.weekdays) for row in month.delivery_weeks if row.country == country)
    off = days_off(month, country, OffFor.EVERYONE, OffFor.CARRIERS)
    return WorkingCalendar(next(own, OFFICE_WEEK), off)


def regions_of(month: Month) -> Callable[[str], str]:
    """Return the function that says whose working days count on the way to a country: "" if they are as at home."""
    home = carrier_calendar(month)
    named = {row.country for row in month.days_off} | {row.country for row in month.delivery_weeks}

    @cache
    def region(country: str) -> str:
        where = country if country in named else ABROAD
        return "" if delivery_calendar(month, where) == home else where

    return region


def promised_day(month: Month, region: str = "") -> date:
    """Return the last working day of the promised week, at home or in a region."""
    calendar = delivery_calendar(month, region or month.club.country)
    return calendar.on_or_before(month.club.promised.day(Weekday.SUN))


# --- The crew ---


def crew_minutes(month: Month, day: date) -> int:
    """Return the crew's minutes on a date: as set for the date, else of all who work on such a weekday and are not off."""
    for row in month.crew_days:
        if row.day == day:
            return row.minutes
    return sum(row.minutes for row in at_work(month, day))


def crew_on(month: Month, day: date) -> CrewOn:
    """Return the crew of a date: its minutes, its overtime, and how many of them lie before each cut-off.

    On a date of its own, those who work on such a weekday share its minutes as they would share the weekday's.
    """
    rows = at_work(month, day) or [row for row in month.week if row.weekday is Weekday.of(day)]
    minutes, overtime = crew_minutes(month, day), sum(row.overtime for row in at_work(month, day))
    for one in month.crew_days:
        if one.day == day:
            overtime = one.overtime
    cut_offs = sorted({one.cut_off for one in month.services if one.cut_off is not None})
    before = (Before(at=at, minutes=minutes_before(rows, at, minutes, overtime)) for at in cut_offs)
    return CrewOn(day=day, minutes=minutes, overtime=overtime, before=tuple(before))


def at_work(month: Month, day: date) -> list[WeekdayCrew]:
    """Return the rows of those who work on a date."""
    return [row for row in month.week if row.weekday is Weekday.of(day) and day not in off_of(month, row)]


def off_of(month: Month, row: WeekdayCrew) -> frozenset[date]:
    """Return the days off that a part of the crew keeps."""
    return days_off(month, row.country or month.club.country, OffFor.EVERYONE, OffFor.CLUB)


def minutes_before(rows: list[WeekdayCrew], at: time, minutes: int, overtime: int) -> int:
    """Return how many of a day's minutes, overtime after them included, lie before a time; at one pace from row to row."""
    own, more = sum(row.minutes for row in rows), sum(row.overtime for row in rows)
    done = sum((share(row, at) * row.minutes for row in rows), Fraction(0))
    after = sum((overtime_share(row, at) * row.overtime for row in rows), Fraction(0))
    worked = done / own * minutes if own else Fraction(minutes)
    return int(worked + (after / more * overtime if more else 0))


def share(row: WeekdayCrew, at: time) -> Fraction:
    """Return how much of somebody's hours lies before a time; all of it where no hours are known."""
    if row.starts is None or row.ends is None:
        return Fraction(1)
    gone, whole = minute(at) - minute(row.starts), minute(row.ends) - minute(row.starts)
    return min(max(Fraction(gone, whole), Fraction(0)), Fraction(1))


def overtime_share(row: WeekdayCrew, at: time) -> Fraction:
    """Return how much of somebody's overtime, worked after their hours at the same pace, lies before a time."""
    if row.starts is None or row.ends is None or not row.overtime:
        return Fraction(1)
    pace = Fraction(row.minutes or row.overtime, minute(row.ends) - minute(row.starts))
    begins = row.ends if row.minutes else row.starts
    return min(max((minute(at) - minute(begins)) * pace / row.overtime, Fraction(0)), Fraction(1))


def minute(at: time) -> int:
    """Return the minute of the day."""
    return at.hour * 60 + at.minute
