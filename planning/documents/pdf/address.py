"""Addresses as an envelope has them."""

from collections.abc import Iterator

from planning.countries import COUNTRIES
from planning.documents.pdf.fonts import printable, unprintable
from planning.roster import Subscriber

# Where the postcode stands behind the town and not before it (common practice, no source).
CODE_BEHIND_TOWN = frozenset(("AU", "CA", "GB", "IE", "IN", "NZ", "US", "ZA"))


def address_lines(subscriber: Subscriber) -> tuple[str, ...]:
    """Return the lines below the name that hold something; the country last, in capitals."""
    parts = (part for line in raw_lines(subscriber) for part in line.splitlines())
    return tuple(tidy for part in parts if (tidy := printable(part).strip()))


def raw_lines(subscriber: Subscriber) -> Iterator[str]:
    """Yield the lines as the roster has them."""
    yield from (subscriber.address_1, subscriber.address_2, subscriber.address_3)
    yield from town_lines(subscriber)
    yield COUNTRIES.get(subscriber.country, subscriber.country).upper()


def town_lines(subscriber: Subscriber) -> Iterator[str]:
    """Yield town, region and postcode in the order of the country."""
    if subscriber.country in CODE_BEHIND_TOWN:
        town = ", ".join(filter(None, (subscriber.city, subscriber.region)))
        yield f"{town} {subscriber.postcode}"
    else:
        yield f"{subscriber.postcode} {subscriber.city}"
        yield subscriber.region


def lacking(subscriber: Subscriber) -> set[str]:
    """Return the characters of name and address that the papers cannot show."""
    return unprintable(subscriber.name + "".join(raw_lines(subscriber)))
