"""Rules for the crew: somebody packs, within hours that can be."""

from collections.abc import Iterator

from planning.faults.book import Book
from planning.faults.model import Fault


def nobody_packs(book: Book) -> Iterator[Fault]:
    """The crew has minutes on some day."""
    if not book.whole("week", "crew_days"):
        return
    week = [row.minutes + row.overtime for row in book.month.week]
    if not any(week) and not any(row.minutes + row.overtime for row in book.month.crew_days):
        advice = "Write the minutes the crew packs on each weekday, such as 480 for one person's eight hours."
        yield Fault("week", None, None, "", "the crew has no minutes on any day", advice)


def hours_half_told(book: Book) -> Iterator[Fault]:
    """Hours have a beginning and, later on the same day, an end."""
    for index, row in enumerate(book.month.week):
        if (row.starts is None) != (row.ends is None):
            field, other = ("ends", "From") if row.ends is None else ("starts", "To")
            advice = f"Write both, or empty {other} too if no cut-off matters."
            yield Fault("week", index, field, "", f"is empty though there is a time under {other}", advice)
        elif row.starts is not None and row.ends is not None and row.ends <= row.starts:
            why = f"is not after {row.starts:%H:%M}, when they begin"
            yield Fault(
                "week", index, "ends", f"{row.ends:%H:%M}", why, "Write a later time of the same day."
            )


def overtime_for_nothing(book: Book) -> Iterator[Fault]:
    """Overtime has a price."""
    if book.month.club.overtime_cost_per_hour or not book.whole("club"):
        return
    for table in ("week", "crew_days"):
        for index, row in enumerate(book.rows(table)):
            if row.overtime:
                advice = "Write its cost per hour on the Club sheet, or take the overtime out."
                yield Fault(table, index, "overtime", f"{row.overtime:,}", "has no price", advice)
                return


def cut_off_before_work(book: Book) -> Iterator[Fault]:
    """A cut-off comes after somebody has begun to pack."""
    starts = [row.starts for row in book.month.week if row.minutes]
    if not starts or None in starts or not book.whole("week"):
        return
    earliest = min(one for one in starts if one is not None)
    for index, row in enumerate(book.month.services):
        if row.cut_off is not None and row.cut_off <= earliest:
            why = f"is not after {earliest:%H:%M}, when the first begin to pack, so nothing goes on the day it is packed"
            advice = "Write a later time, or empty the cell if all that is packed that day goes."
            yield Fault("services", index, "cut_off", f"{row.cut_off:%H:%M}", why, advice)
