"""The economic order quantity with all-units price breaks, for goods a club buys for the year."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from kits.catalogue import Terms


@dataclass(frozen=True, slots=True)
class Lot:
    """An order quantity and what a year of such orders costs."""

    quantity: int
    yearly_cost: Decimal


def cheapest_lot(terms: Terms, yearly: int, order_cost: Decimal, holding: Decimal, at_least: int = 1) -> Lot:
    """Return the order quantity of least yearly cost: goods + placing orders + holding half an order.

    Cost(Q) = D p(Q) + S D / Q + i p(Q) Q / 2. Between breaks it has one dip, at sqrt(2 D S / (i p)); the least is at a
    dip or at a break (Hadley and Whitin's rule for all-units discounts, from memory). Quantities are what the supplier
    sells, and at least `at_least`. yearly: units a year, above 0. holding: yearly share of the price, 0.2 for 20 %.
    """
    lots = (
        Lot(quantity, yearly_cost(terms, quantity, yearly, order_cost, holding))
        for quantity in candidates(terms, yearly, order_cost, holding, at_least)
    )
    return min(lots, key=lambda lot: (lot.yearly_cost, lot.quantity))


def yearly_cost(terms: Terms, quantity: int, yearly: int, order_cost: Decimal, holding: Decimal) -> Decimal:
    """Return what a year costs when `quantity` is ordered each time."""
    price = terms.price(quantity)
    return yearly * price + order_cost * yearly / quantity + holding * price * quantity / 2


def candidates(
    terms: Terms, yearly: int, order_cost: Decimal, holding: Decimal, at_least: int
) -> Iterator[int]:
    """Yield quantities among which the cheapest is: the floor, each break, and the grid points around each dip."""
    yield terms.at_least(at_least)
    for one in terms.breaks:
        yield terms.at_least(max(at_least, one.from_quantity))
        if holding * one.price > 0:
            dip = int((2 * yearly * order_cost / (holding * one.price)).sqrt())
            below = max(dip - dip % terms.grid, at_least)
            yield terms.at_least(below)
            yield terms.at_least(max(dip + 1, at_least))
