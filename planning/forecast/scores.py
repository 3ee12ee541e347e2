"""How each method did: at every month of the past it is told only what was known by then, and asked for those that followed.

The error is the mean of |count - middle of the forecast| over all months and distances (rolling-origin evaluation: L. J.
Tashman, International Journal of Forecasting 16 (2000), 437-450, from memory), beside that of "as many as last month".
"""

from dataclasses import dataclass

import numpy as np

from planning.forecast.history import History
from planning.forecast.paths import NAIVE, Ahead, Way, follow
from planning.forecast.retention import Floats

Flags = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]

LATEST = 12  # months tried, the last ones: what a method did years ago says little
FEWEST = 3  # months to try it in, or a method is not tried: six pairs of month and distance
TRIED_PATHS = 400  # the middle of so many is off by a sixteenth of a deviation


@dataclass(frozen=True)
class Score:
    """A method's errors over so many tries, beside naive's over the same; and how many lay between its 10 and 90 %."""

    way: Way
    tries: int
    error: float
    naive: float
    held: float


def scores(ways: tuple[Way, ...], history: History, ahead: int, seed: int) -> tuple[Score, ...]:
    """Return how every method did that has history enough, over the months that all of them can be tried in."""
    able = [way for way in ways if history.months >= way.months_needed + FEWEST]
    if not able:
        return ()
    first = max(history.months - LATEST, *(way.months_needed for way in able))
    origins = range(first, history.months)
    tried = {way: [try_at(way, history, origin, ahead, seed) for origin in origins] for way in able}
    naive = np.concatenate([middle for middle, _ in tried[NAIVE]])
    return tuple(
        Score(
            way=way,
            tries=len(naive),
            error=float(np.concatenate([off for off, _ in found]).mean()),
            naive=float(naive.mean()),
            held=float(np.concatenate([held for _, held in found]).mean()),
        )
        for way, found in tried.items()
    )


def try_at(way: Way, history: History, origin: int, ahead: int, seed: int) -> tuple[Floats, Flags]:
    """Return how far a method was off in the months after an origin, and whether they lay between its 10 and 90 %."""
    came = history.boxes[origin : origin + ahead]
    months = slice(origin, origin + len(came))
    luck = np.random.default_rng((seed, origin))
    known = Ahead(history.calendar[months], history.promoted[months])
    drawn = follow(way, history.until(origin), known, TRIED_PATHS, luck).boxes
    low, middle, high = np.quantile(drawn, (0.1, 0.5, 0.9), axis=0)
    return np.abs(came - middle), (came >= low) & (came <= high)


def best(found: tuple[Score, ...]) -> Score | None:
    """Return the score of least error, of equal ones the plainest; None where nothing could be tried."""
    return min(found, key=lambda one: one.error, default=None)
