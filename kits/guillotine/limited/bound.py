"""What no plan can exceed where only so many of a piece are wanted: a price on every piece beyond its limit.

J. E. Beasley, Oper. Res. 33 (1985) 49-64, relaxes the limits so; here the relaxed problem is solved by the
programme of `kits.guillotine.table`, and the prices follow the subgradient.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Generic, TypeVar

import numpy as np
from numpy.typing import NDArray

from kits.guillotine.limited.question import Question
from kits.guillotine.limited.read import Node, count, read
from kits.guillotine.points import Side, Whole
from kits.guillotine.table import Table, fill

PARTS = 256  # of 1 of worth: prices are whole numbers of such parts
STALLED = 5  # steps without gain after which they become smaller
SMALLEST_STEP = 1 / 50
MOMENTUM = 0.5
AIM = 0.5  # how far between the best bound and the best plan the optimum is taken to lie

Plan = TypeVar("Plan")


@dataclass(frozen=True, slots=True)
class Relaxed(Generic[Plan]):
    """The sheet without limits, at a price for each piece.

    prices: for one of each kind, in parts of 1 of worth. plan: the best at these prices. counts: of its pieces,
    which may exceed the limits. bound: of the worth of any plan within the limits, in such parts.
    """

    prices: Whole
    plan: Plan
    counts: Whole
    bound: int


@dataclass(frozen=True, slots=True)
class Priced:
    """The worth of every part less the prices, and the best plan at these prices."""

    table: Table
    plan: list[Node]


def area_prices(question: Question) -> Whole:
    """Return the prices at which area alone decides: the dual of the knapsack of areas."""
    left = question.width * question.height
    worth, areas = question.worth * PARTS, question.areas
    for kind in np.lexsort((np.arange(len(worth)), -(worth / areas))):
        left -= int(areas[kind] * question.limits[kind])
        if left < 0:
            rate = [int(area) * int(worth[kind]) // int(areas[kind]) for area in areas]
            worth = np.maximum(0, worth - np.array(rate))
            break
    return worth


def relaxed(question: Question, across: Side, down: Side, prices: Whole) -> Relaxed[Priced]:
    """Return the table of a sheet at these prices, and its best plan."""
    left = question.worth * PARTS - prices
    worth = np.zeros((len(across.lengths), len(down.lengths)), np.int64)
    for kind, block in zip(question.kinds, question.blocks, strict=True):
        at = np.searchsorted(across.lengths, block.width), np.searchsorted(down.lengths, block.height)
        worth[at] = max(worth[at], left[kind])
    for axis in (0, 1):  # a larger part can hold what a smaller one holds
        np.maximum.accumulate(worth, axis=axis, out=worth)
    table = Table(across, down, worth, 0)
    fill(table)
    bound = int(worth[-1, -1]) + int(prices @ question.limits)
    priced = Priced(table, read(question, table, left))
    return Relaxed(prices, priced, count(question, priced.plan), bound)


class Descent(Generic[Plan]):
    """Prices that lower the bound step by step. best: the lowest so far. tried: all prices and their bounds.

    solve: the sheet at given prices. worth, limits: of each kind. first: the prices to begin with.
    """

    def __init__(
        self, solve: Callable[[Whole], Relaxed[Plan]], worth: Whole, limits: Whole, first: Whole
    ) -> None:
        self.solve, self.limits, self.highest = solve, limits, worth * PARTS
        self.best = self.now = solve(first)
        self.tried = [(self.now.bound, first)]
        self.size = 1.0
        self.stalled = 0
        self.direction: NDArray[np.float64] = np.zeros(len(worth))

    def steps(self, most: int, known: int) -> Iterator[Relaxed[Plan]]:
        """Yield the sheet at new prices, at most so many times. known: the worth of a plan."""
        for _ in range(most):
            if self.size < SMALLEST_STEP or self.best.bound // PARTS <= known or not self._turn():
                return
            self.now = self.solve(self._stepped(known))
            self.tried.append((self.now.bound, self.now.prices))
            self._judge(known)
            yield self.now

    def others(self, most: int, known: int) -> list[Whole]:
        """Return prices that bound nearly as well as the best, as different from it and each other as can be."""
        limit = self.best.bound + (self.best.bound - known * PARTS) // 2
        good = [prices for bound, prices in self.tried if bound <= limit]
        chosen = [self.best.prices]
        distances = np.full(len(good), np.inf)
        while len(chosen) <= most:
            away = [np.abs(prices - chosen[-1]) @ self.limits for prices in good]
            distances = np.minimum(distances, away)
            if not distances.any():
                break
            chosen.append(good[int(np.argmax(distances))])
        return chosen[1:]

    def _turn(self) -> bool:
        """Choose the direction of the next step; False where there is none."""
        prices = self.now.prices
        self.direction = self.now.counts - self.limits + MOMENTUM * self.direction
        blocked = ((prices == 0) & (self.direction < 0)) | ((prices == self.highest) & (self.direction > 0))
        self.direction[blocked] = 0
        return bool(self.direction.any())

    def _stepped(self, known: int) -> Whole:
        """Return the prices after one step (B. T. Polyak, 1969, from memory)."""
        target = self.best.bound - (self.best.bound - known * PARTS) * AIM
        step = self.size * (self.now.bound - target) / float(self.direction @ self.direction)
        moved = self.now.prices + (step * self.direction).astype(np.int64)
        return np.clip(moved, 0, self.highest)

    def _judge(self, known: int) -> None:
        gain = self.best.bound - self.now.bound
        self.stalled = 0 if gain > (self.best.bound - known * PARTS) / 500 else self.stalled + 1
        if gain > 0:
            self.best = self.now
        if self.stalled == STALLED:
            self.size, self.stalled = self.size / 2, 0
