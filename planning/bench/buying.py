"""Orders for random months: small ones beside what trying everything finds, large ones beside a greedy buyer."""

import time
from collections.abc import Iterator
from decimal import Decimal

from kits.catalogue import Offer, PriceBreak, Terms
from planning.bench.months import brute_force, can_be_tried, greedy, random_month, small_month
from planning.bench.row import Row
from planning.buying import BuyingProblem, BuyingResult, buying_faults, cheapest_lot, plan_buying

SMALL, LARGE = 120, 80
PUBLISHED = (
    # a year's use, cost of an order, yearly holding, prices from a quantity; the yearly cost
    ("Wohl's, 3 breaks", 5000, "49", "0.20", ((1, "5.00"), (1000, "4.80"), (2000, "4.75")), "24725.00"),
    ("Weighty, 3 breaks", 600, "8", "0.20", ((1, ".30"), (500, ".29"), (1000, ".28")), "198.10"),
)
"""Heizer & Render, *Operations Management*; Nahmias, *Production and Operations Analysis* (answers from memory)."""


def buying_rows() -> Iterator[Row]:
    """Yield a row for each case, and at the end what all months together save."""
    yield from published_rows()
    small = [month for seed in range(2 * SMALL) if can_be_tried(month := small_month(seed))][:SMALL]
    equal = 0
    for number, problem in enumerate(small, 1):
        row = beside_brute_force(f"small month {number}", problem)
        equal += row.found == row.optimum
        yield row
    spent = saved = Decimal(0)
    never = True
    for number in range(1, LARGE + 1):
        problem = random_month(number, 5 + number, 2 + number % 5, 2 + number % 4)
        row, less = beside_greedy(f"month {number}, {len(problem.needs)} materials", problem)
        spent, saved, never = spent + greedy(problem), saved + less, never and less >= 0
        yield row
    words = f"{equal} of {len(small)} small months as cheap as trying everything; {LARGE} larger ones save {saved:,}"
    share = f"({saved / spent:.2%}) against a greedy buyer, {'none loses' if never else 'SOME LOSE'}"
    yield Row("all months", None, spent - saved, None, f"{words} {share}", 0.0)
    yield from largest_rows()


def published_rows() -> Iterator[Row]:
    """Yield the published cases of goods bought for the year."""
    for name, yearly, order_cost, holding, prices, cost in PUBLISHED:
        breaks = tuple(
            PriceBreak(offer="O", from_quantity=start, price=Decimal(price)) for start, price in prices
        )
        terms = Terms(offer=Offer(code="O", supplier="S", material="M"), breaks=breaks)
        begun = time.process_time()
        lot = cheapest_lot(terms, yearly, Decimal(order_cost), Decimal(holding))
        found = None if lot is None else lot.yearly_cost
        ended = "nothing found" if lot is None else f"{lot.quantity:,} an order"
        yield Row(name, Decimal(cost), found, found, ended, time.process_time() - begun)


def largest_rows() -> Iterator[Row]:
    """Yield the largest months: 200 materials, 6 suppliers, 5 breaks; at most 10 s."""
    for name, split in (("200 x 6 x 5", False), ("200 x 6 x 5, may be split", True)):
        yield beside_greedy(name, random_month(1, 200, 6, 5, split=split))[0]


def beside_brute_force(name: str, problem: BuyingProblem) -> Row:
    """Return a small month's row."""
    result, seconds = decided(problem)
    best = cents(brute_force(problem))
    return Row(name, best, cents(result.counted), cents(result.bound), ended(problem, result), seconds)


def beside_greedy(name: str, problem: BuyingProblem) -> tuple[Row, Decimal]:
    """Return a month's row, and what it saves against a greedy buyer."""
    result, seconds = decided(problem)
    less = greedy(problem) - result.total
    words = f"{ended(problem, result)}; saves {less:,} against a greedy buyer"
    return Row(name, None, cents(result.counted), cents(result.bound), words, seconds), less


def cents(amount: Decimal) -> Decimal:
    """Return an amount to the cent: what is left over may be worth parts of one."""
    return round(amount, 2)


def decided(problem: BuyingProblem) -> tuple[BuyingResult, float]:
    """Return the answer for a month and the processor's seconds it took."""
    begun = time.process_time()
    return plan_buying(problem), time.process_time() - begun


def ended(problem: BuyingProblem, result: BuyingResult) -> str:
    """Say whether the answer passes its checker, and what is proved of it."""
    if faults := buying_faults(problem, result):
        return f"{len(faults)} faults: {faults[0]}"
    return "proved" if result.gap < Decimal("0.01") else f"gap {result.gap:,.2f}"
