"""How many join: a level, and where they are asked for a trend, a season and the pull of a promotion.

A Poisson regression on the log of the mean, each effect drawn towards none by a normal prior, older months counting less and
less (the discounting of West & Harrison, Bayesian Forecasting and Dynamic Models, from memory). What months scatter beyond a
Poisson count widens both the effects and the counts. With few months the priors decide, and are wide.
"""

from dataclasses import dataclass

import numpy as np

from planning.forecast.history import Array, History
from planning.forecast.model import MOST_MEMBERS
from planning.forecast.retention import Floats

MEMORY = 0.95  # weight of a month against the one after it
FADING = 0.85  # of a trend, each month ahead: trends that go on for ever overshoot
SPREADS = {
    "level": 2.0,
    "trend": 0.05,
    "season": 0.3,
    "promotion": 0.7,
}  # deviations of the priors, on the log scale
PRIOR_SCATTER, PRIOR_MONTHS = 2.0, 3.0  # variance over mean, believed before and worth so many months


@dataclass(frozen=True)
class Joins:
    """Effects (level, trend, promotion, then twelve of the season), their covariance, and scatter = variance over mean."""

    effects: Floats
    covariance: Floats
    scatter: float
    season: bool

    def drawn(self, ahead: Array, promoted: Array, paths: int, luck: np.random.Generator) -> Array:
        """Draw who joins, [path, month]. ahead: calendar months 0 to 11; promoted: by month."""
        steps = np.arange(1, len(ahead) + 1)
        root = np.linalg.cholesky(self.covariance + 1e-12 * np.eye(len(self.effects)))
        table = design((FADING**steps).cumsum(), promoted, ahead)
        spread = luck.standard_normal((paths, len(self.effects))) @ root.T
        # the level wanders on as it did in the past: discounting loses this much of what is known each month
        spread = spread[:, None, :] * np.sqrt(MEMORY**-steps)[None, :, None]
        log_mean = ((self.effects + spread) * table).sum(-1)
        mean = np.exp(np.minimum(log_mean, np.log(MOST_MEMBERS)))
        if self.scatter > 1:
            mean = luck.gamma(mean / (self.scatter - 1), self.scatter - 1)
        return np.asarray(luck.poisson(mean), dtype=np.int64)


def design(trend: Floats, promoted: Array, calendar: Array) -> Floats:
    """Return what each effect is multiplied by, [month, effect]."""
    season = np.eye(12)[calendar]
    return np.column_stack([np.ones(len(trend)), trend, promoted, season])


def fit_joins(history: History, *, trend: bool, season: bool) -> Joins:
    """Return the likeliest effects; of those who were there before the history begins, nothing is known."""
    joined = history.joined.astype(float)
    back = np.arange(1.0 - history.months, 1.0)
    table = design(back, history.promoted, history.calendar)
    weight = MEMORY**-back
    weak = np.array(
        [SPREADS["level"], SPREADS["trend"] * trend, SPREADS["promotion"], *[SPREADS["season"] * season] * 12]
    )
    precision = 1 / np.maximum(weak, 1e-6) ** 2
    centre = np.zeros(len(weak))
    centre[0] = np.log(np.average(joined, weights=weight) + 0.5)
    effects, curvature = climbed(joined, table, weight, centre, precision)
    mean = np.exp(table @ effects)
    beyond = float((weight * (joined - mean) ** 2 / np.maximum(mean, 0.5)).sum())
    scatter = (PRIOR_SCATTER * PRIOR_MONTHS + beyond) / (PRIOR_MONTHS + max(0.0, weight.sum() - 1 - trend))
    scatter = max(1.0, scatter)
    return Joins(
        effects, np.linalg.inv(curvature / scatter + np.diag(precision) * (1 - 1 / scatter)), scatter, season
    )


def climbed(
    joined: Floats, table: Floats, weight: Floats, centre: Floats, precision: Floats
) -> tuple[Floats, Floats]:
    """Return the effects of greatest posterior and the curvature there, by Newton's steps, each kept short."""
    effects = centre.copy()
    for _ in range(60):
        mean = weight * np.exp(table @ effects)
        slope = table.T @ (weight * joined - mean) - precision * (effects - centre)
        curvature = (table.T * mean) @ table + np.diag(precision)
        step = np.linalg.solve(curvature, slope)
        effects = effects + step * min(1.0, 1.0 / max(1e-12, float(np.abs(step).max())))
        if np.abs(step).max() < 1e-10:
            break
    return effects, curvature
