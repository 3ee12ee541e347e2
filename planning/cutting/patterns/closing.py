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

Counts: TypeAlias = NDArray[np.float32]  # whole numbers, in the kind that is multiplied soonest
Numbers: TypeAlias = NDArray[np.intp]
Floats: TypeAlias = NDArray[np.float32]

REACH = 0.3  # of the gap: how much of it one of the last sheets may take
EACH = 40  # plans drawn of either part after a first cut
MOST = 40_000  # patterns at a time
EASE = 1e-6
AT_ONCE = 400  # patterns of which all pairs are looked at in one stroke
PAIR = 2
MARK = 0x9E3779B97F4A7C15  # an odd number whose powers tell patterns apart


@dataclass(frozen=True, slots=True, eq=False)
class Batch:
    """Patterns. counts: pieces of each size (columns) of each (rows). prices: of their sheets. column: one by its number."""

    counts: NDArray[np.int32]
    prices: Floats
    column: Callable[[int], Column]


class Closing:
    """Patterns to choose the last sheets from. looks: how many patterns and pairs may still be looked at."""

    def __init__(self, known: Known) -> None:
        self.known = known
        self.values: Floats = np.array(known.at_bound, np.float32)
        self.marks = np.array([pow(MARK, n + 1, 2**64) for n in range(len(self.values))], np.uint64)
        self.batches: list[Batch] = []
        self.counts: Counts = np.zeros((0, len(self.values)), np.float32)
        self.excess: Floats = np.zeros(0, np.float32)
        self.keys: NDArray[np.uint64] = np.zeros(0, np.uint64)
        self.origins: Numbers = np.zeros((2, 0), np.intp)  # of each, its batch and its number in there
        self.pooled = 0
        self.looks = 0
        whole, self.scale = at_bound(known)
        self.near = [(pricing, near) for pricing in known.pricings if (near := pricing.near(whole, 0, 1))]

    def draw(self, times: int) -> None:
        """Add the patterns known, and so many times those that have one first cut, drawn by lot."""
        pool = list(self.known.pool.values())[self.pooled :]
        self.pooled += len(pool)
        if pool:
            counts = np.array([one.counts for one in pool], np.int32)
            prices = np.array([self.known.prices[one.sheet] for one in pool], np.float32)
            self._add(Batch(counts, prices, pool.__getitem__))
        reach = int(self.known.gap * REACH * self.scale) + DUST
        for _ in range(times):
            for pricing, near in self.near:
                combined = near.combined(reach, EACH, len(self.values), self.known.random)
                if combined and len(self.excess) < MOST:
                    self._add(self._batch(combined, pricing.number))

    def _batch(self, combined: Combined, sheet: int) -> Batch:
        prices = np.full(len(combined.counts), self.known.prices[sheet], np.float32)
        return Batch(combined.counts, prices, partial(_column, combined, sheet))

    def _add(self, batch: Batch) -> None:
        """Add those of the patterns that are new and cost no more than the gap above their worth."""
        counts = batch.counts.astype(np.float32)
        excess = np.maximum(0, batch.prices - counts @ self.values)
        keys, first = np.unique(batch.counts.astype(np.uint64) @ self.marks, return_index=True)
        is_new = (excess[first] <= self.known.gap) & ~np.isin(keys, self.keys)
        kept = first[is_new]
        origins = np.array([np.full(len(kept), len(self.batches)), kept], np.intp)
        self.batches.append(batch)
        self.counts = np.append(self.counts, counts[kept], axis=0)
        self.excess = np.append(self.excess, excess[kept])
        self.keys = np.append(self.keys, keys[is_new])
        self.origins = np.append(self.origins, origins, axis=1)

    def find(self, rest: Sequence[int], budget: float, sheets: int, looks: int) -> list[Column] | None:
        """Return so many sheets that make the rest within the budget; None if none are found.

        What sheets cost above the worth of what they make of the rest adds up to what the budget has to spare.
        """
        self.looks = looks
        need = np.array(rest, np.float32)
        order = np.argsort(self.excess, kind="stable")
        everything = Among(order, self.counts[order], self.excess[order])
        found = self._find(need, budget - float(self.values @ need), sheets, everything)
        return None if found is None else [self._column(number) for number in found]

    def _column(self, number: int) -> Column:
        batch, within = (int(each) for each in self.origins[:, number])
        return self.batches[batch].column(within)

    def _find(self, need: Counts, spare: float, sheets: int, among: "Among") -> list[int] | None:
        self.looks -= len(among.numbers)
        over = among.counts - need
        lost = np.maximum(over, 0, out=over) @ self.values + among.excess
        fits = np.flatnonzero(lost <= spare + EASE)
        if not len(fits):
            return None
        fitting, lost = among.of(fits), lost[fits]
        if (fitting.counts.max(axis=0) * sheets < need).any():
            return None
        if sheets <= PAIR:
            self.looks -= min(AT_ONCE, len(fits)) ** 2
            return _one(need, fitting) if sheets == 1 else _pair(need, fitting)
        for place in range(len(fits)):
            if self.looks < 0:
                return None
            left = np.maximum(0, need - fitting.counts[place])
            found = self._find(left, spare - float(lost[place]), sheets - 1, fitting.of(slice(place, None)))
            if found:
                return [int(fitting.numbers[place]), *found]
        return None


@dataclass(frozen=True, slots=True, eq=False)
class Among:
    """Some of the patterns, by number; counts: of the pieces of each size (columns)."""

    numbers: Numbers
    counts: Counts
    excess: Floats

    def of(self, places: "Numbers | slice") -> "Among":
        """Return some of them."""
        return Among(self.numbers[places], self.counts[places], self.excess[places])


def _one(need: Counts, among: Among) -> list[int] | None:
    makes = (among.counts >= need).all(axis=1)
    return [int(among.numbers[makes.argmax()])] if makes.any() else None


def _pair(need: Counts, among: Among) -> list[int] | None:
    left = need - among.counts
    useful = np.flatnonzero((left <= among.counts.max(axis=0)).all(axis=1))[:AT_ONCE]
    both = (among.counts[None, useful] >= left[useful, None]).all(axis=2)
    if not both.any():
        return None
    one, other = np.argwhere(both)[0]
    return [int(among.numbers[useful[one]]), int(among.numbers[useful[other]])]


def _column(combined: Combined, sheet: int, number: int) -> Column:
    drawn = combined.drawn(number)
    return Column(sheet, drawn.counts_of(combined.counts.shape[1]), drawn)
