"""Expected receipts as a calendar file, in the same form as the month's own calendar."""

from collections.abc import Iterable
from datetime import date, datetime

from planning.documents.calendar_file import Event, calendar_file
from planning.documents.pdf.words import count
from planning.documents.pdf.words import day as day_words
from planning.documents.stamp import OrderStamp
from planning.month import Club
from planning.orders import Expected


def receipts_file(club: Club, coming: Iterable[Expected], changes: int, made_at: datetime) -> bytes:
    """Return the calendar of what suppliers bring, an event for each line of an order; what has no day is in none.

    changes: how often anything changed so far, so that a calendar knows the later file. made_at: aware, UTC.
    """
    stamp = OrderStamp(plan_id=f"{club.code} orders", version=changes, made_at=made_at)
    events = [event(one, one.when) for one in coming if one.when is not None]
    return calendar_file(f"{club.name}: expected receipts", f"{club.code}/receipts", events, stamp)


def event(one: Expected, when: date) -> Event:
    """Return one line of an order on the day it comes; it is the same event when the day changes."""
    return Event(
        key=f"receipt/{one.order.number}/{one.line.key}",
        kind="Receipt",
        title=f"{one.order.supplier_name} brings {goods(one)}",
        words=needed(one),
        first=when,
        last=when,
    )


def goods(one: Expected) -> str:
    """Say how much of what comes."""
    many = f"{one.quantity:,} x" if one.line.unit in ("", "each") else count(one.quantity, one.line.unit)
    return f"{many} {one.line.name}"


def needed(one: Expected) -> str:
    """Say on which order it comes, and by when it is needed."""
    late = " - comes TOO LATE" if one.is_late else ""
    by = f", needed by {day_words(one.line.need_by)}{late}" if one.line.need_by else ""
    return f"Order {one.order.number}{by}"
