"""The checker of the buying step. It shares no code with the search."""

from collections import Counter
from collections.abc import Iterator
from decimal import Decimal

from planning.buying.model import BuyingProblem, BuyingResult, BuyLine


def buying_faults(problem: BuyingProblem, result: BuyingResult) -> tuple[str, ...]:
    """Return every way in which the orders do not meet the needs on the suppliers' own terms."""
    faults = [fault for line in result.lines for fault in line_faults(problem, line)]
    if [line.need for line in result.lines] != list(problem.needs):
        faults.append("the lines do not answer the needs one by one")
    ordered = sum((line.goods + line.setup for line in result.lines), Decimal(0))
    billed = sum((order.goods + order.setup for order in result.orders), Decimal(0))
    if ordered != billed:
        faults.append(f"lines cost {ordered}, orders say {billed}")
    return tuple(faults)


def line_faults(problem: BuyingProblem, line: BuyLine) -> Iterator[str]:
    """Check one line against its offer."""
    name, offer = line.need.name, line.offer
    yield from open_order_faults(problem, line)
    have = line.need.on_hand + sum(order.quantity for order in line.coming) + line.quantity
    if have < line.need.total and offer is not None:
        yield f"{name}: {have} to hand, {line.need.total} needed"
    if offer is None:
        if line.quantity:
            yield f"{name}: {line.quantity} ordered from nobody"
        return
    if line.quantity % offer.pack or line.quantity % offer.multiple or line.quantity < offer.minimum:
        sold = f"packs of {offer.pack}, multiples of {offer.multiple}, from {offer.minimum}"
        yield f"{name}: {line.quantity} is not sold ({sold})"
    prices = [
        one.price
        for terms in problem.terms
        if terms.offer == offer
        for one in terms.breaks
        if one.from_quantity <= line.quantity
    ]
    if not prices or prices[-1] != line.price:
        yield f"{name}: {line.price} is not the price of {line.quantity}"
    if abs(line.goods - line.quantity * line.price) >= Decimal(1).scaleb(-problem.exponent):
        yield f"{name}: {line.quantity} x {line.price} is not {line.goods}"


def open_order_faults(problem: BuyingProblem, line: BuyLine) -> Iterator[str]:
    """Check which open orders are counted on: all in time, and of later ones the next due for as long as some lacks."""
    name, need = line.need.name, line.need
    known = Counter(order for order in problem.open_orders if order.material == need.material)
    counted = Counter(line.coming)
    if counted - known:
        yield f"{name}: counts on orders that are not on their way"
    left = sorted((known - counted).elements(), key=lambda order: order.due)
    late = sorted((order for order in line.coming if order.due > need.need_by), key=lambda order: order.due)
    have = need.on_hand + sum(order.quantity for order in line.coming)
    all_of_it = have + sum(order.quantity for order in left) >= need.total
    is_bought_again = have < need.total and (line.offer is None or (all_of_it and line.cost > 0))
    if left and (is_bought_again or left[0].due <= need.need_by):
        yield f"{name}: {left[0].reference}, due {left[0].due}, is not counted on"
    if late and have - late[-1].quantity >= need.total:
        yield f"{name}: waits for {late[-1].reference}, due {late[-1].due}, without need"
    if late and left and left[0].due < late[-1].due:
        yield f"{name}: waits for {late[-1].reference} while {left[0].reference} comes sooner"
