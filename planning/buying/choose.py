"""The rule of the buying step: for each material the cheapest single offer that comes in time.

More than is needed may cost less: an all-units price break reprices the whole order, so every break above the need is
weighed against ordering just enough. Freight is added to each supplier's order afterwards and does not steer the choice.

What is on order already is not bought twice: where it comes late, the month waits for it, as it would for an order that is
late. Whether to pay for it again and be in time is for people to decide; the line says what that would cost.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal

from kits.catalogue import OpenOrder, Supplier, Terms
from kits.measures import format_amount, round_money
from planning.buying.lot import cheapest_lot
from planning.buying.model import BuyingProblem, BuyingResult, BuyLine, Need, PriceRise, SupplierOrder

PROVED = (
    "proved: no single offer that comes in time is cheaper, material by material; freight is added to each order "
    "afterwards and does not steer the choice"
)


def plan_buying(problem: BuyingProblem) -> BuyingResult:
    """Decide every need and gather the lines into one order per supplier."""
    lines = tuple(buy(need, problem) for need in problem.needs)
    orders = tuple(
        order for supplier in problem.suppliers for order in order_from(supplier, lines, problem.exponent)
    )
    return BuyingResult(lines=lines, orders=orders, ended=PROVED, rises=tuple(price_rises(lines, problem)))


def buy(need: Need, problem: BuyingProblem) -> BuyLine:
    """Net one need against shelf and open orders, and buy the rest.

    Open orders that come late are left aside where ordering without them is sooner and costs no more, as when a pack holds
    enough for all.
    """
    line = ordered(need, tuple(counted(need, problem.open_orders)), problem)
    if not line.due_late:
        return line
    again = ordered(need, tuple(order for order in line.coming if order.due <= need.need_by), problem)
    is_sooner = again.offer is not None and (again.late_day or date.min) < (line.late_day or date.max)
    if is_sooner and again.cost <= line.cost:
        return again
    return replace(line, waits=waits(line, again if is_sooner else None, problem))


def counted(need: Need, orders: Iterable[OpenOrder]) -> Iterator[OpenOrder]:
    """Yield the open orders of a need: all that come in time, and of later ones as many as it takes to meet it."""
    lacking = need.total - need.on_hand
    for order in sorted(orders, key=lambda one: one.due):
        if order.material == need.material and (order.due <= need.need_by or lacking > 0):
            yield order
            lacking -= order.quantity


def ordered(need: Need, coming: tuple[OpenOrder, ...], problem: BuyingProblem) -> BuyLine:
    """Order what shelf and open orders leave, by the offer that is preferred."""
    on_order = sum(order.quantity for order in coming)
    net = max(0, need.total - need.on_hand - on_order)
    kept = BuyLine(need=need, coming=coming, net=net, reason=enough(need, on_order))
    if net == 0:
        return kept
    choices = [
        choice
        for terms in problem.terms
        if terms.offer.material == need.material
        for choice in weigh(kept, terms, problem)
    ]
    return min(choices, key=preference) if choices else replace(kept, reason="no supplier offers it")


def waits(line: BuyLine, again: BuyLine | None, problem: BuyingProblem) -> str:
    """Say which open orders come late, and what ordering again, where it is sooner, would bring and cost."""
    days = [f"{order.due:%-d %b %Y}" for order in line.coming if order.due > line.need.need_by]
    late = f"waits for {line.due_late:,} on order, due {' and '.join(days)}"
    if again is None or again.offer is None:
        return f"{late}; nobody offers it sooner"
    names = {one.code: one.name for one in problem.suppliers}
    supplier = names.get(again.offer.supplier, again.offer.supplier)
    when = f"arrive {again.arrives:%-d %b %Y}" if again.late else "be in time"
    more = format_amount(again.cost - line.cost, problem.exponent)
    return f"{late}; ordered again, {again.quantity:,} from {supplier} would {when} and cost {more} more"


def preference(line: BuyLine) -> tuple[bool, date, Decimal, int]:
    """Rank choices: in time before late, a late one by its day; then by cost, then the smaller quantity.

    Goods bought for the year are compared by what a year of such orders costs.
    """
    arrives = line.arrives or date.max
    cost = line.cost if line.a_year is None else line.a_year
    return line.late, arrives if line.late else date.min, cost, line.quantity


def weigh(kept: BuyLine, terms: Terms, problem: BuyingProblem) -> Iterator[BuyLine]:
    """Yield the order lines worth weighing of one offer: just enough, and each price break above."""
    least = terms.at_least(kept.net)
    plain = line_of(kept, terms, least, problem, plain=None)
    if kept.need.used_a_year:
        placing = problem.order_cost + terms.offer.setup_charge
        lot = cheapest_lot(terms, kept.need.used_a_year, placing, problem.holding_percent / 100, kept.net)
        yield replace(line_of(kept, terms, lot.quantity, problem, plain), a_year=lot.yearly_cost)
        return
    for quantity in terms.worth_weighing(kept.net):
        yield line_of(kept, terms, quantity, problem, plain)


def line_of(
    kept: BuyLine, terms: Terms, quantity: int, problem: BuyingProblem, plain: BuyLine | None
) -> BuyLine:
    """Price and date one order line. plain: the smallest order of the same offer, None when this is it."""
    offer, calendar = terms.offer, problem.calendar
    order_by = calendar.before(kept.need.need_by, offer.lead_days)
    late = order_by < problem.planned_on
    goods = terms.goods(quantity, problem.exponent)
    cost = goods + offer.setup_charge
    return replace(
        kept,
        offer=offer,
        quantity=quantity,
        price=terms.price(quantity),
        goods=goods,
        setup=offer.setup_charge,
        plain=plain.cost if plain else cost,
        order_by=order_by,
        arrives=calendar.after(calendar.on_or_after(max(order_by, problem.planned_on)), offer.lead_days),
        late=late,
        reason=why(kept, terms, quantity, plain.cost - cost if plain else Decimal(0), problem.exponent),
    )


def why(kept: BuyLine, terms: Terms, quantity: int, saves: Decimal, exponent: int) -> str:
    """Say in plain words why this quantity."""
    least = terms.at_least(kept.net)
    if kept.need.used_a_year and quantity != least:
        return f"{quantity:,} rather than {least:,}: the cheapest order for a year's use of {kept.need.used_a_year:,}"
    if quantity > least:
        return f"{quantity:,} rather than {least:,}: the {quantity:,} break saves {format_amount(saves, exponent)}"
    if quantity > kept.net:
        return f"{quantity:,} for {kept.net:,} needed: {because(terms, kept.net)}"
    return f"{quantity:,}, just what is needed"


def because(terms: Terms, net: int) -> str:
    """Say which of the supplier's terms makes the smallest order larger than the need."""
    if net < terms.offer.minimum:
        return f"the supplier's minimum is {terms.offer.minimum:,}"
    if net < terms.breaks[0].from_quantity:
        return f"the price list starts at {terms.breaks[0].from_quantity:,}"
    return f"sold in lots of {terms.grid:,}"


def enough(need: Need, on_order: int) -> str:
    """Say why nothing is ordered."""
    if need.total == 0:
        return "not used this month"
    coming = f" and {on_order:,} on order" if on_order else ""
    return f"{need.on_hand:,} on the shelf{coming} cover {need.total:,}"


def price_rises(lines: Iterable[BuyLine], problem: BuyingProblem) -> Iterator[PriceRise]:
    """Yield the prices of materials to be ordered that rise where more is bought."""
    names = {line.need.material: line.need.name for line in lines if line.net}
    suppliers = {one.code: one.name for one in problem.suppliers}
    for terms in problem.terms:
        for one in terms.rises if terms.offer.material in names else ():
            yield PriceRise(
                material=names[terms.offer.material],
                supplier=suppliers.get(terms.offer.supplier, terms.offer.supplier),
                from_quantity=one.from_quantity,
                price=one.price,
            )


def order_from(supplier: Supplier, lines: Iterable[BuyLine], exponent: int) -> Iterator[SupplierOrder]:
    """Gather a supplier's lines into one order; no lines, no order."""
    own = tuple(line for line in lines if line.offer is not None and line.offer.supplier == supplier.code)
    if not own:
        return
    goods = sum((line.goods for line in own), Decimal(0))
    free = supplier.free_freight_from is not None and goods >= supplier.free_freight_from
    yield SupplierOrder(
        supplier=supplier,
        lines=own,
        goods=goods,
        setup=sum((line.setup for line in own), Decimal(0)),
        freight=Decimal(0) if free else round_money(supplier.freight, exponent),
        order_by=min(line.order_by for line in own if line.order_by is not None),
        late=any(line.late for line in own),
    )
