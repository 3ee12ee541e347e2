"""Tax by rate and by line.

Tax is worked out once for each rate, from the sum of what is taxed at it, and rounded once (EN 16931-1, rule BR-CO-17); the
lines share it by largest remainder, so that they always add up to what the supplier's invoice says.
"""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from kits.measures import round_money, split
from planning.orders.model import Order, OrderLine


@dataclass(frozen=True, slots=True, kw_only=True)
class TaxLine:
    """The tax of one rate. base: what is taxed. recovered: the part the club gets back."""

    rate: Decimal
    base: Decimal
    tax: Decimal
    recovered: Decimal

    @property
    def cost(self) -> Decimal:
        """The part that stays with the club."""
        return self.tax - self.recovered


def line_taxes(order: Order) -> Mapping[int, Decimal]:
    """Return the tax of each line, by its key."""
    taxes: dict[int, Decimal] = {}
    for rate, lines in by_rate(order).items():
        base = sum((one.amount for one in lines), Decimal(0))
        tax = round_money(Fraction(base) * Fraction(rate) / 100, order.exponent)
        weights = [one.amount for one in lines]
        parts = split(tax, weights, order.exponent) if tax else [tax] * len(lines)
        taxes |= dict(zip((one.key for one in lines), parts, strict=True))
    return taxes


def tax_table(order: Order) -> tuple[TaxLine, ...]:
    """Return the tax of the order, the highest rate first; lines without tax are left out."""
    taxes, nothing = line_taxes(order), round_money(0, order.exponent)
    return tuple(
        TaxLine(
            rate=rate,
            base=sum((one.amount for one in lines), Decimal(0)),
            tax=sum((taxes[one.key] for one in lines), Decimal(0)),
            recovered=sum((taxes[one.key] for one in lines if one.recovered), nothing),
        )
        for rate, lines in by_rate(order).items()
        if rate
    )


def by_rate(order: Order) -> Mapping[Decimal, list[OrderLine]]:
    """Return the lines of each rate, the highest first."""
    lines: defaultdict[Decimal, list[OrderLine]] = defaultdict(list)
    for one in order.lines:
        lines[one.tax_rate.normalize()].append(one)
    return dict(sorted(lines.items(), reverse=True))


def total_tax(order: Order) -> Decimal:
    """Return all tax of the order."""
    return sum((one.tax for one in tax_table(order)), Decimal(0))


def gross(order: Order) -> Decimal:
    """Return what is paid to the supplier."""
    return order.net + total_tax(order)


def cost(order: Order) -> Decimal:
    """Return what the order costs the club: all but the tax it gets back."""
    return order.net + sum((one.cost for one in tax_table(order)), Decimal(0))
