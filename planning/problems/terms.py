"""Suppliers' offers joined with their price breaks."""

from collections import defaultdict
from collections.abc import Iterator

from kits.catalogue import PriceBreak
from planning.buying import Terms
from planning.month import Month


def terms_of(month: Month) -> Iterator[Terms]:
    """Yield each offer with its breaks; an offer without a price is none."""
    breaks: defaultdict[str, list[PriceBreak]] = defaultdict(list)
    for row in month.price_breaks:
        breaks[row.offer].append(row)
    for offer in month.offers:
        if breaks[offer.code]:
            rising = sorted(breaks[offer.code], key=lambda row: row.from_quantity)
            yield Terms(offer=offer, breaks=tuple(rising))
