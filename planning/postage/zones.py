"""Where a carrier counts a destination to: by country, and by how the postcode begins.

The row whose prefix says most of the postcode counts. A row without a prefix takes what is left of the country.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby
from string import ascii_lowercase, ascii_uppercase

from planning.countries import COUNTRIES, country_hint
from planning.postage.errors import NoZoneError, PostageError

BARE = str.maketrans(ascii_lowercase, ascii_uppercase, " -")


def bare(postcode: str) -> str:
    """Return a postcode in capitals without blanks and hyphens: carriers differ in where they put these.

    Only letters of ASCII are made capitals, so that a database can do the very same.
    """
    return postcode.translate(BARE)


@dataclass(frozen=True, slots=True, order=True)
class Area:
    """A country (ISO 3166-1 alpha-2), or the postcodes in it that begin with `prefix`, or from it to `last`.

    prefix and last are as long as each other, and compare as text: from 900 to 918, from AB to AL.
    """

    country: str
    prefix: str = ""
    last: str = ""

    def __post_init__(self) -> None:
        if self.country not in COUNTRIES:
            raise PostageError(f"{self.country!r} is no country code of ISO 3166-1{hint(self.country)}")
        first, last = bare(self.prefix), bare(self.last)
        if self.prefix and not first:
            raise PostageError(f"no postcode begins with {self.prefix!r}: write letters and digits")
        if last and (len(first) != len(last) or first > last):
            raise PostageError(
                f"{self.prefix} to {self.last} is no span of postcodes: write such as 900 to 918"
            )

    @property
    def span(self) -> tuple[str, str]:
        """How the first and the last of its postcodes begin."""
        return bare(self.prefix), bare(self.last) or bare(self.prefix)

    def covers(self, country: str, postcode: str) -> bool:
        """Tell whether a destination lies in it."""
        first, last = self.span
        begins = bare(postcode)[: len(first)]
        return country == self.country and len(begins) == len(first) and first <= begins <= last

    @property
    def words(self) -> str:
        """The area as messages show it."""
        first, last = self.span
        spoken = f"{COUNTRIES[self.country]} ({self.country})"
        return f"{spoken} {first}{f' to {last}' if last != first else ''}" if first else spoken


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneRow:
    """The zone a carrier counts an area to."""

    carrier: str
    area: Area
    zone: str


class ZoneChart:
    """The zones of all carriers, looked up once for all postcodes that begin alike."""

    def __init__(self, rows: Iterable[ZoneRow]) -> None:
        self.rows: defaultdict[tuple[str, str], list[tuple[str, str, str]]] = defaultdict(list)
        for row in rows:
            self.rows[row.carrier, row.area.country].append((*row.area.span, row.zone))
        self.longest = {key: max(len(first) for first, _, _ in kept) for key, kept in self.rows.items()}
        self.known: dict[tuple[str, str, str], frozenset[str]] = {}

    def zone(self, carrier: str, country: str, postcode: str = "") -> str:
        """Return the one zone of a destination. Raises NoZoneError that says which row to add or to take out."""
        if country not in COUNTRIES:
            raise NoZoneError(f"{country!r} is no country code of ISO 3166-1{hint(country)}")
        if (carrier, country) not in self.rows:
            where = Area(country).words
            raise NoZoneError(
                f"{carrier} has no zone for {where}: add a row for it to the zones of {carrier}"
            )
        zones = self.zones(carrier, country, bare(postcode))
        if len(zones) != 1:
            raise NoZoneError(f"{carrier} {why_not_one(country, postcode, sorted(zones))}")
        return min(zones)

    def zones(self, carrier: str, country: str, postcode: str) -> frozenset[str]:
        """Return the zones of the rows that say most of a bare postcode."""
        key = carrier, country, postcode[: self.longest[carrier, country]]
        if key not in self.known:
            says = [
                (len(first), zone)
                for first, last, zone in self.rows[carrier, country]
                if len(first) <= len(postcode) and first <= postcode[: len(first)] <= last
            ]
            most, _ = max(says, default=(0, ""))
            self.known[key] = frozenset(zone for length, zone in says if length == most)
        return self.known[key]


def why_not_one(country: str, postcode: str, zones: list[str]) -> str:
    """Say why a country that has rows leaves a destination without a zone of its own."""
    where = Area(country).words
    if not bare(postcode):
        return f"has zones by postcode in {where}, but the postcode is missing: fill it in"
    if not zones:
        return f"has no zone for postcode {postcode} in {where}: add its prefix, or a row without one for the rest"
    return f"counts postcode {postcode} in {where} to {' and '.join(zones)} at once: keep one of these rows"


def hint(country: str) -> str:
    """Ask whether another code was meant, where one is like it."""
    meant = country_hint(country)
    return f": write {meant} for {COUNTRIES[meant]}" if meant else ": write two letters, such as DE"


def zone_disputes(rows: Iterable[ZoneRow]) -> Iterator[tuple[ZoneRow, ZoneRow]]:
    """Yield pairs of rows that say as much of the same postcodes, and another zone."""
    ordered = sorted(rows, key=level)
    for _, alike in groupby(ordered, key=lambda row: level(row)[:3]):
        reach: ZoneRow | None = None
        for row in alike:
            if reach and row.area.span[0] <= reach.area.span[1] and row.zone != reach.zone:
                yield reach, row
            reach = row if reach is None or row.area.span[1] > reach.area.span[1] else reach


def level(row: ZoneRow) -> tuple[str, str, int, tuple[str, str], str]:
    """Put rows that may dispute the same postcodes side by side."""
    return row.carrier, row.area.country, len(row.area.span[0]), row.area.span, row.zone
