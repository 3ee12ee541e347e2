"""Rules for the roster: everyone who gets a box can be reached by some service."""

from collections import Counter
from collections.abc import Iterator

from planning.countries import COUNTRIES
from planning.faults.book import Book
from planning.faults.club import unknown_country
from planning.faults.limits import MOST_EACH
from planning.faults.model import Fault
from planning.month import Club

MOST_BOXES = 1_000_000  # of a month
MOST_WAVES = 25_000  # each is a file of slips and one of picks
ADD_ZONE = "Add its zone, with transit days and rates, to the sheets of these names."


def nobody(book: Book) -> Iterator[Fault]:
    """A roster has people on it."""
    if not book.month.subscribers and book.whole("subscribers"):
        yield Fault("subscribers", None, None, "", "there is nobody on it", "Add a row for each subscriber.")


def boxes_too_many(book: Book) -> Iterator[Fault]:
    """The month has no more boxes, and no more waves, than can be listed and printed."""
    kits = {tier.code for tier in book.month.tiers}
    boxes = sum(min(row.quantity, MOST_EACH) for row in book.month.subscribers if row.active)
    boxes += sum(row.count for row in book.month.orders if row.item in kits)
    yield from too_many(boxes, book.month.club)


def too_many(boxes: int, club: Club) -> Iterator[Fault]:
    """Word the fault of more boxes, or waves, than a month may have."""
    wave = max(club.wave_size, 1)
    if boxes > MOST_BOXES:
        why = f"is more than a month may have, {MOST_BOXES:,}"
        yield Fault("subscribers", None, "quantity", f"{boxes:,} boxes in all", why, "Correct the counts.")
    elif boxes > MOST_WAVES * wave:
        why = f"makes {-(-boxes // wave):,} waves of {boxes:,} boxes, more than {MOST_WAVES:,}"
        advice = f"Write {-(-boxes // MOST_WAVES):,} or more."
        yield Fault("club", None, club.wave_setting, f"{wave:,}", why, advice)


def unknown_countries(book: Book) -> Iterator[Fault]:
    """Countries are written as their codes."""
    for table in ("subscribers", "zones"):
        for index, row in enumerate(book.rows(table)):
            yield from unknown_country(table, index, row.country)


def countries_out_of_reach(book: Book) -> Iterator[Fault]:
    """Every country with an active subscriber has a zone to which some service goes; told once a country."""
    active = [(index, row.country) for index, row in enumerate(book.month.subscribers) if row.active]
    heads = Counter(country for _, country in active)
    first = {country: index for index, country in reversed(active)}
    for country, index in first.items():
        if country in COUNTRIES and (why := out_of_reach(country, book)):
            people = (
                "1 active subscriber" if heads[country] == 1 else f"{heads[country]:,} active subscribers"
            )
            value = f"{country} ({COUNTRIES[country]}, {people})"
            yield Fault("subscribers", index, "country", value, why, ADD_ZONE)


def rows_out_of_reach(book: Book) -> Iterator[Fault]:
    """Every active subscriber is in a country to which some service goes; told of each."""
    active = [(index, row.country) for index, row in enumerate(book.month.subscribers) if row.active]
    why = {
        country: out_of_reach(country, book)
        for country in {country for _, country in active} & COUNTRIES.keys()
    }
    for index, country in active:
        if why.get(country):
            value = f"{country} ({COUNTRIES[country]})"
            yield Fault("subscribers", index, "country", value, why[country], ADD_ZONE)


def out_of_reach(country: str, book: Book) -> str:
    """Say why no service goes to a country, nothing if one does or one might."""
    if not book.whole("zones", "services"):
        return ""
    places = [(row.carrier, row.zone) for row in book.month.zones if row.country == country]
    if not places:
        return "has no zone at any carrier"
    for carrier, zone in places:
        for service in book.services_by_carrier.get(carrier, ()):
            key = service, zone
            # a service with one of the two is told on its own row
            if any(book.knows(table, ("service", "zone"), key) for table in ("transits", "rates")):
                return ""
    names = " or ".join(f"{zone} of {carrier}" for carrier, zone in places)
    return f"lies in {names}, where no service has transit days and rates"
