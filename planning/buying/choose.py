"""The rule of the buying step: for each material the cheapest single offer that comes in time.

More than is needed may cost less: an all-units price break reprices the whole order, so every break above the need is
weighed against ordering just enough. Freight is added to each supplier's order afterwards and does not steer the choice.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal

from kits.catalogue import Supplier, Terms
from kits.measures import format_amount, round_money
from planning.buying.lot import cheapest_lot
from planning.buying.model import BuyingProblem, BuyingResult, BuyLine, Need, SupplierOrder

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
    return BuyingResult(lines=lines, orders=orders, ended=PROVED)


def buy(need: Need, problem: BuyingProblem) -> BuyLine:
    """Net one need against shelf and open orders, and buy the rest."""
    coming = [order for order in problem.open_orders if order.material == need.material]
    due_in = sum(order.quantity for order in coming if order.due <= need.need_by)
    due_late = sum(order.quantity for order in coming if order.due > need.need_by)
    net = max(0, need.total - need.on_hand - due_in)
    kept = BuyLine(need=need, due_in=due_in, due_late=due_late, net=net, reason=enough(need, due_in))
    if net == 0:
        return kept
    choices = [
        choice
        for terms in problem.terms
        if terms.offer.material == need.material
        for choice in weigh(kept, terms, problem)
    ]
    if not choices:
        return replace(kept, reason="no supplier offers it")
    return min(choices, key=preference)


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
    quantities = {least} | {
        terms.at_least(one.from_quantity) for one in terms.breaks if one.from_quantity > least
    }
    for quantity in sorted(quantities):
        yield line_of(kept, terms, quantity, problem, plain)


def line_of(
    kept: BuyLine, terms: Terms, quantity: int, problem: BuyingProblem, plain: BuyLine | None
) -> BuyLine:
    """Price and date one order line. plain: the smallest order of the same offer, None when this is it."""
    offer, need, calendar = terms.offer, kept.need, problem.calendar
    order_by = calendar.before(need.need_by, offer.lead_days)
    late = order_by < problem.planned_on
    price = terms.price(quantity)
    goods = round_money(quantity * price, problem.exponent)
    cost = goods + offer.setup_charge
    return BuyLine(
        need=need,
        due_in=kept.due_in,
        due_late=kept.due_late,
        net=kept.net,
        offer=offer,
        quantity=quantity,
        price=price,
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


def enough(need: Need, due_in: int) -> str:
    """Say why nothing is ordered."""
    if need.total == 0:
        return "not used this month"
    on_order = f" and {due_in:,} on order" if due_in else ""
    return f"{need.on_hand:,} on the shelf{on_order} cover {need.total:,}"


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
