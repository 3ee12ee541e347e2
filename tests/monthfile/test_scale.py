"""A roster of ten thousand is read while somebody waits."""

import time

from planning.demo.month import demo_month
from planning.monthfile import month_to_workbook, read_month
from tests.support.effort import thorough

LONG = 60  # seconds; on a machine with nothing else to do it is two


@thorough
def test_ten_thousand_subscribers_are_read_in_seconds() -> None:
    month = demo_month(10_000)
    file = month_to_workbook(month)
    start = time.process_time()
    again = read_month(file, month.club.planned_on)
    assert time.process_time() - start < LONG
    assert again == month
    assert len(file) < 2_000_000
