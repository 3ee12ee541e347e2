"""What cannot be right about a question that is asked of the buying step alone; a month's rows have rules of their own."""

from collections import Counter
from collections.abc import Iterator
from decimal import Decimal
from itertools import pairwise
from math import lcm

from kits.catalogue import OpenOrder, Supplier, Terms
from kits.measures import MOST_DECIMALS
from planning.buying.choose import plan_buying
from planning.buying.model import BuyingProblem, BuyingResult, Need

MOST = 1_000_000_000  # of anything counted
LONGEST_WAIT = 366  # working days; calendars count them one by one


class BuyingError(ValueError):
    """A question that cannot be answered; the message says of each fault where it is, what, and what is allowed."""


def buy_as_asked(problem: BuyingProblem) -> BuyingResult:
    """Decide what to order. Raises BuyingError naming every row that cannot be right."""
    if found := tuple(question_faults(problem)):
        raise BuyingError("\n".join(found))
    return plan_buying(problem)


def question_faults(problem: BuyingProblem) -> Iterator[str]:
    """Yield every fault of a question, by its place in the JSON."""
    yield from twice("needs", "material", [one.material for one in problem.needs])
    yield from twice("terms", "offer code", [one.offer.code for one in problem.terms])
    yield from twice("suppliers", "code", [one.code for one in problem.suppliers])
    for index, need in enumerate(problem.needs):
        yield from (f"needs.{index} ({need.material}): {why}" for why in need_faults(need, problem))
    for index, terms in enumerate(problem.terms):
        yield from (f"terms.{index} ({terms.offer.code}): {why}" for why in terms_faults(terms, problem))
    for index, supplier in enumerate(problem.suppliers):
        yield from (
            f"suppliers.{index} ({supplier.code}): {why}" for why in supplier_faults(supplier, problem)
        )
    for index, order in enumerate(problem.open_orders):
        yield from (
            f"open_orders.{index} ({order.reference}): {why}" for why in open_order_faults(order, problem)
        )
    yield from (f"the problem: {why}" for why in setting_faults(problem))


def twice(table: str, what: str, codes: list[str]) -> Iterator[str]:
    """Yield codes that stand in a table more than once, at their second place."""
    seen: Counter[str] = Counter()
    for index, code in enumerate(codes):
        seen[code] += 1
        if seen[code] == 2:
            yield f"{table}.{index} ({code}): the {what} stands there already, at {table}.{codes.index(code)}"


def need_faults(need: Need, problem: BuyingProblem) -> Iterator[str]:
    """Yield what is wrong with a need."""
    for name in ("in_boxes", "overs", "in_cutting", "on_hand", "cut"):
        yield from count_faults(name, getattr(need, name))
    if need.used_a_year is not None:
        yield from count_faults("used_a_year", need.used_a_year, low=1)
    if need.need_by < problem.planned_on:
        planned = f"{problem.planned_on:%-d %b %Y}"
        yield f"need_by {need.need_by:%-d %b %Y} is before the day of the plan, {planned}; write a day that is to come"


def terms_faults(terms: Terms, problem: BuyingProblem) -> Iterator[str]:
    """Yield what is wrong with an offer and its prices."""
    offer = terms.offer
    if offer.material not in {need.material for need in problem.needs}:
        yield f"material {offer.material} is not among the needs"
    if offer.supplier not in {one.code for one in problem.suppliers}:
        yield f"supplier {offer.supplier} is not among the suppliers"
    faults = [
        *count_faults("pack", offer.pack, low=1),
        *count_faults("multiple", offer.multiple, low=1),
        *count_faults("minimum", offer.minimum),
        *count_faults("maximum", offer.maximum if offer.maximum is not None else MOST, low=1),
        *count_faults("lead_days", offer.lead_days, high=LONGEST_WAIT),
        *money_faults("setup_charge", offer.setup_charge, problem.exponent),
        *price_faults(terms),
    ]
    yield from faults or size_faults(terms)
    yield from last_day_faults(terms, problem)


def price_faults(terms: Terms) -> Iterator[str]:
    """Yield what is wrong with an offer's price breaks."""
    if not terms.breaks:
        yield "has no price; write one break, from quantity 1 if there is only one price"
    for number, one in enumerate(terms.breaks):
        for why in (
            *count_faults("from_quantity", one.from_quantity, low=1),
            *money_faults("price", one.price, MOST_DECIMALS),
        ):
            yield f"breaks.{number}: {why}"
        if one.offer != terms.offer.code:
            yield f"breaks.{number}: is of the offer {one.offer}"
    for before, after in pairwise(terms.breaks):
        if after.from_quantity <= before.from_quantity:
            order = "write the breaks from the smallest quantity up"
            yield f"from_quantity {after.from_quantity:,} stands after {before.from_quantity:,}; {order}"


def size_faults(terms: Terms) -> Iterator[str]:
    """Yield that a supplier has less than its smallest order."""
    lot = lcm(terms.offer.pack, terms.offer.multiple)
    least = -(-max(terms.offer.minimum, terms.breaks[0].from_quantity) // lot) * lot
    if terms.offer.maximum is not None and terms.offer.maximum < least:
        yield f"maximum {terms.offer.maximum:,} is less than the smallest order, {least:,}"


def last_day_faults(terms: Terms, problem: BuyingProblem) -> Iterator[str]:
    """Yield that the last day to order is past, or a day on which suppliers do not work."""
    last = terms.offer.order_until
    if last is not None and last < problem.planned_on:
        yield f"order_until {last:%-d %b %Y} is before the day of the plan, {problem.planned_on:%-d %b %Y}"
    elif last is not None and not problem.calendar.works(last):
        before = f"{problem.calendar.on_or_before(last):%-d %b %Y}"
        yield f"order_until {last:%-d %b %Y} is no working day of the suppliers; write {before}, the one before it"


def supplier_faults(supplier: Supplier, problem: BuyingProblem) -> Iterator[str]:
    """Yield what is wrong with a supplier's freight."""
    yield from money_faults("freight", supplier.freight, problem.exponent)
    if supplier.free_freight_from is not None:
        yield from money_faults("free_freight_from", supplier.free_freight_from, problem.exponent)


def open_order_faults(order: OpenOrder, problem: BuyingProblem) -> Iterator[str]:
    """Yield what is wrong with an open order."""
    yield from count_faults("quantity", order.quantity, low=1)
    yield from money_faults("price", order.price, MOST_DECIMALS)
    if order.material not in {need.material for need in problem.needs}:
        yield f"material {order.material} is not among the needs"
    if order.due < problem.planned_on:
        yield f"due {order.due:%-d %b %Y} is before the day of the plan, {problem.planned_on:%-d %b %Y}"


def setting_faults(problem: BuyingProblem) -> Iterator[str]:
    """Yield what is wrong with the settings."""
    yield from count_faults("exponent", problem.exponent, high=3)
    yield from money_faults("order_cost", problem.order_cost, MOST_DECIMALS)
    yield from money_faults("leftover_months", problem.leftover_months, MOST_DECIMALS, high=120)
    for name in ("holding_percent", "leftover_percent"):
        yield from money_faults(name, getattr(problem, name), MOST_DECIMALS, high=100)


def count_faults(name: str, count: int, low: int = 0, high: int = MOST) -> Iterator[str]:
    """Yield that a count lies outside its bounds."""
    if not low <= count <= high:
        yield f"{name} {count:,} is not allowed; write {low:,} to {high:,}"


def money_faults(name: str, amount: Decimal, places: int, high: int = 1000 * MOST) -> Iterator[str]:
    """Yield that an amount is no number, outside its bounds, or too fine."""
    if not amount.is_finite() or not 0 <= amount <= high:
        yield f"{name} {amount} is not allowed; write 0 to {high:,}"
    elif amount != round(amount, places):
        yield f"{name} {amount} has more than {places} decimals"
