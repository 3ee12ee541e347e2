"""One case of a bench as a line of its table, and the computation that its time is compared with."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import TypeAlias, TypeVar

import numpy as np

Figure: TypeAlias = int | Decimal | Fraction | None
Answer = TypeVar("Answer")

HEADING = f"{'case':<36}{'optimum':>12}{'found':>12}{'bound':>12}{'seconds':>9}{'ratio':>8}  ended"


@dataclass(frozen=True, slots=True)
class Row:
    """What came of one case. optimum: the published one; None where none is known. ended: in words."""

    case: str
    optimum: Figure
    found: Figure
    bound: Figure
    ended: str
    seconds: float

    def line(self, reference: float) -> str:
        """Return the line below HEADING. reference: seconds of the reference computation in the same run."""
        figures = "".join(f"{_short(each):>12}" for each in (self.optimum, self.found, self.bound))
        return f"{self.case:<36}{figures}{self.seconds:>9.3f}{self.seconds / reference:>8.2f}  {self.ended}"


def timed(work: Callable[[], Answer]) -> tuple[Answer, float]:
    """Return what comes of some work, and how many seconds it took."""
    begun = time.perf_counter()
    answer = work()
    return answer, time.perf_counter() - begun


def reference() -> float:
    """Return how many seconds one fixed computation takes, the shortest of three, by which machines differ."""
    return min(timed(_fixed_work)[1] for _ in range(3))


def _fixed_work() -> int:
    """Whole numbers in numpy and in plain Python, about as much of either as the searches do."""
    worth = np.arange(400 * 400, dtype=np.int64).reshape(400, 400) % 997
    for first in range(1, 200):
        np.maximum(worth[399 - first], worth[:first].max(axis=0) + worth[first], out=worth[399 - first])
    return int(worth.sum()) + sum(number * number % 7 for number in range(200_000))


def _short(figure: Figure) -> str:
    if figure is None:
        return "-"
    return f"{figure:,}" if isinstance(figure, int | Decimal) else f"{float(figure):,.3f}"
