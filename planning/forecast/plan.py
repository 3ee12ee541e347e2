"""The forecast: the method that did best so far, followed into the months ahead.

Members stay by `retention.py` and join by `joins.py`; `paths.py` draws futures from both; `scores.py` tries every method
on the past. What is announced is added to every path, and what somebody knows better stands in place of what was found.
"""

from collections.abc import Iterator
from decimal import Decimal

import numpy as np

from planning.forecast.history import History, history_of
from planning.forecast.model import (
    ForecastError,
    ForecastProblem,
    ForecastResult,
    Kept,
    Method,
    MonthAhead,
    Override,
    month_of,
    serial,
)
from planning.forecast.paths import WAYS, Ahead, Paths, Way, follow, quantiles_of
from planning.forecast.retention import log_likelihood, most_likely
from planning.forecast.scores import Score, best, scores
from planning.overs import QuantilePoint, Quantiles, Triangle

PLAIN = {True: "shifted-level", False: "flat-level"}  # where the past is too short to choose
FEW_MONTHS = 6


def plan_forecast(problem: ForecastProblem) -> ForecastResult:
    """Return the months ahead. Raises ForecastError where a method is asked for that there is none of."""
    history = history_of(problem)
    ways = tuple(way for way in WAYS if problem.tenures or way.retention != "shifted")
    tried = scores(ways, history, problem.ahead, problem.seed)
    way, why = chosen(problem, tried)
    luck = np.random.default_rng(problem.seed)
    paths = follow(way, history, known_ahead(problem), problem.paths, luck)
    return ForecastResult(
        boxes=tuple(int(count) for count in history.boxes),
        months=tuple(months_ahead(problem, paths)),
        method=way.key,
        why=why,
        methods=tuple(told_score(one, tried) for one in ways),
        kept=how_kept(history, tenures=problem.tenures),
        notes=tuple(notes(history, tenures=problem.tenures)),
    )


def chosen(problem: ForecastProblem, tried: tuple[Score, ...]) -> tuple[Way, str]:
    """Return the method to follow, and why."""
    ways = {way.key: way for way in WAYS if problem.tenures or way.retention != "shifted"}
    if problem.method is not None:
        if problem.method not in ways:
            raise ForecastError(f"{problem.method!r} is no method: choose one of {', '.join(ways)}")
        return ways[problem.method], "chosen by hand"
    first = best(tried)
    if first is None:
        return ways[
            PLAIN[problem.tenures]
        ], f"{FEW_MONTHS} months of history would choose between methods; there are {len(problem.months)}"
    if first.way.retention == "none":
        return first.way, f"over {first.tries} tries nothing came nearer than as many as last month"
    return first.way, f"over {first.tries} tries it came nearest: {first.error:,.1f} boxes off on average"


def known_ahead(problem: ForecastProblem) -> Ahead:
    """Return what is known of the months ahead."""
    numbers = [problem.first + len(problem.months) + step for step in range(problem.ahead)]
    promoted = {serial(month) for month in problem.promotions}
    return Ahead(
        calendar=np.array([number % 12 for number in numbers]),
        promoted=np.array([number in promoted for number in numbers], dtype=np.int64),
    )


def months_ahead(problem: ForecastProblem, paths: Paths) -> Iterator[MonthAhead]:
    """Yield each month: what was drawn, what is announced, what somebody knows better."""
    overrides = {one.month: one for one in problem.overrides}
    for step in range(problem.ahead):
        month = month_of(problem.first + len(problem.months) + step)
        announced = sum(
            one.boxes
            for one in problem.announced
            if one.first <= month and (one.last is None or month <= one.last)
        )
        boxes = np.maximum(0, paths.boxes[:, step] + announced)
        found = spread_out(quantiles_of(boxes))
        override = overrides.get(month)
        yield MonthAhead(
            month=month,
            count=found if override is None else set_by_hand(override),
            found=found,
            mean=cents(float(boxes.mean())),
            joins=cents(float(paths.joins[:, step].mean())),
            leaves=cents(float(paths.leaves[:, step].mean())),
            announced=announced,
            override=override,
        )


def set_by_hand(override: Override) -> Quantiles:
    """Return the quantiles of what somebody knows, in whole boxes."""
    triangle = Triangle(Decimal(override.low), Decimal(override.likely), Decimal(override.high))
    return spread_out([round(triangle.quantile(Decimal(percent) / 100)) for percent in range(101)])


def spread_out(counts: list[int]) -> Quantiles:
    """Return 101 counts as the quantiles of 0 to 100 %."""
    return Quantiles(
        tuple(QuantilePoint(Decimal(percent), Decimal(count)) for percent, count in enumerate(counts))
    )


def told_score(way: Way, tried: tuple[Score, ...]) -> Method:
    """Return a method as it is told; one that could not be tried has no figures."""
    score = next((one for one in tried if one.way == way), None)
    if score is None:
        return Method(key=way.key, name=way.name, tries=0, error=None, share=None, held=None)
    return Method(
        key=way.key,
        name=way.name,
        tries=score.tries,
        error=cents(score.error),
        share=cents(100 * score.error / score.naive) if score.naive > 0 else None,
        held=cents(100 * score.held),
    )


def how_kept(history: History, *, tenures: bool) -> Kept:
    """Return the retention of greatest likelihood, both ways."""
    kept, lost = (counts.astype(float) for counts in history.by_tenure)
    seen = kept + lost
    rate = lost.sum() / seen.sum() if seen.sum() else 0.0
    flat = float(sum(count * np.log(p) for count, p in ((kept.sum(), 1 - rate), (lost.sum(), rate)) if count))
    if np.count_nonzero(seen) < 2 or not tenures:
        return Kept(
            flat=places(100 * rate, 2),
            alpha=None,
            beta=None,
            log_likelihood=None,
            flat_log_likelihood=places(flat, 2) if seen.sum() else None,
            at_edge=True,
        )
    alpha, beta, at_edge = most_likely(kept, lost)
    found = float(log_likelihood(np.array(alpha), np.array(beta), kept, lost))
    return Kept(
        flat=places(100 * rate, 2),
        alpha=places(alpha, 6),
        beta=places(beta, 6),
        log_likelihood=places(found, 2),
        flat_log_likelihood=places(flat, 2),
        at_edge=at_edge,
    )


def notes(history: History, *, tenures: bool) -> Iterator[str]:
    """Yield what whoever reads the forecast should know of its grounds."""
    if history.months < FEW_MONTHS:
        yield f"{history.months} months of history: much rests on what is believed of clubs in general, so it is wide"
    if not tenures:
        yield "nobody knows when those who left had joined: one rate of loss is taken for all"
    if not history.boxes[-1]:
        yield "the last month sent no boxes: the forecast is of those who join"
    if not history.by_tenure[1].sum():
        yield "nobody has left yet: how many will is a belief, one in ten at first, and the more months pass the fewer"


def cents(figure: float) -> Decimal:
    """Return a figure of chance to two places."""
    return places(figure, 2)


def places(figure: float, digits: int) -> Decimal:
    """Return a figure to so many places."""
    return Decimal(repr(float(figure))).quantize(Decimal(1).scaleb(-digits))
