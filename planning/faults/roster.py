"""Rules for the roster: everyone who gets a box can be reached by some service."""

from collections import Counter
from collections.abc import Iterator
from typing import TypeAlias

from planning.countries import COUNTRIES
from planning.faults.book import Book
from planning.faults.club import unknown_country
from planning.faults.limits import MOST_EACH
from planning.faults.model import Fault
from planning.month import Club
from planning.postage import NoZoneError
from planning.postage.zones import bare
from planning.roster.rows import Subscriber

Place: TypeAlias = tuple[str, str]  # a country, and how the postcode begins where zones go by it

MOST_BOXES = 1_000_000  # of a month
MOST_WAVES = 25_000  # each is a file of slips and one of picks
MAY_SAY_NOTHING = ("days_off", "week")  # of a country: the club's, or all
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
    for table in ("subscribers", "zones", "delivery_weeks", "days_off", "week"):
        for index, row in enumerate(book.rows(table)):
            if row.country or table not in MAY_SAY_NOTHING:
                yield from unknown_country(table, index, row.country)


def countries_out_of_reach(book: Book) -> Iterator[Fault]:
    """Every place with an active subscriber has a zone to which some service goes; told once a place."""
    active = [(index, place_of(row, book)) for index, row in enumerate(book.month.subscribers) if row.active]
    heads = Counter(place for _, place in active)
    first = {place: index for index, place in reversed(active)}
    for place, index in first.items():
        if place[0] in COUNTRIES and (why := out_of_reach(place, book)):
            people = "1 active subscriber" if heads[place] == 1 else f"{heads[place]:,} active subscribers"
            yield unreached(index, place, people, why)


def rows_out_of_reach(book: Book) -> Iterator[Fault]:
    """Every active subscriber is in a place to which some service goes; told of each."""
    active = [(index, place_of(row, book)) for index, row in enumerate(book.month.subscribers) if row.active]
    why = {place: out_of_reach(place, book) for place in {place for _, place in active}}
    for index, place in active:
        if place[0] in COUNTRIES and why[place]:
            yield unreached(index, place, "", why[place])


def place_of(row: Subscriber, book: Book) -> Place:
    """Return a country, with as much of the postcode as any carrier's zones there go by."""
    return row.country, bare(row.postcode)[: book.told_apart.get(row.country, 0)]


def unreached(index: int, place: Place, people: str, why: str) -> Fault:
    """Word the fault of a place to which no service goes."""
    country, postcode = place
    where = [
        COUNTRIES[country],
        *([f"postcode {postcode}"] if postcode else []),
        *([people] if people else []),
    ]
    field = "postcode" if postcode else "country"
    return Fault("subscribers", index, field, f"{country} ({', '.join(where)})", why, ADD_ZONE)


def out_of_reach(place: Place, book: Book) -> str:
    """Say why no service goes to a place, nothing if one does or one might."""
    if not book.whole("zones", "services"):
        return ""
    places, without = zones_of(place, book)
    for carrier, zone in places:
        for service in book.services_by_carrier.get(carrier, ()):
            key = service, zone
            # a service with one of the two is told on its own row
            if any(book.knows(table, ("service", "zone"), key) for table in ("transits", "rates")):
                return ""
    if not places:
        reasons = f": {'; '.join(without)}" if without else ""
        return f"has no zone at any carrier{reasons}"
    names = " or ".join(f"{zone} of {carrier}" for carrier, zone in places)
    return f"lies in {names}, where no service has transit days and rates"


def zones_of(place: Place, book: Book) -> tuple[list[tuple[str, str]], list[str]]:
    """Return the zones of a place by carrier, and why a carrier that goes to its country has none."""
    places, without = [], []
    for carrier, country in book.zones.rows:
        if country == place[0]:
            try:
                places.append((carrier, book.zones.zone(carrier, *place)))
            except NoZoneError as error:
                without.append(str(error))
    return places, without
