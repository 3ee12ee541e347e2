from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planning.calendar import CalendarError, IsoWeek, Weekday, WorkingCalendar, YearMonth

OFFICE = frozenset({Weekday.MON, Weekday.TUE, Weekday.WED, Weekday.THU, Weekday.FRI})


@pytest.mark.parametrize(
    ("day", "week", "weekday"),
    [  # ISO 8601 week dates: pages derived from Wikipedia's "ISO week date", and Kuhn's note on the standard
        (date(2006, 12, 31), "2006-W52", 7),
        (date(1996, 12, 30), "1997-W01", 1),
        (date(1999, 12, 27), "1999-W52", 1),
        (date(2000, 1, 2), "1999-W52", 7),
        (date(2012, 12, 31), "2013-W01", 1),
        (date(2013, 12, 30), "2014-W01", 1),
        (date(2014, 12, 29), "2015-W01", 1),
        (date(2005, 1, 1), "2004-W53", 6),
        (date(2008, 12, 29), "2009-W01", 1),
        (date(2010, 1, 3), "2009-W53", 7),
        (date(2026, 12, 31), "2026-W53", 4),
        (date(2027, 1, 3), "2026-W53", 7),
    ],
)
def test_published_dates_fall_in_their_iso_weeks(day: date, week: str, weekday: int) -> None:
    assert IsoWeek.of(day) == IsoWeek.parse(week)
    assert IsoWeek.parse(week).day(tuple(Weekday)[weekday - 1]) == day


def test_the_53_week_years_are_the_published_ones() -> None:
    # ISO 8601 week pages derived from Wikipedia: the years 2000-2049 with a week 53
    published = [2004, 2009, 2015, 2020, 2026, 2032, 2037, 2043, 2048]
    assert [year for year in range(2000, 2050) if has_week_53(year)] == published


def has_week_53(year: int) -> bool:
    try:
        IsoWeek(year, 53)
    except CalendarError:
        return False
    return True


def test_both_forms_of_the_standards_example_read_the_same() -> None:
    assert IsoWeek.parse("1985-W15") == IsoWeek.parse("1985W15")  # ISO 8601:2000 5.2.3, its week 15 of 1985
    assert IsoWeek.parse("1985-W15").day(Weekday.FRI) == date(1985, 4, 12)


@pytest.mark.parametrize("text", ["2027-W54", "2025-W53", "2027-14", "W14", "", "2027-W0"])
def test_a_week_that_is_none_is_refused_with_the_right_form(text: str) -> None:
    with pytest.raises(CalendarError, match="2027-W14"):
        IsoWeek.parse(text)


@pytest.mark.parametrize("text", ["2027-13", "2027-00", "April 2027", "", "27-04"])
def test_a_month_that_is_none_is_refused_with_the_right_form(text: str) -> None:
    with pytest.raises(CalendarError, match="2027-04"):
        YearMonth.parse(text)


def test_a_month_prints_as_it_is_read() -> None:
    assert str(YearMonth.parse("2027-4")) == "2027-04"
    assert YearMonth(2027, 4).title == "April 2027"


def test_an_order_by_date_skips_week_ends_and_days_off() -> None:
    calendar = WorkingCalendar(
        OFFICE, frozenset({date(2027, 3, 26), date(2027, 3, 29)})
    )  # Good Friday, Easter Monday
    # needed Wednesday 31 March; Tuesday 30 is one working day before, Thursday 25 two, Wednesday 24 three
    assert calendar.before(date(2027, 3, 31), 1) == date(2027, 3, 30)
    assert calendar.before(date(2027, 3, 31), 3) == date(2027, 3, 24)
    assert calendar.after(date(2027, 3, 24), 3) == date(2027, 3, 31)


@given(
    st.dates(date(2020, 1, 1), date(2040, 1, 1)),
    st.integers(0, 60),
    st.sets(st.sampled_from(tuple(Weekday)), min_size=1).map(frozenset),
    st.sets(st.dates(date(2020, 1, 1), date(2020, 3, 1)), max_size=20).map(frozenset),
)
def test_an_order_placed_on_the_order_by_date_comes_in_time_and_a_day_later_does_not(
    need: date, lead: int, weekdays: frozenset[Weekday], off: frozenset[date]
) -> None:
    calendar = WorkingCalendar(weekdays, off)
    order_by = calendar.before(need, lead)
    assert calendar.works(order_by)
    assert calendar.after(order_by, lead) <= need
    next_day = calendar.on_or_after(order_by + timedelta(days=1))
    assert calendar.after(next_day, lead) > need


def test_a_calendar_without_a_working_day_is_refused() -> None:
    with pytest.raises(CalendarError, match="at least one working weekday"):
        WorkingCalendar(frozenset())
    closed = WorkingCalendar(
        frozenset({Weekday.MON}), frozenset(date(2027, 1, 4) + timedelta(weeks=i) for i in range(600))
    )
    with pytest.raises(CalendarError, match="too many days off"):
        closed.on_or_after(date(2027, 1, 1))
