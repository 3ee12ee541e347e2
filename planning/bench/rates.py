"""Two ways of doing the same work, timed in turn in one run."""

import time
from collections.abc import Callable
from statistics import median

ROUNDS = 5

Work = Callable[[], object]


def cpu_medians(*ways: Work) -> list[float]:
    """Return how many seconds of processor time each way takes, the median of ROUNDS; the ways take turns."""
    rounds = [[cpu_seconds(way) for way in ways] for _ in range(ROUNDS)]
    return [median(times) for times in zip(*rounds, strict=True)]


def cpu_seconds(work: Work) -> float:
    """Return how many seconds of processor time some work takes."""
    begun = time.process_time()
    work()
    return time.process_time() - begun


def reached(ratio: float, aim: float) -> str:
    """Say a ratio and whether it is what was aimed at."""
    return f"{ratio:.2f} ({'reached' if ratio >= aim else 'missed'}: {aim:g})"


def within(figure: float, most: float) -> str:
    """Say a figure and whether it is at most what it may be."""
    return f"{figure:.2f} ({'reached' if figure <= most else 'missed'}: at most {most:g})"
