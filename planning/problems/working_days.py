"""Who works when: the club, its crew, and the carriers."""

from datetime import date

from planning.calendar import Weekday, WorkingCalendar
from planning.month import Month
from planning.shipping import OffFor

OFFICE_WEEK = frozenset({Weekday.MON, Weekday.TUE, Weekday.WED, Weekday.THU, Weekday.FRI})


def club_calendar(month: Month) -> WorkingCalendar:
    """Return the days the club works: weekdays with crew, or Monday to Friday, less its days off."""
    weekdays = frozenset(row.weekday for row in month.week if row.minutes) or OFFICE_WEEK
    return WorkingCalendar(
        weekdays, frozenset(row.day for row in month.days_off if row.who is not OffFor.CARRIERS)
    )


def suppliers_calendar(month: Month) -> WorkingCalendar:
    """Return the days suppliers work, which lead times are counted in: Monday to Friday, less everyone's days off.

    Neither the crew's weekdays nor the club's or the carriers' own days off keep a mill from working.
    """
    return WorkingCalendar(
        OFFICE_WEEK, frozenset(row.day for row in month.days_off if row.who is OffFor.EVERYONE)
    )


def promised_day(month: Month) -> date:
    """Return the last carrier working day of the promised week."""
    return carrier_calendar(month).on_or_before(month.club.promised.day(Weekday.SUN))


def carrier_calendar(month: Month) -> WorkingCalendar:
    """Return the days on which parcels travel and arrive: Monday to Friday, less the carriers' days off."""
    return WorkingCalendar(
        OFFICE_WEEK, frozenset(row.day for row in month.days_off if row.who is not OffFor.CLUB)
    )


def crew_minutes(month: Month, day: date) -> int:
    """Return the crew's minutes on a date: as set for the date, none on a day off, else as every such weekday."""
    for row in month.crew_days:
        if row.day == day:
            return row.minutes
    if any(row.day == day and row.who is not OffFor.CARRIERS for row in month.days_off):
        return 0
    return sum(row.minutes for row in month.week if row.weekday is Weekday.of(day))
