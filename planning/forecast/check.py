"""The checker of the forecast: it counts the boxes anew, tries other shapes, and looks at every count.

It shares no code with the rule: plain loops and floats, and of the forecast only what its answer says.
"""

from collections.abc import Iterator
from math import lgamma, log

from planning.forecast.model import ForecastProblem, ForecastResult, MonthAhead

Steps = list[tuple[int, int, int]]  # months of membership reached, members before, members kept


def forecast_faults(problem: ForecastProblem, result: ForecastResult) -> tuple[str, ...]:
    """Return every way in which the answer does not fit the question."""
    return (
        *boxes_faults(problem, result),
        *retention_faults(problem, result),
        *month_faults(problem, result),
    )


def boxes_faults(problem: ForecastProblem, result: ForecastResult) -> Iterator[str]:
    """Count each month's boxes from the back, where all cohorts end together."""
    for back, (month, told) in enumerate(zip(problem.months[::-1], result.boxes[::-1], strict=True), 1):
        members = sum(one.members[-back] for one in problem.cohorts if len(one.members) >= back)
        if members - month.skipped - month.paused != told:
            yield f"{month.month}: {told} boxes are told, {members} members less those without"


def retention_faults(problem: ForecastProblem, result: ForecastResult) -> Iterator[str]:
    """Compare the likelihood with that of other shapes, by the beta functions of the model's definition."""
    told = result.kept
    if told.alpha is None or told.beta is None or told.log_likelihood is None:
        return
    alpha, beta, steps = float(told.alpha), float(told.beta), list(steps_of(problem))
    if alpha <= 0 or beta <= 0:  # smaller than can be told
        return
    here = likelihood(alpha, beta, steps)
    if not told.at_edge and abs(here - float(told.log_likelihood)) > 0.02 + 1e-6 * abs(here):
        yield f"the shape's log-likelihood is {here:.2f}, not {told.log_likelihood}"
    for a, b in ((1.05, 1), (0.95, 1), (1, 1.05), (1, 0.95), (1.05, 1.05), (0.95, 0.95)):
        if not told.at_edge and likelihood(alpha * a, beta * b, steps) > here + 1e-6 * abs(here) + 1e-4:
            yield f"alpha {alpha * a:.4f}, beta {beta * b:.4f} are likelier"


def steps_of(problem: ForecastProblem) -> Iterator[tuple[int, int, int]]:
    """Yield every step of every cohort."""
    last = problem.months[-1].month
    for one in problem.cohorts:
        age = (last.year - one.joined.year) * 12 + last.month - one.joined.month
        for back, kept in enumerate(one.members[:0:-1]):
            yield age - back, one.members[-back - 2], kept


def likelihood(alpha: float, beta: float, steps: Steps) -> float:
    """Return the log-likelihood: survival to t is B(alpha, beta + t) / B(alpha, beta)."""

    def alive(months: int) -> float:
        return lgamma(beta + months) - lgamma(alpha + beta + months)

    total = 0.0
    for tenure, before, kept in steps:
        stay = alive(tenure) - alive(tenure - 1)
        leave = log(alpha) - log(alpha + beta + tenure - 1)
        total += kept * stay + (before - kept) * leave
    return total


def month_faults(problem: ForecastProblem, result: ForecastResult) -> Iterator[str]:
    """Look at each month: all months there, quantiles rising, the middle where the mean is, announcements within."""
    if len(result.months) != problem.ahead:
        yield f"{len(result.months)} months are told, {problem.ahead} asked for"
    before = problem.months[-1].month
    for month in result.months:
        if (month.month.year, month.month.month) != (before.year + before.month // 12, before.month % 12 + 1):
            yield f"{month.month} does not follow {before}"
        before = month.month
        yield from count_faults(month)
        wanted = [one for one in problem.overrides if one.month == month.month]
        if wanted != ([month.override] if month.override else []):
            yield f"{month.month}: what was set by hand is not what is told"


def count_faults(month: MonthAhead) -> Iterator[str]:
    """Look at the quantiles of one month."""
    counts = [int(point.count) for point in month.found.points]
    if (
        len(counts) != 101
        or counts != sorted(counts)
        or counts[0] < max(0, month.announced if counts[0] else 0)
    ):
        yield f"{month.month}: the quantiles do not rise from 0 to 100 %"
    mean = float(month.mean)
    # a mean lies between the means of its steps taken low and taken high
    low, high = sum(counts[:-1]) / 100, sum(counts[1:]) / 100
    if not low - 0.01 <= mean <= high + 0.01:
        yield f"{month.month}: the mean {mean:.2f} does not lie between {low:.2f} and {high:.2f}"
    if month.override:
        set_ = [int(point.count) for point in month.count.points]
        if not month.override.low <= set_[0] <= set_[-1] <= month.override.high or set_ != sorted(set_):
            yield f"{month.month}: what was set by hand is not between its low and its high"
