"""Rules for rate tables and zones: every weight and every day of the month has one rate, every postcode one zone."""

from collections import defaultdict
from collections.abc import Iterator
from datetime import date, timedelta
from fractions import Fraction
from itertools import pairwise
from typing import TypeAlias

from kits.measures import format_weight
from planning.calendar import Weekday
from planning.faults.book import Book
from planning.faults.model import Fault
from planning.postage import Area, PostageError, ZoneRow, zone_disputes
from planning.postage.dated import periods
from planning.postage.zones import bare
from planning.shipping.rows import Rate

Rows: TypeAlias = list[tuple[int, Rate]]
DAY = timedelta(days=1)


def groups(book: Book) -> dict[tuple[str, str, date | None], Rows]:
    """Return the rates to a zone that begin to hold together, with the places of their rows."""
    found: defaultdict[tuple[str, str, date | None], Rows] = defaultdict(list)
    for index, row in enumerate(book.month.rates):
        found[row.service, row.zone, row.valid_from].append((index, row))
    return found


def rates_out_of_order(book: Book) -> Iterator[Fault]:
    """A service's rates to a zone are written from the lightest parcel up."""
    for (service, zone, _), rows in groups(book).items():
        for (_, before), (index, row) in pairwise(rows):
            if row.up_to < before.up_to:
                why = f"stands below {weight_text(before.up_to)}, so the rates of {service} to {zone} fall out of order"
                advice = "Write the rates to a zone from the lightest parcel up."
                yield Fault("rates", index, "up_to", weight_text(row.up_to), why, advice)


def weights_without_rate(book: Book) -> Iterator[Fault]:
    """Each rate begins where the lighter one ends: no weight has none, and none has two."""
    if not book.whole("rates"):
        return
    for (service, zone, _), rows in groups(book).items():
        reached: int | Fraction = 0
        for index, row in sorted(rows, key=lambda one: one[1].up_to):
            if row.over is not None and row.over >= row.up_to:
                why = f"is not below {weight_text(row.up_to)}, up to which it holds"
                yield Fault("rates", index, "over", weight_text(row.over), why, "Correct one of them.")
            elif row.over is not None and row.over != reached:
                yield seam(index, row, reached, f"{service} to {zone}")
            reached = row.up_to


def seam(index: int, row: Rate, reached: int | Fraction, where: str) -> Fault:
    """Word the fault of a rate that does not begin where the lighter one ends."""
    over = row.over or 0
    if over > reached:
        why = f"leaves a gap: no rate of {where} takes more than {weight_text(reached)} up to {weight_text(over)}"
    else:
        why = f"takes what another rate of {where} takes, more than {weight_text(over)} up to {weight_text(reached)}"
    advice = f"Write {weight_text(reached)} here, or empty the cell." if reached else "Empty the cell."
    return Fault("rates", index, "over", weight_text(over), why, advice)


def weight_text(grams: int | Fraction) -> str:
    """Return a weight as people read it."""
    return format_weight(Fraction(grams)) if grams >= 0 else f"{grams} g"


def dates_of_rates(book: Book) -> Iterator[Fault]:
    """Rates and surcharges end after they begin; on every day of the month one table holds to a zone, and not two."""
    for table in ("rates", "surcharges"):
        for index, row in enumerate(book.rows(table)):
            if row.valid_from and row.valid_to and row.valid_to < row.valid_from:
                why = f"is before {row.valid_from:%-d %b %Y}, when it begins"
                yield Fault(
                    table, index, "valid_to", f"{row.valid_to:%-d %b %Y}", why, "Correct one of them."
                )
    if not book.whole("rates", "club"):
        return
    by_place: defaultdict[tuple[str, str], Rows] = defaultdict(list)
    for index, rate in enumerate(book.month.rates):
        by_place[rate.service, rate.zone].append((index, rate))
    for place, rows in by_place.items():
        if len({(row.valid_from, row.valid_to) for _, row in rows}) > 1:
            yield from seams_in_time(place, rows, book)


def seams_in_time(place: tuple[str, str], rows: Rows, book: Book) -> Iterator[Fault]:
    """Yield overlaps of the tables of one service to one zone, and gaps on days of the month."""
    service, zone = place
    first, last = book.month.club.packing_starts, book.month.club.promised.day(Weekday.SUN)
    for before, after in pairwise(periods([row for _, row in rows])):
        index = next(at for at, row in rows if row.valid_from == after[0])
        start, end = after[0] or date.min, before[1] or date.max
        if end >= start:
            why = f"begins while other rates of {service} to {zone} hold, to {end:%-d %b %Y}"
            yield Fault(
                "rates", index, "valid_from", f"{start:%-d %b %Y}", why, "Let one end before the other."
            )
        elif end + DAY < start and end + DAY <= last and first < start:
            why = f"leaves {service} to {zone} without rates from {end + DAY:%-d %b %Y} to {start - DAY:%-d %b %Y}"
            advice = "Make the two meet, or add the rates between."
            yield Fault("rates", index, "valid_from", f"{start:%-d %b %Y}", why, advice)


# --- Zones ---


def spans_of_postcodes(book: Book) -> Iterator[Fault]:
    """A span of postcodes has two ends of one length, and only a span has a second end."""
    for index, row in enumerate(book.month.zones):
        if row.last and not row.prefix:
            why = "ends a span of postcodes that does not begin"
            yield Fault("zones", index, "last", row.last, why, "Write where it begins, or empty the cell.")
        elif row.prefix and not any(map(str.isalnum, row.prefix)):
            advice = "Write letters and digits, like BT or 900."
            yield Fault("zones", index, "prefix", row.prefix, "is the beginning of no postcode", advice)
        elif row.last and len(bare(row.prefix)) != len(bare(row.last)):
            why = f"is not as long as {row.prefix}, where the span begins"
            yield Fault("zones", index, "last", row.last, why, "Write two of one length, like 900 and 918.")
        elif row.last and bare(row.prefix) > bare(row.last):
            why = f"comes before {row.prefix}, where the span begins"
            yield Fault("zones", index, "last", row.last, why, "Write the lower one first.")


def postcodes_of_two_zones(book: Book) -> Iterator[Fault]:
    """No two rows that say as much of a postcode count it to different zones."""
    areas: list[tuple[int, ZoneRow]] = list(zone_rows(book))
    at = {id(row): index for index, row in areas}
    for first, second in zone_disputes([row for _, row in areas]):
        if first.area == second.area:
            continue  # a row that is there twice is told as that
        why = (
            f"counts {second.area.words} to {second.zone}, and another row {first.area.words} to {first.zone}"
        )
        advice = "Take one out, or make them not overlap."
        yield Fault("zones", at[id(second)], "prefix", second.area.prefix, why, advice, at[id(first)])


def zone_rows(book: Book) -> Iterator[tuple[int, ZoneRow]]:
    """Yield the rows of zones that can be, with their places."""
    for index, row in enumerate(book.month.zones):
        try:
            area = Area(row.country, row.prefix, row.last)
        except PostageError:
            continue
        yield index, ZoneRow(carrier=row.carrier, area=area, zone=row.zone)
