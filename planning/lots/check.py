"""The checker of the lots step. It shares no code with the search: every unit and every amount is counted again."""

from collections import Counter
from collections.abc import Iterator
from decimal import Decimal

from planning.lots.model import LotLine, LotOffer, LotOrder, LotsProblem, LotsResult


def lots_faults(problem: LotsProblem, result: LotsResult) -> tuple[str, ...]:
    """Return every way in which the orders do not meet the needs, or do not cost what is said."""
    return (
        *order_faults(problem, result),
        *stock_faults(problem, result),
        *room_faults(problem, result),
        *total_faults(result),
    )


def order_faults(problem: LotsProblem, result: LotsResult) -> Iterator[str]:
    """Check each order on its supplier's own terms."""
    offers = {one.code: one for one in problem.offers}
    placed = Counter((order.period, order.supplier) for order in result.orders)
    for order in result.orders:
        if placed[order.period, order.supplier] > 1:
            yield f"{order.supplier}: two orders in {problem.periods[order.period]}"
        for line in order.lines:
            yield from line_faults(problem, order, line, offers.get(line.offer))
        terms = next((one for one in problem.suppliers if one.code == order.supplier), None)
        goods = sum((line.goods for line in order.lines), Decimal(0))
        due = terms.freight if terms else Decimal(0)
        if terms and terms.free_freight_from is not None and goods >= terms.free_freight_from:
            due = Decimal(0)
        if due != order.freight:
            yield f"{order.supplier}: freight in {problem.periods[order.period]} is {due}, not {order.freight}"


def line_faults(
    problem: LotsProblem, order: LotOrder, line: LotLine, offer: LotOffer | None
) -> Iterator[str]:
    """Check one line against its offer."""
    where = f"{line.material} in {problem.periods[order.period]}"
    if offer is None or (offer.material, offer.supplier) != (line.material, order.supplier):
        yield f"{where}: {line.offer} is no offer of it by {order.supplier}"
        return
    too_few = line.quantity < max(offer.minimum, offer.prices[0].from_quantity, 1)
    too_many = offer.most is not None and line.quantity > offer.most
    if too_few or too_many or line.quantity % offer.pack:
        yield f"{where}: {line.quantity} is not sold"
    if order.period < offer.first:
        yield f"{where}: cannot be there before {problem.periods[offer.first]}"
    reached = [one.price for one in offer.prices if one.from_quantity <= line.quantity]
    if not reached or reached[-1] != line.price:
        yield f"{where}: {line.price} is not the price of {line.quantity}"
    charge = offer.setups[order.period] if offer.setups else offer.setup
    if line.setup != charge or line.goods != goods_of(offer, line.quantity):
        yield f"{where}: goods {line.goods} and set-up {line.setup} are not what the offer asks"


def goods_of(offer: LotOffer, quantity: int) -> Decimal:
    """Return what an offer asks for so many units: unit by price where prices are incremental."""
    reached = [one for one in offer.prices if one.from_quantity <= quantity] or [offer.prices[0]]
    if not offer.is_incremental:
        return quantity * reached[-1].price
    ends = [*(one.from_quantity - 1 for one in reached[1:]), quantity]
    starts = [0, *ends[:-1]]
    return sum(
        ((end - start) * one.price for one, start, end in zip(reached, starts, ends, strict=True)), Decimal(0)
    )


def stock_faults(problem: LotsProblem, result: LotsResult) -> Iterator[str]:
    """Walk through the periods: what was left, what came, what was used, what is left."""
    came: Counter[tuple[str, int]] = Counter()
    for order in result.orders:
        for line in order.lines:
            came[line.material, order.period] += line.quantity
    told = {one.material: one for one in result.stock}
    for material in problem.materials:
        late = [one for one in result.late if one.material == material.code]
        left, cost = material.on_hand, Decimal(0)
        for period, needed in enumerate(material.needed):
            left += came[material.code, period] + (material.due[period] if material.due else 0) - needed
            left += sum(one.units for one in late if one.period == period)
            left -= sum(one.units for one in late if one.met_in == period)
            if left < 0:
                yield f"{material.code}: {-left} lack in {problem.periods[period]}"
            if told[material.code].left[period] != left:
                yield f"{material.code}: {left} are left in {problem.periods[period]}, not as told"
            cost += left * (material.storages[period] if material.storages else material.storage)
        if told[material.code].storage != cost:
            yield f"{material.code}: keeping it costs {cost}, not {told[material.code].storage}"
        first = min((one.first for one in problem.offers if one.material == material.code), default=None)
        if any(
            one.units <= 0 or one.met_in != first or one.period >= (first or 10**9) for one in late if first
        ):
            yield f"{material.code}: comes late although it could be there"


def room_faults(problem: LotsProblem, result: LotsResult) -> Iterator[str]:
    """Check that what is left fits the room."""
    if problem.room is None:
        return
    space = {one.code: one.space for one in problem.materials}
    for period, name in enumerate(problem.periods):
        taken = sum((one.left[period] * space[one.material] for one in result.stock), Decimal(0))
        if taken > problem.room:
            yield f"stock takes {taken} at the end of {name}, and there is room for {problem.room}"


def total_faults(result: LotsResult) -> Iterator[str]:
    """Add everything up again."""
    paid = sum((line.goods + line.setup for order in result.orders for line in order.lines), Decimal(0))
    freight = sum((order.freight for order in result.orders), Decimal(0))
    kept = sum((one.storage for one in result.stock), Decimal(0))
    if paid + freight + kept != result.total:
        yield f"the orders cost {paid + freight + kept}, not {result.total}"
    if result.bound > result.total:
        yield f"the bound {result.bound} is above the cost {result.total}"
