"""Rules for the club's past and for what is not certain yet: a past that adds up, ranges that rise."""

from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

from planning.calendar import YearMonth
from planning.chances.rows import Unsure
from planning.faults.book import Book
from planning.faults.model import Fault
from planning.forecast.model import MOST_MONTHS, month_of, serial
from planning.forecast.rows import PastTier

OLDEST = 18  # months between the last one told of and this one: a forecast reaches 24 at most
PERCENTS = frozenset((Unsure.SPOILED, Unsure.DAMAGED))


def past_out_of_order(book: Book) -> Iterator[Fault]:
    """The past is told month by month, without a gap, up to this month at most."""
    rows = book.month.past
    for index, (before, row) in enumerate(pairwise(rows), 1):
        step = serial(row.in_month) - serial(before.in_month)
        if step < 0:
            why, advice = (
                f"stands below {before.in_month}",
                "Write the months from the earliest to the latest.",
            )
            yield Fault("past", index, "in_month", str(row.in_month), why, advice)
        elif step > 1 and book.whole("past"):
            lost = month_of(serial(before.in_month) + 1)
            why = f"follows {before.in_month}, and {lost} is missing between them"
            advice = "Write a row for every month and tier; one in which nothing was sent has 0 sent."
            yield Fault("past", index, "in_month", str(row.in_month), why, advice)
    if rows and len({row.in_month for row in rows}) > MOST_MONTHS:
        advice = f"Keep the last {MOST_MONTHS}."
        yield Fault("past", None, None, "", f"there are more than {MOST_MONTHS} months", advice)


def past_of_another_age(book: Book) -> Iterator[Fault]:
    """The past ends not after this month, and not so long before it that nothing can be said of this one."""
    if not book.month.past or not book.whole("club"):
        return
    this = book.month.club.month
    for index, row in enumerate(book.month.past):
        if row.in_month > this:
            why = f"is later than the month that is planned, {this}"
            yield Fault("past", index, "in_month", str(row.in_month), why, "Write months that are over.")
    last = max(row.in_month for row in book.month.past)
    if serial(this) - serial(last) > OLDEST:
        why = f"is the last month told of, more than {OLDEST} months before {this}"
        yield Fault("past", None, None, str(last), why, "Add the months since, or empty the sheet.")


def past_that_does_not_add_up(book: Book) -> Iterator[Fault]:
    """A tier's boxes are those of the month before, and those taken up, less those given up."""
    if not book.whole("past") or not book.month.past:
        return
    first = min(row.in_month for row in book.month.past)
    known = {(row.in_month, row.tier): row for row in book.month.past}
    for index, row in enumerate(book.month.past):
        if row.in_month == first:
            continue
        before = known.get((month_of(serial(row.in_month) - 1), row.tier))
        there = before.members if before else 0
        if there + row.joined - row.left != row.members:
            yield does_not_add_up(index, row, there)


def does_not_add_up(index: int, row: PastTier, there: int) -> Fault:
    """Word the fault of a month whose boxes come from nowhere."""
    value = f"{row.tier} in {row.in_month}: {there:,} before + {row.joined:,} - {row.left:,}"
    why = f"is not {row.boxes:,} sent + {row.skipped:,} skipped + {row.paused:,} paused = {row.members:,}"
    advice = "Put one of the figures right; who changes tiers leaves one and joins the other."
    return Fault("past", index, "boxes", value, why, advice)


def tiers_that_vanish(book: Book) -> Iterator[Fault]:
    """A tier with boxes has a row in the next month too, even where all of them were given up."""
    if not book.whole("past") or not book.month.past:
        return
    last = max(row.in_month for row in book.month.past)
    known = {(row.in_month, row.tier) for row in book.month.past}
    months = {row.in_month for row in book.month.past}
    for index, row in enumerate(book.month.past):
        following = month_of(serial(row.in_month) + 1)
        if row.in_month < last and row.members and following in months and (following, row.tier) not in known:
            why = f"has {row.members:,} boxes in {row.in_month} and no row in {following}"
            yield Fault("past", index, "tier", row.tier, why, "Add that row; who gave theirs up has left.")


def who_stayed_at_odds(book: Book) -> Iterator[Fault]:
    """Who stayed is told of months of the past, never grows, and comes to the month's boxes."""
    if not book.month.stayed or not book.whole("past", "stayed"):
        return
    members: Counter[YearMonth] = Counter()
    for past in book.month.past:
        members[past.in_month] += past.members
    told: Counter[YearMonth] = Counter()
    counts = {(row.joined, row.in_month): row.members for row in book.month.stayed}
    first = min(members, default=None)
    for index, row in enumerate(book.month.stayed):
        told[row.in_month] += row.members
        if row.joined > row.in_month:
            why = f"is before {row.joined}, in which they joined"
            yield Fault("stayed", index, "in_month", str(row.in_month), why, "Put one of the months right.")
        elif row.in_month not in members:
            why = "is no month of the sheet Past months"
            yield Fault(
                "stayed", index, "in_month", str(row.in_month), why, "Add it there, or take the row out."
            )
        elif row.in_month not in (first, row.joined):
            before = counts.get((row.joined, month_of(serial(row.in_month) - 1)), 0)
            if row.members > before:
                why = f"of those who joined in {row.joined} are more than the {before:,} of the month before"
                advice = "Who comes back joins anew in that month."
                yield Fault("stayed", index, "members", f"{row.members:,}", why, advice)
    for month, count in sorted(members.items()):
        if told[month] != count:
            why = f"by the month of joining are not the {count:,} of Past months"
            advice = "Write all who were there, or empty the sheet if nobody knows."
            yield Fault("stayed", None, None, f"{told[month]:,} boxes in {month}", why, advice)


def joined_at_odds(book: Book) -> Iterator[Fault]:
    """Who joined in a month is as many by month of joining as by tier, changes of tier left out."""
    if not book.month.stayed or not book.whole("past", "stayed"):
        return
    joined: Counter[YearMonth] = Counter()
    for past in book.month.past:
        joined[past.in_month] += past.joined
    for index, row in enumerate(book.month.stayed):
        if row.joined == row.in_month and row.in_month in joined and row.members > joined[row.in_month]:
            why = f"joined in {row.joined}, more than the {joined[row.in_month]:,} of Past months"
            yield Fault("stayed", index, "members", f"{row.members:,}", why, "Put one of the two right.")


def known_better_out_of_order(book: Book) -> Iterator[Fault]:
    """A count by hand rises from low to high, and a change that is announced ends after it begins."""
    for index, row in enumerate(book.month.by_hand):
        if not row.low <= row.likely <= row.high:
            value = f"{row.low:,}, {row.likely:,}, {row.high:,}"
            yield Fault("by_hand", index, "low", value, "do not rise", "Write low, likely and high, rising.")
    for index, change in enumerate(book.month.announced):
        if change.last is not None and change.last < change.first:
            why = f"is before {change.first}, in which it begins"
            yield Fault("announced", index, "last", str(change.last), why, "Put one of the months right.")


def ranges_that_cannot_be(book: Book) -> Iterator[Fault]:
    """What is not certain rises from low to high; a price names its material, and nothing else does."""
    for index, row in enumerate(book.month.uncertain):
        if not row.low <= row.likely <= row.high:
            value = f"{row.low}, {row.likely}, {row.high}"
            yield Fault(
                "uncertain", index, "low", value, "do not rise", "Write low, likely and high, rising."
            )
        if row.what in PERCENTS and row.high > 100:
            yield Fault("uncertain", index, "high", f"{row.high} %", "is more than all", "Write at most 100.")
        if row.what is Unsure.PRICE and not row.item.strip():
            yield Fault("uncertain", index, "item", "", "it is not said whose price", "Name the material.")
        if row.what is not Unsure.PRICE and row.item.strip():
            why = f"has nothing to do with {row.what}"
            yield Fault("uncertain", index, "item", row.item, why, "Empty the cell.")
