"""Futures drawn from a history: who stays, who joins and who takes no box, month by month, path by path."""

from dataclasses import dataclass

import numpy as np

from planning.forecast.history import Array, History
from planning.forecast.joins import fit_joins
from planning.forecast.retention import Drawn, flat_rate, likely_shapes

PRIOR_SWING, PRIOR_MONTHS = 0.15, 4.0  # how far a month's losses swing beyond chance, believed before
AWAY, PRIOR_AWAY = 0.02, 30.0  # members without a box, believed before and worth so many members


@dataclass(frozen=True)
class Ahead:
    """What is known of the months ahead: calendar months 0 to 11, and whether joining is promoted."""

    calendar: Array
    promoted: Array


@dataclass(frozen=True)
class Paths:
    """Boxes, joins and leaves, each [path, month]."""

    boxes: Array
    joins: Array
    leaves: Array


@dataclass(frozen=True)
class Way:
    """A method's key and name, and of what it is made. retention: "shifted", "flat" or, of as many as last month, "none"."""

    key: str
    name: str
    retention: str
    trend: bool = False
    season: bool = False

    @property
    def months_needed(self) -> int:
        """Months it must be told: two years where it knows seasons, some months where it knows a trend."""
        return 24 if self.season else 6 if self.trend else 3


NAIVE = Way("naive", "as many as last month", "none")
WAYS = (
    NAIVE,
    *(
        Way(f"{key}-{joins}", f"{name}, joins by {told}", key, joins != "level", joins == "season")
        for key, name in (("flat", "one rate of loss"), ("shifted", "shifted beta-geometric"))
        for joins, told in (
            ("level", "level"),
            ("trend", "level and trend"),
            ("season", "level, trend and season"),
        )
    ),
)


def follow(way: Way, history: History, ahead: Ahead, paths: int, luck: np.random.Generator) -> Paths:
    """Draw futures by a method."""
    if way.retention == "none":
        return wandering(history, len(ahead.calendar), paths, luck)
    kept, lost = (counts.astype(float) for counts in history.by_tenure)
    shapes = flat_rate(kept, lost) if way.retention == "flat" else likely_shapes(kept, lost)
    joins = fit_joins(history, trend=way.trend, season=way.season)
    joined = joins.drawn(ahead.calendar, ahead.promoted, paths, luck)
    drawn = shapes.drawn(paths, luck)
    swing = lost_swing(history, drawn)
    members, leaves = staying(history, joined, drawn, swing, luck)
    return Paths(boxes=members - without_box(history, members, luck), joins=joined, leaves=leaves)


def wandering(history: History, months: int, paths: int, luck: np.random.Generator) -> Paths:
    """Draw counts that change each month as much as they did in the past, in no direction."""
    changes = np.diff(history.boxes).astype(float)
    # one change more is believed, of a tenth of the boxes, and two months are no certainty: a t distribution's width
    believed = (0.1 * history.boxes[-1] + 1) ** 2
    deviation = np.sqrt((believed + (changes**2).sum()) / (1 + len(changes)))
    width = deviation / np.sqrt(luck.chisquare(1 + len(changes), size=(paths, 1)) / (1 + len(changes)))
    walk = (luck.standard_normal((paths, months)) * width).cumsum(axis=1)
    boxes = np.rint(np.clip(history.boxes[-1] + walk, 0, 1e8)).astype(np.int64)
    none = np.zeros_like(boxes)
    return Paths(boxes=boxes, joins=none, leaves=none)


def staying(
    history: History, joined: Array, drawn: Drawn, swing: float, luck: np.random.Generator
) -> tuple[Array, Array]:
    """Return members and leaves [path, month]: each cohort loses some, and those who join are the youngest cohort."""
    paths, months = joined.shape
    old, inverse = np.unique(history.age + history.months - 1 - history.start, return_inverse=True)
    ages = np.concatenate([old, np.zeros(months, dtype=np.int64)])
    here = np.zeros((paths, len(ages)), dtype=np.int64)
    here[:, : len(old)] = np.bincount(inverse, history.members[:, -1], len(old)).astype(np.int64)
    members, leaves = np.zeros_like(joined), np.zeros_like(joined)
    for month in range(months):
        live = len(old) + month
        ages[:live] += 1
        pull = np.exp(luck.standard_normal((paths, 1)) * swing - swing**2 / 2)
        chance = np.minimum(1.0, drawn.lost(ages[:live].astype(float)) * pull)
        gone = luck.binomial(here[:, :live], chance)
        here[:, :live] -= gone
        here[:, live] = joined[:, month]
        members[:, month], leaves[:, month] = here.sum(axis=1), gone.sum(axis=1)
    return members, leaves


def lost_swing(history: History, drawn: Drawn) -> float:
    """Return how far a month's losses swing beyond chance, relative to what is expected, from all months and a belief."""
    month, tenure, before, kept = history.steps
    if not len(month):
        return PRIOR_SWING
    ages, which = np.unique(tenure, return_inverse=True)
    chance = drawn.lost(ages.astype(float)).mean(axis=0)[which]
    expected = np.bincount(month, before * chance, history.months)
    scatter = np.bincount(month, before * chance * (1 - chance), history.months)
    beyond = (np.bincount(month, before - kept, history.months) - expected) ** 2 - scatter
    # months with many losses tell more: the moments of a swing that is the same share of what is expected
    believed = PRIOR_SWING**2 * PRIOR_MONTHS
    weight = expected**2 / (scatter + (PRIOR_SWING * expected) ** 2 + 1e-12)
    weight = weight * PRIOR_SWING**2  # 0 where chance alone explains a month, 1 where it explains nothing
    share = beyond / np.maximum(expected, 1e-9) ** 2
    return float(np.sqrt(max(1e-6, (believed + (weight * share).sum()) / (PRIOR_MONTHS + weight.sum()))))


def without_box(history: History, members: Array, luck: np.random.Generator) -> Array:
    """Draw who skips or pauses: a share that scatters as it did, older months counting less."""
    weight = 0.9 ** np.arange(history.months - 1.0, -1.0, -1.0)
    away = PRIOR_AWAY * AWAY + (weight * history.away).sum()
    whole = PRIOR_AWAY + (weight * history.total).sum()
    share = away / whole
    seen = (history.away + PRIOR_AWAY * AWAY) / (history.total + PRIOR_AWAY)
    months = weight.sum()
    spread = ((0.5 * share) ** 2 + (weight * (seen - share) ** 2).sum()) / (1 + months)
    # a beta distribution of this mean and variance; its variance cannot reach share x (1 - share)
    size = max(1.0, share * (1 - share) / spread - 1)
    return luck.binomial(members, luck.beta(share * size, (1 - share) * size, size=members.shape))


def quantiles_of(boxes: Array) -> list[int]:
    """Return the counts not passed with 0, 1, ... 100 percent, the smallest drawn count that suffices."""
    found = np.quantile(boxes, np.linspace(0, 1, 101), method="inverted_cdf")
    return [int(count) for count in found]
