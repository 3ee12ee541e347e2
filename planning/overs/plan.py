"""The rule of the overs step: what is spoiled on the way, and how much to have while the count is not known.

One more unit is worth having as long as the chance that it is wanted, times what being short of it costs, is above what it
loses if it is left over. With a price p, short cost s, worth w and keeping cost k that is up to the quantile of
(s - p) / (s - w + k). Where larger orders have other prices every price is tried: at each the cost has one dip, and the
best quantity that can be ordered is beside a dip or at an end of the price's range.
"""

from collections.abc import Iterator
from decimal import ROUND_FLOOR, Decimal, localcontext
from itertools import pairwise

from planning.overs.counts import Normal, Poisson
from planning.overs.errors import OversError
from planning.overs.model import (
    CurvePoint,
    OversProblem,
    OversResult,
    PriceStep,
    Run,
    RunOvers,
    StockAnswer,
    Stocked,
)
from planning.overs.spoilage import passes

DIGITS = 40  # of the reckoning
TOLD = Decimal("0.000001")  # figures of chance are told to this
SIDE = Decimal("0.002")  # chance left out at either end of a curve
PROVED = "proved: of all quantities that can be ordered, none is expected to cost less"


def plan_overs(problem: OversProblem) -> OversResult:
    """Work out every run and every thing. Raises OversError where more is always better."""
    with localcontext() as context:
        context.prec = DIGITS
        return OversResult(
            runs=tuple(run_overs(one) for one in problem.runs),
            stocked=tuple(answer(one, problem.points) for one in problem.stocked),
            ended=PROVED,
        )


def run_overs(run: Run) -> RunOvers:
    """Return what a run takes in so that enough comes out."""
    through = passes(run.good, run.operations)
    start = through[0].start if through else run.good
    return RunOvers(code=run.code, name=run.name, good=run.good, start=start, passes=through)


def answer(one: Stocked, points: int) -> StockAnswer:
    """Return the best quantity of one thing, the buyer's, and the curve around them."""
    best = min((point(one, order) for order in candidates(one)), key=lambda each: (each.cost, each.quantity))
    step = price_step(one, best.order)
    at = ratio(one, step.price)
    quantile = one.wanted.quantile(at)
    chosen = None if one.chosen is None else point(one, max(0, one.chosen - one.on_hand))
    shown = [best, *([chosen] if chosen else [])]
    return StockAnswer(
        code=one.code,
        name=one.name,
        question=one,
        mean=told(one.wanted.mean),
        ratio=told(at),
        quantile=told(quantile),
        quantile_cost=told(cost(one, quantile, max(quantile - one.on_hand, Decimal(0)) * step.price)),
        best=rounded(best),
        chosen=rounded(chosen) if chosen else None,
        curve=tuple(rounded(each) for each in curve(one, shown, points)),
    )


# --- One quantity ---


def point(one: Stocked, order: int) -> CurvePoint:
    """Return what ordering so many is expected to come to."""
    quantity = Decimal(one.on_hand + order)
    short = one.wanted.above(quantity)
    goods = order * price_step(one, order).price
    return CurvePoint(
        quantity=one.on_hand + order,
        order=order,
        goods=goods,
        short=short,
        left=quantity - one.wanted.mean + short,
        enough=one.wanted.at_most(quantity),
        cost=cost(one, quantity, goods),
    )


def cost(one: Stocked, quantity: Decimal, goods: Decimal) -> Decimal:
    """Return what having so many is expected to cost: the goods, going short, and what becomes of those left over."""
    short = one.wanted.above(quantity)
    left = quantity - one.wanted.mean + short
    return goods + short * one.short - left * (one.worth - one.keeping)


def price_step(one: Stocked, order: int) -> PriceStep:
    """Return the price an order reaches; fewer than the first step's quantity pay that one's price."""
    return next((step for step in reversed(one.prices) if step.from_quantity <= order), one.prices[0])


def rounded(one: CurvePoint) -> CurvePoint:
    """Return a point with its expected figures as they are told."""
    return CurvePoint(
        quantity=one.quantity,
        order=one.order,
        goods=one.goods,
        short=told(one.short),
        left=told(one.left),
        enough=told(one.enough),
        cost=told(one.cost),
    )


def told(figure: Decimal) -> Decimal:
    """Return a figure of chance as it is told."""
    return figure.quantize(TOLD)


# --- Which quantities are worth weighing ---


def ratio(one: Stocked, price: Decimal) -> Decimal:
    """Return the chance of being enough at which one more unit pays for itself. Raises OversError."""
    gain, loss = one.short - price, price - one.worth + one.keeping
    if gain <= 0:
        return Decimal(0)
    if loss <= 0 and any(isinstance(part.count, Normal | Poisson) for part in one.parts):
        raise OversError(f"{one.name}: what is left over is worth what it costs, so no quantity is too large")
    return min(Decimal(1), gain / (gain + loss)) if gain + loss > 0 else Decimal(1)


def candidates(one: Stocked) -> Iterator[int]:
    """Yield every order that may be the best: none, and beside the dip of each price within the price's range."""
    yield 0
    ends = [after.from_quantity - 1 for _, after in pairwise(one.prices)]
    for step, last in zip(one.prices, [*ends, None], strict=True):
        least = up_to_pack(max(step.from_quantity, one.minimum, 1), one.pack)
        most = None if last is None else last - last % one.pack
        if most is not None and least > most:
            continue
        dip = one.wanted.quantile(ratio(one, step.price)) - one.on_hand
        below = int(max(dip, Decimal(0)).to_integral_value(ROUND_FLOOR)) // one.pack * one.pack
        for order in (below, below + one.pack, least, least if most is None else most):
            yield max(least, order) if most is None else min(max(least, order), most)


def up_to_pack(quantity: int, pack: int) -> int:
    """Return whole packs that hold a quantity."""
    return -(-quantity // pack) * pack


def curve(one: Stocked, shown: list[CurvePoint], points: int) -> list[CurvePoint]:
    """Return points from where it is hardly ever enough to where it hardly ever is not, with those to be shown."""
    ends = [int(one.wanted.quantile(chance)) for chance in (SIDE, 1 - SIDE)]
    low, high = (
        min(ends[0], *(each.quantity for each in shown)),
        max(ends[1] + 1, *(each.quantity for each in shown)),
    )
    low = max(low, one.on_hand)
    orders = {
        up_to_pack(max(0, low - one.on_hand) + (high - low) * at // (points - 1), one.pack)
        for at in range(points)
    }
    sold = {max(order, up_to_pack(one.minimum, one.pack)) for order in orders if order}
    orders = sold | {each.order for each in shown} | ({0} if 0 in orders else set())
    return [point(one, order) for order in sorted(orders)]
