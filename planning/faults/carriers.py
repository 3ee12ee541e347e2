"""Rules for carriers: services collect, and where one goes it says how long it takes and what it charges."""

from collections.abc import Iterator

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


def never_delivered(book: Book) -> Iterator[Fault]:
    """Parcels arrive somewhere on some weekday."""
    for index, row in enumerate(book.month.delivery_weeks):
        if not row.weekdays:
            why = f"nothing arrives in {row.country} on any day"
            yield Fault(
                "delivery_weeks", index, "weekdays", "", why, "Name the weekdays, or take the row out."
            )


def unknown_zones(book: Book) -> Iterator[Fault]:
    """A service's transit days, rates and surcharges are to zones its carrier has."""
    carriers = {row.code: row.carrier for row in book.month.services}
    for table in ("transits", "rates"):
        for index, row in enumerate(book.rows(table)):
            if row.service in carriers and row.zone.strip():
                yield from unknown_zone(table, index, "zone", row.zone, carriers[row.service], book)
    for index, one in enumerate(book.month.surcharges):
        for zone in one.zones if one.service in carriers else ():
            yield from unknown_zone("surcharges", index, "zones", zone, carriers[one.service], book)


def unknown_zone(table: str, index: int, field: str, zone: str, carrier: str, book: Book) -> Iterator[Fault]:
    """Yield the fault of a zone that a carrier does not have."""
    if not book.knows("zones", ("carrier", "zone"), (carrier, zone)):
        zones = {str(known) for one, known in book.keys("zones", "carrier", "zone") if one == carrier}
        advice = did_you_mean(zone, zones) or "Add it to the Zones sheet, or write one that is there."
        yield Fault(table, index, field, zone, f"is not a zone of {carrier}", advice)


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


def surcharges_of_nothing(book: Book) -> Iterator[Fault]:
    """A surcharge adds something."""
    for index, row in enumerate(book.month.surcharges):
        if not row.amount and not row.percent:
            advice = "Write an amount or a percentage, or take the row out."
            yield Fault("surcharges", index, "amount", row.name, "adds nothing", advice)


def sizes_that_nothing_has(book: Book) -> Iterator[Fault]:
    """What a service takes at least is no more than what it takes at most."""
    for index, row in enumerate(book.month.services):
        for least, most in (("min_longest", "max_longest"), ("min_second", "max_second")):
            low, high = getattr(row, least), getattr(row, most)
            if low is not None and high is not None and low > high:
                why = f"is more than {book.length(high)}, the most it takes"
                yield Fault("services", index, least, book.length(low), why, "Correct one of them.")
