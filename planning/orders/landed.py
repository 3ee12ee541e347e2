"""Landed cost: what a line's goods cost once they are on the shelf.

Price, transport and handling, and taxes that are not recovered (IAS 2, paragraph 11). Set-up goes to the material it is
charged for, freight to all goods by their amount, each by largest remainder: the parts always sum to the cost of the order.
"""

from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction

from kits.measures import round_money, split
from planning.orders.model import NOTHING, LineKind, Order, OrderLine, Received
from planning.orders.tax import line_taxes


def landed(order: Order) -> Mapping[int, Decimal]:
    """Return the landed cost of each line of goods, by its key."""
    goods, taxes = order.goods, line_taxes(order)
    costs = {one.key: own_cost(one, taxes) for one in goods}
    for charge in order.lines:
        if charge.kind is LineKind.GOODS or not goods:
            continue
        bearers = [one for one in goods if one.material == charge.material] or list(goods)
        weights = [one.amount for one in bearers]
        if not any(weights):
            weights = [Decimal(one.quantity) for one in bearers]
        parts = split(own_cost(charge, taxes), weights, order.exponent)
        for one, part in zip(bearers, parts, strict=True):
            costs[one.key] += part
    return costs


def own_cost(line: OrderLine, taxes: Mapping[int, Decimal]) -> Decimal:
    """Return what a line costs by itself: its amount, and its tax where that is not recovered."""
    return line.amount + (Decimal(0) if line.recovered else taxes[line.key])


def value_of(order: Order, line: OrderLine, good: int, before: Received = NOTHING) -> Decimal:
    """Return what `good` more units of a line cost, landed, after what was received before.

    Receipts add up to the line's landed cost to the cent once all ordered units are in, however they are parted and
    whatever an amended order changed between them; units beyond the order cost their price and tax, without charges.
    """
    whole, taxes = landed(order)[line.key], line_taxes(order)
    after = before.good + good
    within = Fraction(whole) * min(after, line.quantity) / line.quantity
    beyond = Fraction(own_cost(line, taxes)) * max(0, after - line.quantity) / line.quantity
    return max(Decimal(0), round_money(within + beyond, order.exponent) - before.value)


def charges_left(order: Order, received: Mapping[int, Received]) -> Decimal:
    """Return the charges that lie on units which did not come: set-up and freight are paid whatever comes."""
    taxes, whole = line_taxes(order), landed(order)
    left = Fraction(0)
    for one in order.goods:
        missing = max(0, one.quantity - received.get(one.key, NOTHING).good)
        left += Fraction(whole[one.key] - own_cost(one, taxes)) * missing / one.quantity
    return round_money(left, order.exponent)
