"""The rule of the buying step: for all materials of the month together, the orders that cost least and come in time.

More than is needed may cost less: a price break may reprice the whole order, and a few packs more may carry a supplier's
order to free freight. Freight is paid once an order, so the materials are decided together (`programme.py`); what each would
cost by itself (`alone.py`) is the plan to beat.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import Decimal
from functools import lru_cache

from kits.measures import format_amount
from planning.buying.alone import Alone, alone
from planning.buying.model import BuyingProblem, BuyingResult, BuyLine, PriceRise
from planning.buying.options import Offers
from planning.buying.orders import Choice, Part, Parts, Prices, order_from
from planning.buying.programme import decide
from planning.buying.reasons import Reasons
from planning.buying.unmet import unmet_needs


@lru_cache(maxsize=16)  # a month's ways to have its sheets lead to the same question more than once
def plan_buying(problem: BuyingProblem) -> BuyingResult:
    """Decide all needs together and gather the lines into one order per supplier."""
    offers, prices = Offers(problem), Prices(problem)
    found = tuple(alone(need, problem, offers, prices) for need in problem.needs)
    lacks = tuple(one.lack for one in found)
    choice, bound = together(problem, found, prices)
    reasons = Reasons(problem, lacks, choice, prices)
    lines = tuple(
        line_of(place, one, parts, reasons)
        for place, (one, parts) in enumerate(zip(found, choice, strict=True))
    )
    ordered = [each for line in lines for each in line.bought]
    orders = (order_from(supplier, ordered, problem.exponent) for supplier in problem.suppliers)
    result = BuyingResult(
        lines=lines,
        orders=tuple(one for one in orders if one is not None),
        ended="",
        bound=bound,
        apart=prices.total(lacks, tuple(one.parts for one in found)),
        just_enough=just_enough(found, choice, reasons),
        unmet=tuple(unmet_needs(problem, found, offers)),
        rises=tuple(price_rises(lines, problem)),
    )
    return replace(result, ended=how_it_ended(result, problem))


def together(problem: BuyingProblem, found: Sequence[Alone], prices: Prices) -> tuple[Choice, Decimal]:
    """Return the cheapest choice of orders, and what none costs less than.

    Each need by itself stands where the programme finds nothing cheaper.
    """
    lacks = [one.lack for one in found]
    best: Choice = tuple(one.parts for one in found)
    least = sum((one.least for one in found), Decimal(0))
    if prices.total(lacks, best) == least:
        return (
            best,
            least,
        )  # each at its cheapest, and no freight to pay: nothing is gained by looking further
    choice, bound = decide(problem, found, prices)
    if choice is not None:
        choice = trimmed(choice, found, prices)
        best = min(best, choice, key=lambda one: prices.total(lacks, one))
    total = prices.total(lacks, best)
    return best, total if bound is None else min(bound, total)


def trimmed(choice: Choice, found: Sequence[Alone], prices: Prices) -> Choice:
    """Leave away lots that save nothing: what is free of charge is not ordered for that alone."""
    lacks, parts = [one.lack for one in found], list(choice)
    least = prices.total(lacks, choice)
    for place, one in enumerate(found):
        for smaller in smaller_orders(one, parts[place]):
            tried = (*parts[:place], smaller, *parts[place + 1 :])
            if prices.total(lacks, tried) <= least:
                parts[place] = smaller
                break
    return tuple(parts)


def smaller_orders(one: Alone, parts: Parts) -> Iterator[Parts]:
    """Yield what would do as well for one need with less of its only offer, the smallest first."""
    if len(parts) == 1 and one.a_year is None:
        (part,) = parts
        for quantity in part.option.terms.worth_weighing(one.lack.target):
            if quantity < part.quantity:
                yield (Part(part.option, quantity),)


def line_of(place: int, one: Alone, parts: Parts, reasons: Reasons) -> BuyLine:
    """Return the line of one need."""
    lack = one.lack
    bought = tuple(reasons.purchase(place, part) for part in parts)
    line = BuyLine(
        need=lack.need,
        coming=lack.coming,
        net=lack.net,
        bought=bought,
        a_year=one.a_year,
        worth=lack.counted(sum(part.quantity for part in parts)),
        reason=reasons.of(place),
    )
    return replace(line, waits=reasons.waits(line, one)) if line.due_late else line


def just_enough(found: Sequence[Alone], choice: Choice, reasons: Reasons) -> Decimal:
    """Return what the orders would cost if each were the smallest that does; a year's lot stays as it is."""
    least = tuple(
        parts if one.a_year is not None else reasons.least(place)
        for place, (one, parts) in enumerate(zip(found, choice, strict=True))
    )
    return reasons.prices.total(reasons.lacks, least)


def how_it_ended(result: BuyingResult, problem: BuyingProblem) -> str:
    """Say what is proved of the choice."""
    year = any(line.a_year is not None for line in result.lines)
    apart = "; goods bought for the year are chosen by what a year of orders costs" if year else ""
    if result.gap * 10**problem.exponent < 1:
        return f"proved: no choice of offers and quantities costs less, freight included{apart}"
    gap = format_amount(result.gap, problem.exponent)
    return f"no choice of offers and quantities costs less by more than {gap}, freight included{apart}"


def price_rises(lines: Sequence[BuyLine], problem: BuyingProblem) -> Iterator[PriceRise]:
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
