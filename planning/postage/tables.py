"""Rate tables: the band of a weight, and gaps and overlaps in weights and in dates."""

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from fractions import Fraction
from itertools import accumulate

from kits.measures import format_weight
from planning.postage.errors import NoRateError
from planning.postage.model import Band, RateTable, Tariff, in_force

Span = tuple[Fraction, Fraction, Band]  # above, up to and including


def table_on(tariff: Tariff, day: date) -> RateTable:
    """Return the table that holds on a day; of several the one that began last. Raises NoRateError."""
    held = [table for table in tariff.tables if in_force(day, table.first, table.last)]
    if not held:
        raise NoRateError(f"{tariff.name} has no rate table for {day}: {known_dates(tariff)}")
    return max(held, key=lambda table: table.first or date.min)


def known_dates(tariff: Tariff) -> str:
    """Say from when to when a service has rates."""
    spans = [
        f"from {table.first or 'ever'} to {table.last or 'ever'}"
        for table in sorted(tariff.tables, key=start)
    ]
    return f"there are tables {', '.join(spans)}; add the one in force" if spans else "add one"


def spans(table: RateTable, zone: str) -> list[Span]:
    """Return the bands to a zone with where each begins, the lightest first."""
    bands = sorted((one for one in table.bands if one.zone == zone), key=lambda one: one.up_to)
    floors = [0, *(one.up_to for one in bands)]
    return [
        (Fraction(floor if one.over is None else one.over), Fraction(one.up_to), one)
        for floor, one in zip(floors, bands, strict=False)
    ]


def band_of(tariff: Tariff, table: RateTable, zone: str, grams: Fraction) -> Band:
    """Return the band that takes a weight. Raises NoRateError for a zone, a weight or a gap without one."""
    rows = spans(table, zone)
    for above, up_to, band in rows:
        if (above < grams or grams == above == 0) and grams <= up_to:
            return band
    raise NoRateError(f"{tariff.name} {why_no_band(rows, zone, grams)}")


def why_no_band(rows: list[Span], zone: str, grams: Fraction) -> str:
    """Say what a table lacks for a weight."""
    if not rows:
        return f"has no rate to zone {zone}: add its weight bands"
    weight, heaviest = format_weight(grams), max(up_to for _, up_to, _ in rows)
    if grams > heaviest:
        return f"goes up to {format_weight(heaviest)} to zone {zone}; {weight} is heavier than every band"
    return f"has a gap in its rates to zone {zone} where {weight} lies: add the missing band"


def tariff_faults(tariff: Tariff) -> Iterator[str]:
    """Yield gaps and overlaps of a service's tables, in dates and in weights."""
    if not tariff.tables:
        yield f"{tariff.name} has no rate table: add one"
    ordered = sorted(tariff.tables, key=start)
    latest = accumulate(ordered, later)
    for one, after in zip(latest, ordered[1:], strict=False):
        yield from date_faults(tariff, one, after)
    for table in tariff.tables:
        since = f"{tariff.name} from {table.first}" if table.first else tariff.name
        for zone in sorted({band.zone for band in table.bands}):
            yield from (f"{since}, zone {zone}: {fault}" for fault in band_faults(spans(table, zone)))


def date_faults(tariff: Tariff, one: RateTable, after: RateTable) -> Iterator[str]:
    """Yield what is wrong between the tables so far, which end with `one`, and the next."""
    begins, ends = start(after), end(one)
    if begins <= ends:
        yield f"{tariff.name}: two rate tables hold on {begins if after.first else ends}: end one before the other"
    elif ends + timedelta(1) < begins:
        missing = f"{ends + timedelta(1)} to {begins - timedelta(1)}"
        yield f"{tariff.name}: no rate table holds from {missing}: add one, or make the others meet"


def band_faults(rows: Iterable[Span]) -> Iterator[str]:
    """Yield where the bands to one zone leave a gap or overlap."""
    reached = Fraction(0)
    for above, up_to, _ in rows:
        if above > reached:
            yield f"no band takes more than {format_weight(reached)} up to {format_weight(above)}"
        elif above < reached or up_to == reached:
            both = min(up_to, reached)
            yield f"two bands take {format_weight(both)}: make one end where the other begins"
        reached = max(reached, up_to)


def start(table: RateTable) -> date:
    """Return the first day of a table."""
    return table.first or date.min


def end(table: RateTable) -> date:
    """Return the last day of a table."""
    return table.last or date.max


def later(one: RateTable, other: RateTable) -> RateTable:
    """Return the table that ends last."""
    return max(one, other, key=end)
