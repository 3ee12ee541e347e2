"""The economic order quantity with price breaks, for goods a club buys for the year."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from kits.catalogue import Breaks, Terms


@dataclass(frozen=True, slots=True)
class Lot:
    """An order quantity and what a year of such orders costs."""

    quantity: int
    yearly_cost: Decimal


def cheapest_lot(
    terms: Terms, yearly: int, order_cost: Decimal, holding: Decimal, at_least: int = 1
) -> Lot | None:
    """Return the order quantity of least yearly cost: goods + placing orders + holding half an order.

    Cost(Q) = D C(Q) / Q + S D / Q + i C(Q) / 2, where C(Q) is what the goods of one order cost. Between breaks it has one
    dip: with all-units breaks at sqrt(2 D S / (i p)), with incremental ones at sqrt(2 D (S + F) / (i p)), F being what an
    order pays above its last price. The least is at a dip or at a break (Hadley and Whitin's rules, from memory).
    Quantities are what the supplier sells, and at least `at_least`; None where it sells no such. yearly: units a year,
    above 0. holding: yearly share of the price, 0.2 for 20 %.
    """
    sold = {one for one in candidates(terms, yearly, order_cost, holding, at_least) if one <= terms.most}
    lots = (Lot(one, yearly_cost(terms, one, yearly, order_cost, holding)) for one in sold)
    return min(lots, key=lambda lot: (lot.yearly_cost, lot.quantity), default=None)


def yearly_cost(terms: Terms, quantity: int, yearly: int, order_cost: Decimal, holding: Decimal) -> Decimal:
    """Return what a year costs when `quantity` is ordered each time."""
    goods = terms.exact_goods(quantity)
    return yearly * goods / quantity + order_cost * yearly / quantity + holding * goods / 2


def candidates(
    terms: Terms, yearly: int, order_cost: Decimal, holding: Decimal, at_least: int
) -> Iterator[int]:
    """Yield quantities among which the cheapest is: the floor, each break, and the grid points around each dip."""
    yield terms.at_least(at_least)
    for one, above in zip(terms.breaks, paid_above(terms), strict=True):
        yield terms.at_least(max(at_least, one.from_quantity))
        if holding * one.price > 0:
            dip = int((2 * yearly * (order_cost + above) / (holding * one.price)).sqrt())
            below = max(dip - dip % terms.grid, at_least)
            yield terms.at_least(below)
            yield terms.at_least(max(dip + 1, at_least))


def paid_above(terms: Terms) -> Iterator[Decimal]:
    """Yield, break by break, what an order that reaches it pays above its units at that price."""
    above = Decimal(0)
    yield above
    for before, after in pairwise(terms.breaks):
        if terms.offer.breaks is Breaks.INCREMENTAL:
            above += (after.from_quantity - 1) * (before.price - after.price)
        yield max(above, Decimal(0))
