"""Where each carrier counts a destination to, by its country and postcode."""

from collections import defaultdict
from collections.abc import Iterable, Iterator

from planning.postage import Area, NoZoneError, ZoneChart, ZoneRow
from planning.postage.zones import bare
from planning.roster import Subscriber
from planning.roster.model import Zones
from planning.shipping.rows import Zone


def zone_row(row: Zone) -> ZoneRow:
    """Return a row of the month as postage reads it. Raises PostageError."""
    return ZoneRow(carrier=row.carrier, area=Area(row.country, row.prefix, row.last), zone=row.zone)


class Destinations:
    """A month's zones, looked up for people: a carrier without one zone for somebody does not go there."""

    def __init__(self, rows: Iterable[Zone]) -> None:
        zones = tuple(map(zone_row, rows))
        self.chart = ZoneChart(zones)
        self.carriers: defaultdict[str, list[str]] = defaultdict(list)
        for carrier, country in sorted({(one.carrier, one.area.country) for one in zones}):
            self.carriers[country].append(carrier)
        self.told_apart = {
            country: max(self.chart.longest[carrier, country] for carrier in carriers)
            for country, carriers in self.carriers.items()
        }
        self.known: dict[tuple[str, str], Zones] = {}

    def of(self, one: Subscriber) -> Zones:
        """Return the zones of a subscriber's address."""
        return self.zones(one.country, one.postcode)

    def zones(self, country: str, postcode: str) -> Zones:
        """Return the zone of a destination at each carrier that has one, by carrier."""
        key = country, bare(postcode)[: self.told_apart.get(country, 0)]
        if key not in self.known:
            self.known[key] = tuple(self._zones(*key))
        return self.known[key]

    def _zones(self, country: str, postcode: str) -> Iterator[tuple[str, str]]:
        for carrier in self.carriers.get(country, ()):
            try:
                yield carrier, self.chart.zone(carrier, country, postcode)
            except NoZoneError:
                continue
