"""What is not known, drawn: every uncertainty by its quantiles at chances spread evenly over all scenarios.

Each source takes one chance out of each of so many equal slices (stratified, also called Latin hypercube, sampling: McKay,
Beckman & Conover, Technometrics 21 (1979), from memory), so averages are far nearer than those of plain draws.
"""

from dataclasses import dataclass, replace
from decimal import Decimal
from statistics import NormalDist

import numpy as np

from planning.chances.model import MOST_BOXES, PARTS, ChancesProblem, Range
from planning.overs import Count, Listed, Normal, Poisson, Triangle, Uniform

Floats = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
Whole = np.ndarray[tuple[int, ...], np.dtype[np.int64]]
SPOILED, DAMAGED, SURCHARGE, COUNT = "spoilage", "damage", "surcharge", "count"


@dataclass(frozen=True)
class Draws:
    """One value a scenario. wanted: boxes by tier; spoiled, damaged, surcharge: ten-thousandths of a percent; amounts: by
    line, in ten-thousandths of the unit of money, before any surcharge.
    """

    wanted: tuple[Whole, ...]
    spoiled: Whole
    damaged: Whole
    surcharge: Whole
    amounts: tuple[Whole, ...]


def drawn(problem: ChancesProblem) -> Draws:
    """Return the draws of all scenarios."""
    luck = np.random.default_rng(problem.seed)
    size = problem.scenarios

    def chances() -> Floats:
        found: Floats = (luck.permutation(size) + luck.random(size)) / size
        return found

    count = chances()  # one for all tiers, which rise and fall together
    return Draws(
        wanted=tuple(boxes(tier.wanted, count) for tier in problem.tiers),
        spoiled=parts(problem.spoiled, chances()),
        damaged=parts(problem.damaged, chances()),
        surcharge=parts(problem.surcharge, chances()),
        amounts=tuple(parts(line.amount, chances()) for line in problem.lines),
    )


def sources(problem: ChancesProblem) -> list[str]:
    """Return what is uncertain, by name."""
    rates = {SPOILED: problem.spoiled, DAMAGED: problem.damaged, SURCHARGE: problem.surcharge}
    return [
        COUNT,
        *(name for name, rate in rates.items() if not rate.known),
        *(line.name for line in problem.lines if not line.amount.known),
    ]


def held(problem: ChancesProblem, draws: Draws, source: str, chance: float) -> Draws:
    """Return the draws with one source held at its quantile of a chance."""
    at = np.full(problem.scenarios, chance)
    if source == COUNT:
        return replace(draws, wanted=tuple(boxes(tier.wanted, at) for tier in problem.tiers))
    if source == SPOILED:
        return replace(draws, spoiled=parts(problem.spoiled, at))
    if source == DAMAGED:
        return replace(draws, damaged=parts(problem.damaged, at))
    if source == SURCHARGE:
        return replace(draws, surcharge=parts(problem.surcharge, at))
    amounts = zip(problem.lines, draws.amounts, strict=True)
    return replace(
        draws,
        amounts=tuple(parts(line.amount, at) if line.name == source else amount for line, amount in amounts),
    )


def parts(one: Range, chances: Floats) -> Whole:
    """Return a range's quantiles in ten-thousandths."""
    low, likely, high = (int(each * PARTS) for each in (one.low, one.likely, one.high))
    if one.known:
        return np.full(len(chances), low, dtype=np.int64)
    return np.rint(triangle(low, likely, high, chances)).astype(np.int64)


def triangle(low: float, likely: float, high: float, chances: Floats) -> Floats:
    """Return the quantiles of a triangle."""
    wide = high - low
    rising = low + np.sqrt(chances * wide * (likely - low))
    falling = high - np.sqrt((1 - chances) * wide * (high - likely))
    return np.where(chances * wide <= likely - low, rising, falling)


def boxes(count: Count, chances: Floats) -> Whole:
    """Return a count's quantiles, as whole boxes."""
    return np.rint(np.clip(quantiles(count, chances), 0, MOST_BOXES)).astype(np.int64)


def quantiles(count: Count, chances: Floats) -> Floats:
    """Return the quantiles of any kind of count."""
    if isinstance(count, Normal):
        bell = NormalDist(float(count.mean), float(count.deviation))
        return np.array([bell.inv_cdf(min(max(chance, 1e-12), 1 - 1e-12)) for chance in chances.tolist()])
    if isinstance(count, Triangle):
        return triangle(float(count.low), float(count.likely), float(count.high), chances)
    if isinstance(count, Poisson | Listed):
        listed = count.listed if isinstance(count, Poisson) else count
        reached = np.array([float(weight / listed.sums[-1][0]) for weight, _ in listed.sums])
        at = np.minimum(np.searchsorted(reached, chances), len(reached) - 1)
        return np.array([float(one.count) for one in listed.points])[at]
    corners = count.line.line if isinstance(count, Uniform) else count.line
    upto, units = (np.array([float(corner[side]) for corner in corners]) for side in (0, 1))
    return np.asarray(np.interp(chances, upto, units), dtype=np.float64)


def told(amount: int) -> Decimal:
    """Return an amount of ten-thousandths as it is."""
    return Decimal(amount) / PARTS
