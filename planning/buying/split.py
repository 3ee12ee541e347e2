"""The cheapest way to have one material from several suppliers at once, by dynamic programming over the units had so far.

Between two prices of an offer every lot more costs the same, so the best number of lots is a minimum over a window that
slides along. Sums are whole millionths of the club's money. Lines are rounded to a coin: a small table holds each line as it
is rounded; a large one takes half a coin off each, so that its last figure is still the least that any parts cost.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import ceil, gcd
from typing import Any

from planning.buying.options import Lack, Option
from planning.buying.orders import Part, Parts

MILLIONTHS = 10**6
MOST_UNITS = 300_000  # of a need, in common lots: beyond, the table would take seconds
MOST_COST = 2**60  # of all of a table, so that its sums are whole numbers of 64 bits
SMALL = 30_000_000  # units times lots of a table that is filled in line by line: a tenth of a second


@dataclass(frozen=True, slots=True)
class Span:
    """Orders of one option that reach one price: `first` units for `cost`, and up to `lots` lots more for `more` each.

    coin: the smallest of the club's money, where the goods are rounded to it; worth: of one unit.
    """

    option: Option
    first: int
    lots: int
    lot: int
    cost: int
    more: int
    coin: int
    worth: int

    @property
    def rounds(self) -> bool:
        """Whether some order of it costs other than whole coins."""
        goods = (self.cost + self.worth * self.first, self.more + self.worth * self.lot)
        return any(amount % self.coin for amount in goods)

    def costs(self, lots: int) -> int:
        """Return what an order of so many lots more costs, its goods rounded half up, less the worth of its units."""
        units = self.first + lots * self.lot
        paid = self.cost + lots * self.more + self.worth * units
        return (2 * paid + self.coin) // (2 * self.coin) * self.coin - self.worth * units


@dataclass(frozen=True, slots=True)
class Split:
    """The cheapest parts. least: what no parts cost less than, the worth of what they leave over taken off."""

    parts: Parts
    least: Decimal


def cheapest_split(
    lack: Lack, exponent: int, without: frozenset[str] = frozenset(), *, roughly: bool = False
) -> Split | None:
    """Return the cheapest parts for one lack. exponent: decimals of the money. without: suppliers not to order from.

    roughly: half a coin off each line will do, whatever the size of the table. None where they do not have as many, or where
    the table would be too large.
    """
    options = [one for one in lack.options if one.terms.offer.supplier not in without]
    if sum(min(one.terms.most, lack.target) for one in options) < lack.target:
        return None
    unit = gcd(*(one.terms.grid for one in options))
    spans = [list(spans_of(one, lack, unit, MILLIONTHS // 10**exponent)) for one in options]
    wanted = ceil(lack.target / unit)
    if (
        wanted > MOST_UNITS
        or sum(span.cost + span.lots * span.more for one in spans for span in one) > MOST_COST
    ):
        return None
    exact = not roughly and wanted * sum(span.lots + 1 for one in spans for span in one) <= SMALL
    table = filled_in(spans, wanted, exact)
    orders = reversed(tuple(traced(spans, table, wanted, exact)))
    parts = tuple(Part(option, units * unit) for option, units in orders)
    return Split(parts, Decimal(int(table[-1][wanted])) / MILLIONTHS + lack.worth * lack.net)


def spans_of(option: Option, lack: Lack, unit: int, coin: int) -> Iterator[Span]:
    """Yield an option's orders, price by price, up to all that is wanted; worth of leftovers is taken off each unit."""
    terms = option.terms
    for number, one in enumerate(terms.breaks):
        first = terms.at_least(one.from_quantity)
        ends = terms.breaks[number + 1].from_quantity - 1 if number + 1 < len(terms.breaks) else terms.most
        most = min(ends // terms.grid * terms.grid, terms.most, max(first, terms.at_least(lack.target)))
        if first <= most:
            cost = terms.exact_goods(first) + terms.offer.setup_charge - lack.worth * first
            yield Span(
                option,
                first // unit,
                (most - first) // terms.grid,
                terms.grid // unit,
                int(cost * MILLIONTHS),
                int((one.price - lack.worth) * terms.grid * MILLIONTHS),
                coin,
                int(lack.worth * unit * MILLIONTHS),
            )


def filled_in(spans: Sequence[Sequence[Span]], wanted: int, exact: bool) -> list[Any]:
    """Return, option by option, what so many units cost at least with the options so far."""
    import numpy as np

    least = np.full(wanted + 1, MOST_COST, np.int64)
    least[0] = 0
    table = [least]
    for option in spans:
        least = table[-1].copy()
        for span in option:
            found = line_by_line(table[-1], span) if exact else with_span(table[-1], span)
            np.minimum(least, found, out=least)
        table.append(least)
    return table


def line_by_line(before: Any, span: Span) -> Any:
    """Return what so many units cost where they hold an order of one span, rounded to the coin."""
    import numpy as np

    least = np.full(len(before), MOST_COST, np.int64)
    for lots in range(span.lots + 1):
        units = span.first + lots * span.lot
        left = np.concatenate(
            [np.full(min(units, len(before)), before[0]), before[: max(0, len(before) - units)]]
        )
        np.minimum(least, left + span.costs(lots), out=least)
    return least


def with_span(before: Any, span: Span) -> Any:
    """Return what so many units cost at least where they hold an order of one span, half a coin taken off."""
    import numpy as np

    wanted = len(before) - 1
    rows = -(-(wanted + 1) // span.lot)
    covered = span.lots + 1  # rows of what is more than covered, which costs what nothing costs
    padded = np.full((rows + covered) * span.lot, MOST_COST, np.int64)
    padded[: covered * span.lot] = before[0]
    padded[covered * span.lot : covered * span.lot + wanted + 1] = before
    steps = np.arange(rows + covered, dtype=np.int64)[:, None] * span.more
    window = sliding_least(padded.reshape(-1, span.lot) - steps, span.lots + 1) + steps
    at = np.arange(wanted + 1) - span.first + covered * span.lot
    return np.where(at >= 0, window.reshape(-1)[np.maximum(at, 0)], before[0]) + smallest(span)


def smallest(span: Span) -> int:
    """Return what the smallest order of a span costs at least, however its lines are rounded."""
    return span.cost - span.coin // 2 if span.rounds else span.cost


def sliding_least(rows: Any, size: int) -> Any:
    """Return the least of each row and the `size` - 1 rows before it, column by column."""
    import numpy as np

    width = 1
    while 2 * width <= size:
        rows = np.concatenate([rows[:width], np.minimum(rows[width:], rows[:-width])])
        width *= 2
    if rest := size - width:
        rows = np.concatenate([rows[:rest], np.minimum(rows[rest:], rows[:-rest])])
    return rows


def traced(
    spans: Sequence[Sequence[Span]], table: Sequence[Any], wanted: int, exact: bool
) -> Iterator[tuple[Option, int]]:
    """Yield the orders behind the last figure of a table, the last option's first."""
    left = wanted
    for number in range(len(spans), 0, -1):
        before, cost = table[number - 1], int(table[number][left])
        if left and cost != int(before[left]):
            orders = orders_of(spans[number - 1], before, left, exact)
            span, units, _ = next(found for found in orders if found[2] == cost)
            yield span.option, units
            left = max(0, left - units)


def orders_of(spans: Sequence[Span], before: Any, left: int, exact: bool) -> Iterator[tuple[Span, int, int]]:
    """Yield the orders of one option with what so many units then cost."""
    for span in spans:
        for lots in range(span.lots + 1):
            units = span.first + lots * span.lot
            cost = span.costs(lots) if exact else smallest(span) + lots * span.more
            yield span, units, cost + int(before[max(0, left - units)])
            if units >= left:
                break
