"""How members stay: the shifted beta-geometric, and one flat rate for all as the plain alternative.

Each member leaves with a chance of their own, which is spread over members as a beta distribution; so those who stayed
long are those who tend to stay, and of the members in their t-th month (beta + t - 1) / (alpha + beta + t - 1) are kept.
P. S. Fader and B. G. S. Hardie, "How to project customer retention", Journal of Interactive Marketing 21(1), 2007, 76-90.
Likelihoods are products over these steps, so cohorts that joined before the history begins count from where they are seen.

alpha and beta are looked for as mean = alpha / (alpha + beta), lost in the first month, and spread = 1 / (alpha + beta + 1),
from 0 (all members alike) to 1 (each stays for ever or leaves at once).
"""

from dataclasses import dataclass

import numpy as np

Floats = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
EDGE = 12.0  # of both on the logit scale: 6 in a million
DEEP = 14.0  # nodes less likely than the best by e to this are left out
NODES = 41
PRIOR_LOST, PRIOR_KEPT = (
    1.0,
    9.0,
)  # what is believed before any month is seen: one in ten, worth ten member-months


@dataclass(frozen=True)
class Retention:
    """Shapes that may be, and how likely each is given the history. Of the flat rate beta is None and alpha the rate."""

    alpha: Floats
    beta: Floats | None
    chance: Floats

    def drawn(self, paths: int, luck: np.random.Generator) -> "Drawn":
        """Draw a shape for each path."""
        at = luck.choice(len(self.chance), size=paths, p=self.chance)
        return Drawn(self.alpha[at, None], None if self.beta is None else self.beta[at, None])


@dataclass(frozen=True)
class Drawn:
    """One shape for each path, as columns."""

    alpha: Floats
    beta: Floats | None

    def lost(self, tenure: Floats) -> Floats:
        """Return the chance [path, cohort] to be lost on the way to a tenure."""
        if self.beta is None:
            return np.broadcast_to(self.alpha, (len(self.alpha), len(tenure)))
        return self.alpha / (self.alpha + self.beta + tenure - 1)


def log_likelihood(alpha: Floats, beta: Floats, kept: Floats, lost: Floats) -> Floats:
    """Return the log-likelihood of shapes of any one form, for members kept and lost by tenure (1, 2, ...)."""
    later = np.arange(len(kept))
    whole = np.log(alpha[..., None] + beta[..., None] + later)
    stay = np.log(beta[..., None] + later)
    # the parts of alpha are alike in every term: lost members once had that chance, whatever their tenure
    found: Floats = (stay * kept).sum(-1) + np.log(alpha) * lost.sum() - (whole * (kept + lost)).sum(-1)
    return found


def shapes(mean: Floats, spread: Floats) -> tuple[Floats, Floats]:
    """Return alpha and beta of logits of mean and spread."""
    size = np.exp(-spread)  # alpha + beta = 1 / spread - 1
    share = 1 / (1 + np.exp(-mean))
    return share * size, size / (1 + np.exp(mean))


def most_likely(kept: Floats, lost: Floats) -> tuple[float, float, bool]:
    """Return alpha and beta of greatest likelihood, and whether they lie at an edge of what is looked at.

    The best node of a table is the middle of the next: a finer one if it lies well inside, else as coarse a one there, for
    the likelihood is a narrow ridge.
    """
    middle, half = np.zeros(2), EDGE
    for _ in range(200):
        axes = [np.linspace(max(-EDGE, at - half), min(EDGE, at + half), NODES) for at in middle.tolist()]
        table = log_likelihood(*shapes(axes[0][:, None], axes[1][None, :]), kept, lost)
        best = np.unravel_index(int(table.argmax()), table.shape)
        found = np.array([axis[at] for axis, at in zip(axes, best, strict=True)])
        inside = np.abs(found - middle).max() < 0.9 * half or half == EDGE
        middle, half = found, half * (0.4 if inside else 1.0)
        if half < 1e-8:
            break
    alpha, beta = shapes(middle[0], middle[1])
    return float(alpha), float(beta), bool(np.abs(middle).max() > EDGE - 1e-6)


def likely_shapes(kept: Floats, lost: Floats) -> Retention:
    """Return a table of shapes with their chances, narrowed until it holds what is likely and little else."""
    low, high = np.array([-EDGE, -EDGE]), np.array([EDGE, EDGE])
    for _ in range(12):
        axes = [np.linspace(low[side], high[side], NODES) for side in (0, 1)]
        mean, spread = np.meshgrid(*axes, indexing="ij")
        alpha, beta = shapes(mean, spread)
        table = log_likelihood(alpha, beta, kept, lost) + prior(mean, spread)
        near = table > table.max() - DEEP
        kept_rows, kept_columns = np.nonzero(near.any(axis=1))[0], np.nonzero(near.any(axis=0))[0]
        spans = [(int(found[0]), int(found[-1])) for found in (kept_rows, kept_columns)]
        if min(last - first for first, last in spans) > NODES // 2:
            break
        for side, (first, last) in enumerate(spans):
            low[side], high[side] = axes[side][max(0, first - 1)], axes[side][min(NODES - 1, last + 1)]
    chance = np.where(near, np.exp(table - table.max()), 0).ravel()
    return Retention(alpha.ravel(), beta.ravel(), chance / chance.sum())


def prior(mean: Floats, spread: Floats) -> Floats:
    """Return the log of what is believed of logits of mean and spread beforehand: any spread is as likely as another."""
    lost, kept = -np.logaddexp(0, -mean), -np.logaddexp(0, mean)
    found: Floats = PRIOR_LOST * lost + PRIOR_KEPT * kept - np.logaddexp(0, -spread) - np.logaddexp(0, spread)
    return found


def flat_rate(kept: Floats, lost: Floats) -> Retention:
    """Return one rate of loss for every tenure, by its quantiles: a beta distribution, by a table of its density."""
    a, b = PRIOR_LOST + lost.sum(), PRIOR_KEPT + kept.sum()
    wide = 8 / np.sqrt(min(a, b)) + 1e-9
    logits = np.log(a / b) + np.linspace(-wide, wide, 801)
    table = -a * np.logaddexp(0, -logits) - b * np.logaddexp(0, logits)
    chance = np.exp(table - table.max())
    return Retention(1 / (1 + np.exp(-logits)), None, chance / chance.sum())


def survival(alpha: float, beta: float, tenure: int) -> float:
    """Return the share of those who joined that is still there after so many months."""
    months = np.arange(tenure)
    return float(np.prod((beta + months) / (alpha + beta + months)))
