"""Rules for the crew: somebody packs."""

from collections.abc import Iterator

from planning.faults.book import Book
from planning.faults.model import Fault


def nobody_packs(book: Book) -> Iterator[Fault]:
    """The crew has minutes on some day."""
    if not book.whole("week", "crew_days"):
        return
    minutes = [row.minutes for row in book.month.week] + [row.minutes for row in book.month.crew_days]
    if not any(minutes):
        advice = "Write the minutes the crew packs on each weekday, such as 480 for one person's eight hours."
        yield Fault("week", None, None, "", "the crew has no minutes on any day", advice)
