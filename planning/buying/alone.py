"""Each need by itself: which open orders it counts on, and its cheapest order were it the only one.

What is on order already is not bought twice: where it comes late, the month waits for it, as it would for an order that is
late. Whether to pay for it again and be in time is for people to decide; the line says what that would cost. Open orders
that come late are left aside only where ordering without them is sooner and costs no more, as when a pack holds enough.
"""

from collections.abc import Iterable, Iterator
from datetime import date
from decimal import Decimal
from typing import NamedTuple

from kits.catalogue import OpenOrder
from planning.buying.lot import Lot, cheapest_lot
from planning.buying.model import BuyingProblem, Need
from planning.buying.options import Lack, Offers, Option
from planning.buying.orders import Part, Parts, Prices
from planning.buying.split import cheapest_split


class Again(NamedTuple):
    """Open orders a need waits for, ordered again from someone who is sooner."""

    lack: Lack
    parts: Parts


class Alone(NamedTuple):
    """What lacks of a need and its cheapest order by itself.

    least: no order of it costs less, the worth of what is left over taken off. a_year: what a year of such lots costs, of
    goods bought for the year. again: what would be sooner than open orders that come late.
    """

    lack: Lack
    parts: Parts
    least: Decimal = Decimal(0)
    a_year: Decimal | None = None
    again: Again | None = None

    @property
    def lot(self) -> Part | None:
        """What is ordered of goods bought for the year, which is decided already."""
        return self.parts[0] if self.a_year is not None else None


def alone(need: Need, problem: BuyingProblem, offers: Offers, prices: Prices) -> Alone:
    """Net a need against shelf and open orders, and order the rest as if it were the only need."""
    coming = tuple(counted(need, problem.open_orders))
    lack = offers.lack(need, coming)
    found = by_itself(lack, problem, prices)
    in_time = tuple(order for order in coming if order.due <= need.need_by)
    if in_time == coming:
        return found
    again = by_itself(offers.lack(need, in_time), problem, prices)
    sooner = bool(again.parts) and all_in(*again[:2]) < all_in(*found[:2])
    if sooner and cost(again.parts, prices) <= cost(found.parts, prices):
        return again
    return found._replace(again=Again(again.lack, again.parts) if sooner else None)


def counted(need: Need, orders: Iterable[OpenOrder]) -> Iterator[OpenOrder]:
    """Yield the open orders of a need: all that come in time, and of later ones as many as it takes to meet it."""
    lacking = need.wanted - need.there
    for order in sorted(orders, key=lambda one: one.due):
        if order.material == need.material and (order.due <= need.need_by or lacking > 0):
            yield order
            lacking -= order.quantity


def all_in(lack: Lack, parts: Parts) -> date:
    """Return the day on which the last of it comes where some is late, the first of all days where none is."""
    if sum(one.quantity for one in parts) < lack.net:
        return date.max
    days = [order.due for order in lack.coming if order.due > lack.need.need_by]
    days += [one.option.arrives for one in parts if one.option.late]
    return max(days, default=date.min)


def cost(parts: Parts, prices: Prices) -> Decimal:
    """Return what parts cost, set-up included."""
    return sum((prices.part(one) for one in parts), Decimal(0))


def by_itself(lack: Lack, problem: BuyingProblem, prices: Prices) -> Alone:
    """Return the cheapest order for one lack; goods bought for the year are compared by what a year of orders costs."""
    best = yearly(lack, problem) if lack.need.used_a_year else None
    if best is not None:
        parts: Parts = (Part(best[0], best[1].quantity),)
        return Alone(lack, parts, prices.parts(lack, parts), best[1].yearly_cost)
    split = cheapest_split(lack, problem.exponent) if lack.need.split and lack.target else None
    if split is not None:
        return Alone(lack, split.parts, split.least)
    parts = from_one(lack, prices) or filled(lack, prices)
    least = prices.parts(lack, parts) if not lack.need.split else cheapest_each(lack) * lack.target
    return Alone(lack, parts, least)


def from_one(lack: Lack, prices: Prices) -> Parts:
    """Return the cheapest order of one offer; nothing where none holds enough."""
    singles = [
        Part(option, quantity)
        for option in lack.options
        for quantity in option.terms.worth_weighing(lack.target)
    ]

    def rank(one: Part) -> tuple[Decimal, bool, date, int]:
        return prices.parts(lack, (one,)), one.option.late, one.option.arrives, one.quantity

    return (min(singles, key=rank),) if singles else ()


def cheapest_each(lack: Lack) -> Decimal:
    """Return what no unit costs less than, the worth of one left over taken off."""
    prices = (one.price for option in lack.options for one in option.terms.breaks)
    return min(prices, default=Decimal(0)) - lack.worth


def filled(lack: Lack, prices: Prices) -> Parts:
    """Take what each offer has, the one that is cheapest each first, until it is enough."""
    parts: list[Part] = []
    lacking = lack.target
    all_of_it = (Part(option, option.terms.at_least(lack.target)) for option in lack.options)
    sold = (Part(part.option, min(part.quantity, part.option.terms.most)) for part in all_of_it)
    for one in sorted(sold, key=lambda part: prices.part(part) / part.quantity):
        if lacking > 0:
            terms = one.option.terms
            parts.append(Part(one.option, min(terms.at_least(lacking), terms.most)))
            lacking -= parts[-1].quantity
    return tuple(parts)


def yearly(lack: Lack, problem: BuyingProblem) -> tuple[Option, Lot] | None:
    """Return the offer and the lot of least yearly cost, of goods bought for the year."""
    lots = [(option, lot) for option in lack.options if (lot := year_of(option, lack, problem)) is not None]
    return min(lots, key=lambda one: (one[1].yearly_cost, one[1].quantity), default=None)


def year_of(option: Option, lack: Lack, problem: BuyingProblem) -> Lot | None:
    """Return the cheapest lot of one offer."""
    placing = problem.order_cost + option.terms.offer.setup_charge
    used = lack.need.used_a_year or 0
    return cheapest_lot(option.terms, used, placing, problem.holding_percent / 100, lack.target)
