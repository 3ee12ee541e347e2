"""Rules for what is not known yet: later months, spoilage, the count, and what may stand in for what."""

from collections import defaultdict
from collections.abc import Iterator
from itertools import pairwise

from planning.faults.book import Book
from planning.faults.model import Fault
from planning.overs.rows import Outlook
from planning.overs.spoilage import Base
from planning.problems.forecast import AHEAD, is_forecast, is_told

FARTHEST = 24  # months ahead


def forecasts_of_no_later_month(book: Book) -> Iterator[Fault]:
    """A forecast is of a month after this one, and not farther off than anybody plans."""
    if not book.whole("club"):
        return
    this = book.month.club.month
    for index, row in enumerate(book.month.forecasts):
        away = 12 * (row.needed_in.year - this.year) + row.needed_in.month - this.month
        if not 1 <= away <= FARTHEST:
            why = "is not a later month" if away < 1 else f"is more than {FARTHEST} months ahead"
            advice = f"Write one after {this.title}. What this month needs is worked out from its kit."
            yield Fault("forecasts", index, "needed_in", str(row.needed_in), why, advice)
        elif row.units is None and book.whole("past") and not is_forecast(book.month, row.needed_in):
            why = f"for {row.needed_in} are not written, and no count is forecast for that month"
            advice = f"Write them, or fill in Past months: {AHEAD} months from {this} on are then forecast."
            yield Fault("forecasts", index, "units", "", why, advice)


def spoilage_that_leaves_nothing(book: Book) -> Iterator[Fault]:
    """An operation leaves something good."""
    for index, row in enumerate(book.month.spoilages):
        if row.base is Base.START and row.percent >= 100:
            advice = "Write less than 100, or a percentage of the good."
            yield Fault(
                "spoilages", index, "percent", f"{row.percent} %", "of the start leaves nothing good", advice
            )


def outlooks_half_told(book: Book) -> Iterator[Fault]:
    """An outlook has low, likely and high, rising, or else its tier has rows of quantiles."""
    for index, row in enumerate(book.month.outlooks):
        told = [one for one in (row.low, row.likely, row.high) if one is not None]
        has_quantiles = book.knows("quantiles", ("tier",), (row.tier,))
        if 0 < len(told) < 3:
            yield missing(index, row)
        elif not told and not has_quantiles and book.whole("past") and not is_told(book.month):
            why = f"{row.tier} has neither low, likely and high nor rows on Count quantiles"
            advice = "Fill in one of them, or two months or more of Past months to have it forecast."
            yield Fault("outlooks", index, "low", "", why, advice)
        elif told != sorted(told):
            value = ", ".join(f"{one:,}" for one in told)
            yield Fault("outlooks", index, "low", value, "do not rise", "Write low, likely and high, rising.")
        elif told and any(one.tier == row.tier for one in book.month.quantiles):
            why = f"{row.tier} has rows on Count quantiles too"
            yield Fault("outlooks", index, "low", "", why, "Keep one of the two.")


def missing(index: int, row: Outlook) -> Fault:
    """Word the fault of an outlook with some of its three numbers."""
    field = next(name for name in ("low", "likely", "high") if getattr(row, name) is None)
    why = f"low, likely and high of {row.tier} belong together"
    return Fault("outlooks", index, field, "", why, "Fill all three in, or empty them all.")


def quantiles_out_of_order(book: Book) -> Iterator[Fault]:
    """A tier has at least two quantiles, written from the smallest chance up, and with the chances rise the counts."""
    rows: defaultdict[str, list[int]] = defaultdict(list)
    for index, row in enumerate(book.month.quantiles):
        rows[row.tier].append(index)
    for tier, own in rows.items():
        if len(own) < 2 and book.whole("quantiles"):
            why = f"{tier} has one quantile only"
            yield Fault("quantiles", own[0], "percent", "", why, "Write at least two, such as 10 % and 90 %.")
        for before, index in pairwise(own):
            one, two = book.month.quantiles[before], book.month.quantiles[index]
            if two.percent <= one.percent or two.boxes < one.boxes:
                value = f"{two.percent} %, {two.boxes:,} boxes"
                why = f"does not rise from {one.percent} %, {one.boxes:,} boxes"
                yield Fault("quantiles", index, "percent", value, why, "Write the rows of a tier rising.")


def substitutes_for_themselves(book: Book) -> Iterator[Fault]:
    """What stands in for a material is another one."""
    for index, row in enumerate(book.month.substitutes):
        if row.material and row.material == row.instead:
            yield Fault(
                "substitutes", index, "instead", row.instead, "is the material itself", "Name another one."
            )
