"""Rules for carriers: services collect, and where one goes it says how long it takes and what it charges."""

from collections.abc import Iterator
from fractions import Fraction

from kits.measures import format_weight
from planning.faults.book import Book
from planning.faults.hints import did_you_mean
from planning.faults.model import TITLES, Fault

PLACE = ("service", "zone")


def no_services(book: Book) -> Iterator[Fault]:
    """Boxes leave by some service."""
    if not book.month.services and book.whole("services"):
        advice = "Add a row for each way a box may be posted."
        yield Fault("services", None, None, "", "there is no service", advice)


def never_collected(book: Book) -> Iterator[Fault]:
    """A service collects on some weekday, be it one on which no parcel travels."""
    for index, row in enumerate(book.month.services):
        if not row.collects:
            advice = "Name the weekdays it collects on."
            yield Fault("services", index, "collects", "", f"{row.code} collects on no day", advice)


def unknown_zones(book: Book) -> Iterator[Fault]:
    """A service's transit days and rates are to zones its carrier has."""
    carriers = {row.code: row.carrier for row in book.month.services}
    for table in ("transits", "rates"):
        for index, row in enumerate(book.rows(table)):
            carrier = carriers.get(row.service)
            if carrier is None or not row.zone.strip():
                continue
            if not book.knows("zones", ("carrier", "zone"), (carrier, row.zone)):
                zones = {str(zone) for one, zone in book.keys("zones", "carrier", "zone") if one == carrier}
                advice = "Add it to the Zones sheet, or write one that is there."
                advice = did_you_mean(row.zone, zones) or advice
                yield Fault(table, index, "zone", row.zone, f"is not a zone of {carrier}", advice)


def half_served(book: Book) -> Iterator[Fault]:
    """Where a service goes it has both transit days and rates."""
    for table, other in (("transits", "rates"), ("rates", "transits")):
        told: set[tuple[str, str]] = set()
        for index, row in enumerate(book.rows(table)):
            place = row.service, row.zone
            if place in told or book.knows(other, PLACE, place):
                continue
            told.add(place)
            why = f"has no {'rates' if other == 'rates' else 'transit days'} by {row.service}"
            advice = f"Add them to the {TITLES[other]} sheet, or take it out here if {row.service} does not go there."
            yield Fault(table, index, "zone", row.zone, why, advice)


def rates_out_of_order(book: Book) -> Iterator[Fault]:
    """A service's rates to a zone are written from the lightest parcel up."""
    last: dict[tuple[str, str], int | Fraction] = {}
    for index, row in enumerate(book.month.rates):
        before = last.get((row.service, row.zone))
        if before is not None and row.up_to < before:
            out_of_order = f"so the rates of {row.service} to {row.zone} fall out of order"
            why = f"stands below {weight_text(before)}, {out_of_order}"
            advice = "Write the rates to a zone from the lightest parcel up."
            yield Fault("rates", index, "up_to", weight_text(row.up_to), why, advice)
        last[row.service, row.zone] = row.up_to


def weight_text(grams: int | Fraction) -> str:
    """Return a weight as people read it."""
    return format_weight(Fraction(grams)) if grams >= 0 else f"{grams} g"
