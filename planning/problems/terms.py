"""Suppliers' offers joined with their price breaks, and which of them come in time."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import date

from kits.catalogue import PriceBreak, Terms
from planning.month import Month
from planning.problems.working_days import suppliers_calendar


def terms_of(month: Month) -> Iterator[Terms]:
    """Yield each offer with its breaks; an offer without a price is none."""
    breaks: defaultdict[str, list[PriceBreak]] = defaultdict(list)
    for row in month.price_breaks:
        breaks[row.offer].append(row)
    for offer in month.offers:
        if breaks[offer.code]:
            rising = sorted(breaks[offer.code], key=lambda row: row.from_quantity)
            yield Terms(offer=offer, breaks=tuple(rising))


def soonest(offers: Iterable[Terms], need_by: date, month: Month) -> tuple[tuple[Terms, ...], bool]:
    """Return the offers that come by a day, or where none does, those that come soonest; and whether they are late."""
    calendar, offers = suppliers_calendar(month), tuple(offers)
    in_time = tuple(
        one for one in offers if calendar.before(need_by, one.offer.lead_days) >= month.club.planned_on
    )
    if in_time or not offers:
        return in_time, False
    least = min(one.offer.lead_days for one in offers)
    return tuple(one for one in offers if one.offer.lead_days == least), True
