"""The roster counted: how many subscribers of each kind there are, and how many in each chunk of it."""

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import repeat

from django.db import connection

from planning.calendar import YearMonth
from planning.listing.sql import Asks, beginning, large_statement, people, read_key
from planning.month import Month
from planning.problems import Destinations, occasions_of, profile_of, regions_of
from planning.roster import Contents, Occasions, Profile, RosterProblem, RosterResult, contents_for
from planning.roster.boxes import Filled
from planning.roster.model import Zones

CHUNK = {"postgresql": 50_000, "sqlite": 20_000}  # places in the roster; a second or two of work

COUNT = "SELECT position / {size:d} AS chunk, key, COUNT(*) FROM ({people}) p GROUP BY 1, 2"
BEGINNINGS = "SELECT DISTINCT s.country, {begins} FROM planning_subscriber s WHERE s.month_id = %(month)s"


@dataclass(frozen=True, slots=True)
class Chunk:
    """Places of the roster from `first` to before `end`. serial: of its first box; starts: boxes before it, by class."""

    first: int
    end: int
    serial: int
    starts: Mapping[int, int]


@dataclass(frozen=True, slots=True)
class Line:
    """A box that everyone with a key gets. number: its place among all that one person gets."""

    key: str
    number: int
    box_class: int


@dataclass(frozen=True, slots=True)
class CountedRoster:
    """What each key stands for, and how many have it. chunks: places in the roster -> key -> people, rising."""

    month: YearMonth
    occasions: Occasions
    asks: Asks
    profiles: Mapping[str, Profile]
    chunks: Mapping[tuple[int, int], Mapping[str, int]]

    @property
    def problem(self) -> RosterProblem:
        """The question of the roster step."""
        heads: Counter[Profile] = Counter()
        for counted in self.chunks.values():
            for key, count in counted.items():
                heads[self.profiles[key]] += count
        return RosterProblem(
            month=self.month,
            profiles=tuple(replace(profile, heads=count) for profile, count in heads.items()),
            occasions=self.occasions,
        )

    def lines(self, roster: RosterResult, filled: Filled) -> tuple[Line, ...]:
        """Return what boxes each key gets, in the order in which the rule gives them."""
        classes = {(one.contents, one.zones, one.region): number for number, one in enumerate(roster.classes)}
        return tuple(
            Line(key, number, classes[contents, profile.zones, profile.region])
            for key, profile in self.profiles.items()
            for number, contents in enumerate(self.each_box(profile, filled))
        )

    def each_box(self, profile: Profile, filled: Filled) -> Iterator[Contents]:
        """Yield the contents of every box of one person."""
        for contents, copies in contents_for(profile, self.month, self.occasions, filled):
            yield from repeat(contents, copies)

    def starts(self, lines: Sequence[Line]) -> Iterator[Chunk]:
        """Yield the chunks with what comes before each, so that they can be listed in any order."""
        of_key: defaultdict[str, list[Line]] = defaultdict(list)
        for line in lines:
            of_key[line.key].append(line)
        before: Counter[int] = Counter()
        for (first, end), counted in self.chunks.items():
            yield Chunk(first, end, 1 + before.total(), dict(before))
            for key, heads in counted.items():
                for line in of_key[key]:
                    before[line.box_class] += heads


def count_roster(month_pk: int, month: Month, size: int | None = None) -> CountedRoster:
    """Count a month's roster where it lies. month: its book, without people; size: places in a chunk."""
    size, occasions = size or CHUNK[connection.vendor], occasions_of(month)
    destinations = Destinations(month.zones)
    asks = Asks.of(occasions, alike_postcodes(month_pk, destinations))
    chunks: defaultdict[tuple[int, int], dict[str, int]] = defaultdict(dict)
    with large_statement() as cursor:
        cursor.execute(COUNT.format(size=size, people=people(asks)), asks.values | {"month": month_pk})
        for chunk, key, heads in cursor:
            chunks[chunk * size, (chunk + 1) * size][key] = heads
    tiers, region = frozenset(tier.code for tier in month.tiers), regions_of(month)
    profiles = {}
    for key in dict.fromkeys(key for counted in chunks.values() for key in counted):
        one, orders = read_key(key)
        profiles[key] = profile_of(one, orders, destinations.of(one), tiers, occasions, region(one.country))
    return CountedRoster(month.club.month, occasions, asks, profiles, dict(sorted(chunks.items())))


def alike_postcodes(month_pk: int, destinations: Destinations) -> Iterator[tuple[str, str, str]]:
    """Yield how postcodes begin where zones go by them, each with one that stands for all in the same zones.

    So there are as many keys as zones, and not as many as postcodes.
    """
    lengths = {country: length for country, length in destinations.told_apart.items() if length}
    if not lengths:
        return
    with large_statement() as cursor:
        cursor.execute(BEGINNINGS.format(begins=beginning(lengths)), {"month": month_pk})
        found = sorted(row for row in cursor if row[0] in lengths)
    first: dict[tuple[str, Zones], str] = {}
    for country, begins in found:
        yield country, begins, first.setdefault((country, destinations.zones(country, begins)), begins)
