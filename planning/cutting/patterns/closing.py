"""The last sheets of a plan: patterns that together make just what is missing, out of very many.

The more patterns are nearly worth their price, the more likely three of them make a given rest: ten times the
patterns are a thousand times the plans. So they are had by the ten thousand, as any plan of one part of a sheet
with any of the other, and never go into a programme.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from planning.cutting.patterns.column import Column
from planning.cutting.patterns.generate import DUST, at_bound
from planning.cutting.patterns.known import Known
from planning.cutting.patterns.near import Combined
from planning.cutting.patterns.programme import Floats

Counts: TypeAlias = NDArray[np.int32]
Numbers: TypeAlias = NDArray[np.intp]

REACH = 0.3  # of the gap: how much of it one of the last sheets may take
EACH = 40  # plans drawn of either part after a first cut
MOST = 40_000  # patterns at a time
EASE = 1e-9
MOST_PAIRS = 250_000  # looked at in one stroke
PAIR = 2
MARK = 0x9E3779B97F4A7C15  # an odd number whose powers tell patterns apart


@dataclass(frozen=True, slots=True, eq=False)
class Batch:
    """Patterns. counts: pieces of each size (rows) of each (columns). prices: of their sheets. column: one by its number."""

    counts: Counts
    prices: Floats
    column: Callable[[int], Column]


class Closing:
    """Patterns to choose the last sheets from. nodes: how many rests may still be looked at."""

    def __init__(self, known: Known) -> None:
        self.known = known
        self.values = np.array(known.at_bound)
        self.marks = np.array([pow(MARK, n + 1, 2**64) for n in range(len(self.values))], np.uint64)
        self.batches: list[Batch] = []
        self.counts: Counts = np.zeros((len(self.values), 0), np.int32)
        self.excess: Floats = np.zeros(0)
        self.keys: NDArray[np.uint64] = np.zeros(0, np.uint64)
        self.origins: Numbers = np.zeros((2, 0), np.intp)  # of each, its batch and its number in there
        self.pooled = 0
        self.nodes = 0
        whole, self.scale = at_bound(known)
        self.near = [(pricing, near) for pricing in known.pricings if (near := pricing.near(whole, 0, 1))]

    def draw(self, times: int) -> None:
        """Add the patterns known, and so many times those that have one first cut, drawn by lot."""
        pool = list(self.known.pool.values())[self.pooled :]
        self.pooled += len(pool)
        if pool:
            counts = np.array([one.counts for one in pool], np.int32).T
            prices = np.array([self.known.prices[one.sheet] for one in pool])
            self._add(Batch(counts, prices, pool.__getitem__))
        reach = int(self.known.gap * REACH * self.scale) + DUST
        for _ in range(times):
            for pricing, near in self.near:
                combined = near.combined(reach, EACH, len(self.values), self.known.random)
                if combined and len(self.excess) < MOST:
                    self._add(self._batch(combined, pricing.number))

    def _batch(self, combined: Combined, sheet: int) -> Batch:
        prices = np.full(combined.counts.shape[1], self.known.prices[sheet])
        return Batch(combined.counts, prices, partial(_column, combined, sheet))

    def _add(self, batch: Batch) -> None:
        """Add those of the patterns that are new and cost no more than the gap above their worth."""
        excess = np.maximum(0.0, batch.prices - self.values @ batch.counts)
        keys, first = np.unique(self.marks @ batch.counts.astype(np.uint64), return_index=True)
        kept = first[(excess[first] <= self.known.gap) & ~np.isin(keys, self.keys)]
        origins = np.array([np.full(len(kept), len(self.batches)), kept], np.intp)
        self.batches.append(batch)
        self.counts = np.append(self.counts, batch.counts[:, kept], axis=1)
        self.excess = np.append(self.excess, excess[kept])
        self.keys = np.append(self.keys, self.marks @ batch.counts[:, kept].astype(np.uint64))
        self.origins = np.append(self.origins, origins, axis=1)

    def find(self, rest: Sequence[int], budget: float, sheets: int, nodes: int) -> list[Column] | None:
        """Return so many sheets that make the rest within the budget; None if none are found.

        What sheets cost above the worth of what they make of the rest adds up to what the budget has to spare.
        """
        self.nodes = nodes
        need = np.array(rest, np.int32)
        spare = budget - float(self.values @ need)
        found = self._find(need, spare, sheets, np.argsort(self.excess, kind="stable"))
        return None if found is None else [self._column(number) for number in found]

    def _column(self, number: int) -> Column:
        batch, within = (int(each) for each in self.origins[:, number])
        return self.batches[batch].column(within)

    def _find(self, need: Counts, spare: float, sheets: int, among: Numbers) -> list[int] | None:
        self.nodes -= 1
        among, lost = self._fitting(need, spare, among)
        counts = self.counts[:, among]
        if not len(among) or (counts.max(axis=1) * sheets < need).any():
            return None
        if sheets == 1:
            return self._one(need, among)
        if sheets == PAIR:
            return self._pair(need, among)
        for place, number in enumerate(among):
            if self.nodes < 0:
                return None
            left = np.maximum(0, need - counts[:, place])
            found = self._find(left, spare - lost[place], sheets - 1, among[place:])
            if found:
                return [int(number), *found]
        return None

    def _fitting(self, need: Counts, spare: float, among: Numbers) -> tuple[Numbers, Floats]:
        """Return the patterns that lose no more than there is to spare, and what they lose: excess and surplus."""
        over = np.maximum(0, self.counts[:, among] - need[:, None])
        lost = self.values @ over + self.excess[among]
        fits = lost <= spare + EASE
        return among[fits], lost[fits]

    def _one(self, need: Counts, among: Numbers) -> list[int] | None:
        makes = (self.counts[:, among] >= need[:, None]).all(axis=0)
        return [int(among[makes.argmax()])] if makes.any() else None

    def _pair(self, need: Counts, among: Numbers) -> list[int] | None:
        counts = self.counts[:, among]
        left = need[:, None] - counts
        useful = np.flatnonzero((left <= counts.max(axis=1)[:, None]).all(axis=0))
        useful = useful[: int(MOST_PAIRS**0.5)]
        both = (counts[:, None, useful] >= left[:, useful, None]).all(axis=0)
        if not both.any():
            return None
        one, other = np.argwhere(both)[0]
        return [int(among[useful[one]]), int(among[useful[other]])]


def _column(combined: Combined, sheet: int, number: int) -> Column:
    drawn = combined.drawn(number)
    return Column(sheet, drawn.counts_of(len(combined.counts)), drawn)
