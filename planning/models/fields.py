"""Columns for tuples of what planning counts in."""

from typing import Any

from kits.models.fields import CodesField, WrittenField
from planning.calendar import Weekday, YearMonth


class MonthsField(CodesField):
    """A tuple of months, written 2027-04."""

    def read_code(self, code: str) -> Any:
        """Make one month."""
        return YearMonth.parse(code)


class MonthField(WrittenField):
    """A month, written 2027-04."""

    read = staticmethod(YearMonth.parse)


class WeekdaysField(CodesField):
    """A tuple of weekdays, written Mon."""

    def read_code(self, code: str) -> Any:
        """Make one weekday."""
        return Weekday(code)
