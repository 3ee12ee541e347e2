"""What the plan asks of an order: what it orders now, and what it counts on because it was ordered before."""

from collections.abc import Mapping
from dataclasses import replace

from planning.orders.draft import keyed_like, same, with_quantity
from planning.orders.model import LineKind, Order, OrderLine


def as_planned(fresh: Order | None, base: Order | None, more: Mapping[str, int]) -> Order | None:
    """Return an order as the plan would have it; None where there is neither a plan for it nor an order.

    fresh: what the plan orders of the supplier now. base: the order that would be changed. more: of each material, what the
    plan counts on from orders already made, less what other orders bring (below zero: the others bring more).
    An order of which the plan wants nothing any more has no lines.
    """
    like = fresh or base
    if like is None:
        return None
    lines = (wanted(one, fresh, base, more, like.exponent) for one in all_goods(fresh, base))
    goods = [line for line in lines if line is not None]
    if not goods:
        return replace(like, lines=())
    is_same = base is not None and {same(one): one.quantity for one in goods} == {
        same(one): one.quantity for one in base.goods
    }
    charged = base if is_same or fresh is None or not fresh.lines else fresh
    charges = [one for one in charged.lines if one.kind is not LineKind.GOODS] if charged else []
    asked = replace(like, lines=(*goods, *charges))
    return keyed_like(base, asked) if base else numbered(asked)


def all_goods(fresh: Order | None, base: Order | None) -> list[OrderLine]:
    """Return one line for each material and offer of either order."""
    lines = {same(one): one for one in (*(fresh.goods if fresh else ()), *(base.goods if base else ()))}
    return list(lines.values())


def wanted(
    line: OrderLine, fresh: Order | None, base: Order | None, more: Mapping[str, int], exponent: int
) -> OrderLine | None:
    """Return a line with the quantity that is wanted; None for none."""
    planned = {same(one): one for one in fresh.goods} if fresh else {}
    kept = {same(one): one for one in base.goods} if base else {}
    now = planned[same(line)].quantity if same(line) in planned else 0
    first = next((one for one in all_goods(fresh, base) if one.material == line.material), None)
    extra = more.get(line.material, 0) if first is not None and same(first) == same(line) else 0
    if now + extra <= 0:
        return None
    # The plan's price is for what it orders now; with what was ordered before, the order's own price is the better guess.
    source = (
        kept[same(line)] if same(line) in kept and (extra > 0 or now == 0) else planned.get(same(line), line)
    )
    return with_quantity(source, now + extra, exponent)


def numbered(order: Order) -> Order:
    """Return an order with its lines' keys counted from 1."""
    return replace(order, lines=tuple(replace(one, key=key) for key, one in enumerate(order.lines, 1)))
