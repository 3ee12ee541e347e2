"""The chances of a month: thousands of months drawn, each added up exactly, and told by their quantiles.

`draws.py` draws what is not known, `month.py` follows all months at once, `exact.py` holds what needs no drawing.
"""

from decimal import Decimal

import numpy as np

from planning.chances.draws import Draws, Floats, Whole, drawn, held, quantiles, sources, told
from planning.chances.exact import binomial_quantile, newsvendor
from planning.chances.model import (
    MOST_BOXES,
    PARTS,
    ChancesProblem,
    ChancesResult,
    OrderPoint,
    Scenario,
    Spread,
    Swing,
    TierChance,
    TierMonth,
    TierOrders,
)
from planning.chances.month import Outcome, outcome

SHOWN = (10, 50, 90)
CENT = Decimal("0.01")


def plan_chances(problem: ChancesProblem) -> ChancesResult:
    """Return the month's profit and cost per kit as distributions, what moves them, and what other quantities would do."""
    draws = drawn(problem)
    kits = tuple(tier.kits for tier in problem.tiers)
    came = outcome(problem, draws, kits)
    return ChancesResult(
        profit=spread(came.profit),
        cost_each=cost_each(came),
        loss=percent(came.profit < 0),
        within=cents(3 * float(came.profit.std()) / PARTS / problem.scenarios**0.5),
        shown=tuple(scenario(problem, draws, came, kits, one) for one in SHOWN),
        swings=swings(problem, draws, kits),
        orders=tuple(orders(problem, draws, kits, at) for at in range(len(kits))),
        question=problem,
        ended=f"{problem.scenarios:,} months drawn, seed {problem.seed}",
    )


# --- Figures of many months ---


def spread(profit: Whole) -> Spread:
    """Return the average and quantiles of amounts in ten-thousandths."""
    mean = Decimal(sum(profit.tolist())) / len(profit)  # many of the largest amounts pass 64 bits
    ends = [
        told(int(one)) for one in np.quantile(profit, [one / 100 for one in SHOWN], method="inverted_cdf")
    ]
    low, middle, high = (one.quantize(CENT) for one in ends)
    return Spread(mean=(mean / PARTS).quantize(CENT), low=low, middle=middle, high=high)


def cost_each(came: Outcome) -> Spread | None:
    """Return what one kit costs, over the months that send any."""
    some = came.sent > 0
    if not some.any():
        return None
    each = np.rint(came.cost[some] / came.sent[some]).astype(np.int64)
    return spread(each)


def percent(flags: "np.ndarray[tuple[int, ...], np.dtype[np.bool_]]") -> Decimal:
    """Return how many of all, in percent."""
    return (Decimal(100 * int(flags.sum())) / len(flags)).quantize(CENT)


def cents(figure: float) -> Decimal:
    """Return a figure of chance to two places."""
    return Decimal(repr(float(figure))).quantize(CENT)


def scenario(
    problem: ChancesProblem, draws: Draws, came: Outcome, kits: tuple[int, ...], percent: int
) -> Scenario:
    """Return the drawn month that so many percent of all do not surpass, as it can be added up by hand."""
    order = came.profit.argsort(kind="stable")
    at = int(order[-(-len(order) * percent // 100) - 1])
    tiers = zip(problem.tiers, kits, came.tiers, strict=True)
    return Scenario(
        percent=percent,
        tiers=tuple(
            TierMonth(
                code=tier.code,
                kits=made,
                wanted=int(one.wanted[at]),
                spoiled=int(one.spoiled[at]),
                sent=int(one.sent[at]),
                damaged=int(one.damaged[at]),
                again=int(one.again[at]),
                left=int(one.left[at]),
            )
            for tier, made, one in tiers
        ),
        amounts=tuple(
            (line.name, told(int(amount[at])))
            for line, amount in zip(problem.lines, came.amounts, strict=True)
        ),
        surcharge=told(int(draws.surcharge[at])),
        income=told(int(came.income[at])),
        cost=told(int(came.cost[at])),
        profit=told(int(came.profit[at])),
    )


# --- What moves them ---


def swings(problem: ChancesProblem, draws: Draws, kits: tuple[int, ...]) -> tuple[Swing, ...]:
    """Return what each uncertainty does by itself, the widest first."""

    def mean(source: str, chance: float) -> Decimal:
        return spread(outcome(problem, held(problem, draws, source, chance), kits).profit).mean

    found = [Swing(source=one, at_low=mean(one, 0.1), at_high=mean(one, 0.9)) for one in sources(problem)]
    return tuple(sorted(found, key=lambda one: -one.span))


def orders(problem: ChancesProblem, draws: Draws, kits: tuple[int, ...], at: int) -> TierOrders:
    """Return what making more or fewer kits of one tier would do, those of the others as they are."""
    tier = problem.tiers[at]
    ratio, quantity = newsvendor(problem, tier)
    points = tuple(
        order_point(outcome(problem, draws, (*kits[:at], made, *kits[at + 1 :])), at, made)
        for made in candidates(problem, tier, quantity)
    )
    return TierOrders(
        code=tier.code,
        ratio=ratio.quantize(Decimal("0.000001")),
        newsvendor=quantity.quantize(Decimal("0.0001")),
        best=max(points, key=lambda one: (one.profit.mean, -one.kits)),
        points=points,
        spoiled=binomial_quantile(tier.kits, problem.spoiled.likely, 0.95),
    )


def order_point(came: Outcome, at: int, made: int) -> OrderPoint:
    """Return what a quantity comes to."""
    one = came.tiers[at]
    return OrderPoint(
        kits=made,
        profit=spread(came.profit),
        loss=percent(came.profit < 0),
        short=cents(float((one.wanted - one.sent).mean())),
        left=cents(float(one.left.mean())),
    )


def candidates(problem: ChancesProblem, tier: TierChance, quantity: Decimal) -> list[int]:
    """Return quantities from where it is hardly ever enough to where it nearly always is, the asked and the best ones too.

    Where kits are spoiled or boxes sent again, more must be made, by the likely rates.
    """
    sides: Floats = quantiles(tier.wanted, np.array([0.02, 0.98]))
    good = max(Decimal("0.01"), 1 - problem.spoiled.likely / 100)
    more = float((1 + problem.damaged.likely / 100) / good)
    low, high = float(sides[0]) * more, float(sides[1]) * more
    even = {round(low + (high - low) * step / (problem.points - 1)) for step in range(problem.points)}
    near = {int(float(quantity) * more), int(float(quantity) * more) + 1}
    breaks = {step.from_kits for step in tier.goods if low <= step.from_kits <= high}
    return sorted({min(one, MOST_BOXES) for one in even | near | breaks | {tier.kits}})
