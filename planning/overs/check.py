"""The checker of the overs step. It shares no code with the rule: counts are tried one by one, in plain floating point."""

from bisect import bisect_right
from collections.abc import Iterator
from itertools import accumulate, pairwise
from math import exp, lgamma, log, sqrt
from statistics import NormalDist

from planning.overs.counts import Count, Listed, Normal, Poisson, Quantiles, Triangle
from planning.overs.model import CurvePoint, OversProblem, OversResult, Run, RunOvers, Stocked
from planning.overs.spoilage import Base

TRIED = 4_000  # equally likely months


def overs_faults(problem: OversProblem, result: OversResult) -> tuple[str, ...]:
    """Return every way in which the answers are not what the question asks for."""
    faults = [
        fault for run, told in zip(problem.runs, result.runs, strict=True) for fault in run_faults(run, told)
    ]
    for one, answer in zip(problem.stocked, result.stocked, strict=True):
        wanted = Months(one)
        shown = [answer.best, *answer.curve, *([answer.chosen] if answer.chosen else [])]
        faults += [fault for point in shown for fault in point_faults(one, point, wanted)]
        beside = [answer.best.order + step for step in (-one.pack, one.pack)]
        least = float(answer.best.cost) - slack(one, wanted)
        for order in (order for order in beside if order == 0 or order >= max(one.minimum, one.pack)):
            if expected(one, order, wanted)[2] < least:
                faults.append(f"{one.name}: ordering {order} costs less than ordering {answer.best.order}")
        if any(point.cost < answer.best.cost for point in answer.curve):
            faults.append(f"{one.name}: a point of the curve costs less than the best")
    return tuple(faults)


def run_faults(run: Run, told: RunOvers) -> Iterator[str]:
    """Follow a run from its start: what each operation spoils, and whether just enough comes out."""
    running = told.start
    for operation, one in zip(run.operations, told.passes, strict=True):
        if one.start != running:
            yield f"{run.name}: {operation.name} takes in {running}, not {one.start}"
        good, percent = one.good, float(operation.percent)
        spoilt = percent / 100 * (good if operation.base is Base.GOOD else one.start - operation.make_ready)
        over = one.start - good - operation.make_ready - spoilt
        if good and not -1e-6 <= over < 1 + percent / 100 + 1e-6:
            yield f"{run.name}: {operation.name} turns {one.start} into {good}"
        running = good
    if running != run.good:
        yield f"{run.name}: {running} come out good, {run.good} are wanted"


def point_faults(one: Stocked, point: CurvePoint, wanted: "Months") -> Iterator[str]:
    """Try a quantity in every month and compare."""
    short, left, cost = expected(one, point.order, wanted)
    if point.quantity != one.on_hand + point.order:
        yield f"{one.name}: {point.quantity} is not {one.on_hand} on hand and {point.order} ordered"
    if max(abs(short - float(point.short)), abs(left - float(point.left))) > wanted.slack:
        yield f"{one.name}: with {point.quantity}, {short:.3f} go short and {left:.3f} are left, not as told"
    if abs(cost - float(point.cost)) > slack(one, wanted) + 1e-6 * max(1.0, cost):
        yield f"{one.name}: having {point.quantity} costs {cost:.4f}, not {point.cost}"


class Months:
    """Units wanted in equally likely months, rising."""

    def __init__(self, one: Stocked) -> None:
        columns = [(float(part.each), in_months(part.count)) for part in one.parts]
        self.units = [
            float(one.plus) + sum(each * counts[number] for each, counts in columns)
            for number in range(TRIED)
        ]
        self.sums = [0.0, *accumulate(self.units)]
        # how far off the average of the months may be: they are many and yet not all there are
        self.slack = (self.units[-1] - self.units[0]) * 2 / TRIED + 1e-5

    def short_and_left(self, had: int) -> tuple[float, float]:
        """Return what is short and what is left on the average of all months."""
        at = bisect_right(self.units, had)
        short = self.sums[-1] - self.sums[at] - had * (TRIED - at)
        return short / TRIED, (had * at - self.sums[at]) / TRIED


def expected(one: Stocked, order: int, wanted: Months) -> tuple[float, float, float]:
    """Return what is short, left and paid on the average of all months."""
    short, left = wanted.short_and_left(one.on_hand + order)
    paid = [float(step.price) for step in one.prices if step.from_quantity <= order] or [
        float(one.prices[0].price)
    ]
    return short, left, order * paid[-1] + short * float(one.short) - left * float(one.worth - one.keeping)


def slack(one: Stocked, wanted: Months) -> float:
    """Return how far off the average of the months may be, in money."""
    return float(one.short + one.worth + one.keeping) * wanted.slack


def in_months(count: Count) -> list[float]:
    """Return a count in equally likely months, rising."""
    chances = [(number + 0.5) / TRIED for number in range(TRIED)]
    if isinstance(count, Normal):
        return [NormalDist(float(count.mean), float(count.deviation)).inv_cdf(chance) for chance in chances]
    if isinstance(count, Listed):
        return stepped([(float(p.count), float(p.weight)) for p in count.points], chances)
    if isinstance(count, Poisson):
        mean = float(count.mean)
        top = int(mean + 12 * sqrt(mean) + 40)
        return stepped([(k, exp(k * log(mean) - mean - lgamma(k + 1))) for k in range(top)], chances)
    if isinstance(count, Triangle):
        return [
            in_triangle(float(count.low), float(count.likely), float(count.high), chance)
            for chance in chances
        ]
    points = count.line if isinstance(count, Quantiles) else ((0, count.low), (1, count.high))
    corners = [(float(chance), float(units)) for chance, units in points]
    return [on_line(corners, chance) for chance in chances]


def stepped(weights: list[tuple[float, float]], chances: list[float]) -> list[float]:
    """Return the listed count of each chance."""
    sums = list(accumulate(weight for _, weight in weights))
    found, at = [], 0
    for chance in chances:
        while sums[at] < chance * sums[-1] and at < len(sums) - 1:
            at += 1
        found.append(weights[at][0])
    return found


def in_triangle(low: float, likely: float, high: float, chance: float) -> float:
    """Return the count of a chance where low, likely and high are known."""
    if chance * (high - low) <= likely - low:
        return low + sqrt(chance * (high - low) * (likely - low))
    return high - sqrt((1 - chance) * (high - low) * (high - likely))


def on_line(corners: list[tuple[float, float]], chance: float) -> float:
    """Return the count of a chance on straight lines between corners."""
    for (before, low), (after, high) in pairwise(corners):
        if chance <= after:
            return low + (high - low) * (chance - before) / (after - before)
    return corners[-1][1]
