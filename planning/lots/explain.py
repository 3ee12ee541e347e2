"""A line of an order, and in plain words why it is as large as it is."""

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from kits.measures import format_amount, round_money
from planning.lots.costs import Pick, as_decimal
from planning.lots.model import LotLine
from planning.lots.net import Net


def line_of(pick: Pick, one: Net, picks: Sequence[Pick], periods: Sequence[str]) -> LotLine:
    """Return an order line; what is there first is used first."""
    met = met_by(pick, one, picks)
    last = max((period for period, units in enumerate(met) if units), default=pick.period)
    return LotLine(
        material=one.material.code,
        name=one.material.name,
        offer=pick.offer.code,
        quantity=pick.quantity,
        price=pick.offer.price(pick.quantity),
        goods=pick.offer.goods(pick.quantity),
        setup=as_decimal(pick.offer.setup_in(pick.period)),
        covers=last,
        why=why(pick, one, met, periods),
    )


def met_by(pick: Pick, one: Net, picks: Sequence[Pick]) -> list[int]:
    """Return how many units of an order go into what each period needs, first in, first out."""
    own = [each for each in picks if each.offer.material == one.material.code]
    own.sort(key=lambda each: (each.period, each.offer.code))
    before = sum(each.quantity for each in own[: own.index(pick)])
    met, needed = [], 0
    for units in one.orders:
        from_here = min(needed + units, before + pick.quantity) - max(needed, before)
        met.append(max(0, from_here))
        needed += units
    return met


def why(pick: Pick, one: Net, met: Sequence[int], periods: Sequence[str]) -> str:
    """Say what an order is for, and what keeping it until then costs."""
    used = [period for period, units in enumerate(met) if units]
    if not used:
        return f"{pick.quantity:,} at once reach the price of {format_price(pick)}"
    span = periods[used[0]] if used[0] == used[-1] else f"{periods[used[0]]} to {periods[used[-1]]}"
    said = [f"for {span}"]
    if over := pick.quantity - sum(met):
        said.append(f"{over:,} more {because(pick, sum(met))}")
    if kept := keeping(pick, one, met):
        said.append(f"keeping it until then costs {format_amount(round_money(kept))}")
    return "; ".join(said)


def because(pick: Pick, needed: int) -> str:
    """Say why more is ordered than is used."""
    least = pick.offer.at_least(needed)
    if pick.quantity > least:
        return f"reach the price of {format_price(pick)}"
    if least > -(-needed // pick.offer.pack) * pick.offer.pack:
        return "reach the supplier's minimum"
    return f"fill the last pack of {pick.offer.pack:,}"


def keeping(pick: Pick, one: Net, met: Sequence[int]) -> Fraction:
    """Return what keeping an order's units until the periods they are used in costs."""
    cost, left = Fraction(0), sum(met)
    for period in range(pick.period, len(met)):
        left -= met[period]
        cost += left * one.material.storage_in(period)
    return cost


def format_price(pick: Pick) -> str:
    """Return the price each of an order."""
    price: Decimal = pick.offer.price(pick.quantity)
    return f"{price:f} each"
