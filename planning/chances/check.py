"""The checker of the chances step: it adds shown months up by hand, and works averages out without drawing where it can.

It shares no code with the rule: Decimals and one month at a time.
"""

from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Decimal
from itertools import pairwise

from planning.chances.model import (
    ChancesProblem,
    ChancesResult,
    GoodsStep,
    Line,
    Per,
    Scenario,
    Spread,
    TierChance,
    TierMonth,
)

FINE = Decimal("0.0001")
NONE = Decimal(0)


def chances_faults(problem: ChancesProblem, result: ChancesResult) -> tuple[str, ...]:
    """Return every way in which the answer does not fit the question."""
    faults = [fault for shown in result.shown for fault in scenario_faults(problem, shown)]
    spreads = [result.profit, *(point.profit for one in result.orders for point in one.points)]
    faults += [fault for one in spreads for fault in spread_faults(one)]
    for wide, shown in zip(
        (result.profit.low, result.profit.middle, result.profit.high), result.shown, strict=True
    ):
        if abs(wide - shown.profit) > Decimal("0.01"):
            faults.append(f"{shown.percent} %: {wide} is told and the month shown brings {shown.profit}")
    faults += order_faults(problem, result)
    if any(a.span < b.span for a, b in pairwise(result.swings)):
        faults.append("the uncertainties do not stand widest first")
    return (*faults, *mean_faults(problem, result))


def spread_faults(one: Spread) -> Iterator[str]:
    """Look at a spread."""
    if not one.low <= one.middle <= one.high:
        yield f"{one.low}, {one.middle}, {one.high} do not rise"


def scenario_faults(problem: ChancesProblem, shown: Scenario) -> Iterator[str]:
    """Add one month up."""
    amounts = dict(shown.amounts)
    income = cost = NONE
    for tier, came in zip(problem.tiers, shown.tiers, strict=True):
        yield from kit_faults(came)
        income += tier.price * (came.sent - came.damaged + came.again)
        cost += (
            came.kits * reached(tier, came.kits).each
            + reached(tier, came.kits).once
            + tier.short * (came.wanted - came.sent)
            - tier.worth * came.left
        )
    for line in problem.lines:
        yield from amount_faults(line, amounts[line.name], shown.surcharge)
        cost += paid_for(line, amounts[line.name], shown.tiers)
    if (income, cost, income - cost) != (shown.income, shown.cost, shown.profit):
        yield f"{shown.percent} %: {income} less {cost} is told as {shown.profit}"


def kit_faults(came: TierMonth) -> Iterator[str]:
    """Look where a tier's kits went."""
    if (
        came.kits != came.spoiled + came.sent + came.again + came.left
        or min(came.spoiled, came.sent, came.left) < 0
    ):
        yield f"{came.code}: {came.kits} kits are not those spoiled, sent, sent again and left"
    good = came.kits - came.spoiled
    if came.sent != min(came.wanted, good) or came.again != min(came.damaged, good - came.sent):
        yield f"{came.code}: boxes went short with kits left"


def amount_faults(line: Line, amount: Decimal, surcharge: Decimal) -> Iterator[str]:
    """Look whether an amount is one that can be."""
    extra = surcharge if line.surcharged else NONE
    low, high = (
        (end * (1 + extra / 100)).quantize(FINE, ROUND_HALF_UP) for end in (line.amount.low, line.amount.high)
    )
    if not low <= amount <= high:
        yield f"{line.name}: {amount} is not from {low} to {high}"


def reached(tier: TierChance, kits: int) -> GoodsStep:
    """Return the price so many kits reach."""
    return [one for one in tier.goods if one.from_kits <= max(kits, tier.goods[0].from_kits)][-1]


def paid_for(line: Line, amount: Decimal, tiers: tuple[TierMonth, ...]) -> Decimal:
    """Return what a line comes to: so much once, or for each kit or box what its tier pays."""
    if line.per is Per.MONTH:
        return amount
    each = {
        one.code: (amount * (dict(line.takes).get(one.code, NONE) if line.takes else 1)).quantize(
            FINE, ROUND_HALF_UP
        )
        for one in tiers
    }
    return sum(
        (each[one.code] * (one.kits if line.per is Per.KIT else one.sent + one.again) for one in tiers), NONE
    )


def order_faults(problem: ChancesProblem, result: ChancesResult) -> Iterator[str]:
    """Look whether the best is the best, and whether what is asked about stands among the points as it is told."""
    for tier, one in zip(problem.tiers, result.orders, strict=True):
        if any(point.profit.mean > one.best.profit.mean for point in one.points):
            yield f"{tier.name}: {one.best.kits} kits are not the best of those tried"
        if [point.profit for point in one.points if point.kits == tier.kits] != [result.profit]:
            yield f"{tier.name}: {tier.kits} kits come to something else among the points"


def mean_faults(problem: ChancesProblem, result: ChancesResult) -> Iterator[str]:
    """Work the average profit out, where nothing is spoiled or damaged: counts by what is expected above the kits."""
    if problem.spoiled.high or problem.damaged.high:
        return
    profit, slack = NONE, result.within + Decimal("0.02")
    extra = 1 + problem.surcharge.mean / 100
    for tier in problem.tiers:
        short = tier.wanted.above(Decimal(tier.kits))
        sent = tier.wanted.mean - short
        paid = dict.fromkeys(Per, NONE)
        for line in problem.lines:
            times = dict(line.takes).get(tier.code, NONE) if line.takes else Decimal(1)
            paid[line.per] += line.amount.mean * times * (extra if line.surcharged else 1)
        made, post = paid[Per.KIT], paid[Per.BOX]
        goods = reached(tier, tier.kits)
        profit += (tier.price - post) * sent - tier.kits * (goods.each + made) - goods.once
        profit += tier.worth * (tier.kits - sent) - tier.short * short
        slack += (tier.price + tier.short + tier.worth + post) / 2  # scenarios are in whole boxes
    once = [line for line in problem.lines if line.per is Per.MONTH]
    profit -= sum((line.amount.mean * (extra if line.surcharged else 1) for line in once), NONE)
    if abs(profit - result.profit.mean) > slack:
        yield f"the average profit is {profit:.2f}, not {result.profit.mean}"
