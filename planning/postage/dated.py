"""Rows that hold from one day to another: the periods in which the same ones hold."""

from collections.abc import Iterable
from datetime import date, timedelta
from typing import Protocol

DAY = timedelta(days=1)
Period = tuple[date | None, date | None]  # first and last day, both included; None is without end


class Dated(Protocol):
    """A row that holds from one day to another, both included; None is without end."""

    @property
    def valid_from(self) -> date | None:
        """Its first day."""

    @property
    def valid_to(self) -> date | None:
        """Its last day."""


def periods(rows: Iterable[Dated]) -> list[Period]:
    """Return the periods of rows that replace one another, the first first: one without an end ends before the next."""
    ordered = sorted(
        {(row.valid_from, row.valid_to) for row in rows},
        key=lambda one: (one[0] or date.min, one[1] or date.max),
    )
    starts = [one[0] for one in ordered[1:]]
    return [
        (first, after - DAY if last is None and after and after != first else last)
        for (first, last), after in zip(ordered, [*starts, None], strict=True)
    ]


def turns(spans: Iterable[Period]) -> list[date]:
    """Return the days on which a span begins, or has just ended."""
    days = {first for first, _ in spans if first} | {
        last + DAY for _, last in spans if last and last < date.max
    }
    return sorted(days)
