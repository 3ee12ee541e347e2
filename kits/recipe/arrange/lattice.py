"""The least room for every selection of the pieces, by guillotine cuts.

A selection takes some copies of each unit. Whatever way it is cut, the first cut parts it into two smaller
selections, one beside or below the other; so its least width for every height follows from theirs, exactly. The
selections form a lattice that is worked through once, smaller ones first.
"""

from bisect import bisect_right
from collections.abc import Sequence
from math import prod
from typing import Protocol, TypeAlias

import numpy as np
from numpy.typing import NDArray

from kits.guillotine import Direction, Part
from kits.measures import Area, Length
from kits.recipe.arrange.sides import NEVER, Sides, Whole

State: TypeAlias = int  # a selection: its copies of each unit as the digits of one number
States: TypeAlias = NDArray[np.int64]

AT_ONCE = 2**16  # numbers handled in one stroke of numpy


class Unit(Protocol):
    """Something that is laid as one: a piece, or several pieces that were joined before.

    narrow: its least width for every height. low: its least height for every width.
    """

    @property
    def area(self) -> Area: ...  # noqa: D102

    @property
    def narrow(self) -> Whole: ...  # noqa: D102

    @property
    def low(self) -> Whole: ...  # noqa: D102

    def lay(self, width: Length, height: Length, direction: Direction) -> Part:
        """Return it inside a room, as cut by one who would cut in that direction without a turn."""


class Lattice:
    """All selections of some units.

    narrow[state, j]: the least width within height j, NEVER if there is none. low[state, i]: the least height
    within width i. inside[state]: all selections inside it, rising, from the empty one to itself.
    """

    def __init__(self, units: Sequence[tuple[Unit, int]], sides: Sides) -> None:
        self.units = tuple(units)
        self.sides = sides
        self.strides = tuple(prod(count + 1 for _, count in units[:index]) for index in range(len(units)))
        self.full: State = sum(count * stride for (_, count), stride in zip(units, self.strides, strict=True))
        size = self.full + 1
        self.narrow: Whole = np.full((size, len(sides.heights)), NEVER, np.int32)
        self.low: Whole = np.full((size, len(sides.widths)), NEVER, np.int32)
        self.narrow[0] = self.low[0] = 0
        self.area = np.zeros(size, np.int64)
        self.fits = np.zeros(size, bool)
        self.inside: list[States] = [np.zeros(1, np.int64)]
        self._most = sides.width * sides.height
        self._steps = [np.arange(count + 1, dtype=np.int64)[:, None] for _, count in units]
        self.fits[0] = True
        for state in range(1, size):
            self._work_out(state)

    def copies(self, state: State) -> tuple[int, ...]:
        """Return how many copies of each unit a selection takes."""
        return tuple(
            state // stride % (count + 1) for (_, count), stride in zip(self.units, self.strides, strict=True)
        )

    def unit(self, state: State) -> Unit | None:
        """Return the unit that a selection is one copy of, and nothing else."""
        return self.units[self.strides.index(state)][0] if state in self.strides else None

    def _work_out(self, state: State) -> None:
        top = bisect_right(self.strides, state) - 1
        stride, unit = self.strides[top], self.units[top][0]
        digit, below = divmod(state, stride)
        steps = self._steps[top][: digit + 1] * stride
        self.inside.append((steps + self.inside[below]).ravel())
        self.area[state] = self.area[state - stride] + unit.area
        if self.area[state] > self._most:
            return
        narrow = unit.narrow if state == stride else self._joined(state)
        if narrow is not None:
            self.narrow[state] = narrow
            self.low[state] = self.sides.low(narrow)
            self.fits[state] = narrow[-1] <= self.sides.width

    def _joined(self, state: State) -> Whole | None:
        """Return the least width of a selection for every height, from those of all pairs that make it up."""
        inside = self.inside[state]
        first = inside[1 : (len(inside) + 1) // 2]  # the others are what these leave
        first = first[self.fits[first] & self.fits[state - first]]
        if not len(first):
            return None
        beside = self.sides.beside(_best(self.narrow, first, state))
        below = self.sides.below(_best(self.low, first, state))
        narrow = np.minimum(beside, self.sides.narrow(below))
        return np.where(narrow <= self.sides.width, narrow, np.int32(NEVER))


def _best(least: Whole, first: States, state: State) -> Whole:
    """Return the least sum of both parts over all pairs."""
    at_once = max(1, AT_ONCE // least.shape[1])
    best: Whole = np.full(least.shape[1], NEVER, np.int32)
    for start in range(0, len(first), at_once):
        some = first[start : start + at_once]
        sums = least.take(some, axis=0)
        sums += least.take(state - some, axis=0)
        np.minimum(best, sums.min(axis=0), out=best)
    return best


def fewest_sheets(lattice: Lattice) -> NDArray[np.int64]:
    """Return for every selection the least number of sheets that yields it."""
    fewest = np.zeros(lattice.full + 1, np.int64)
    for state in range(1, lattice.full + 1):
        inside = lattice.inside[state]
        first = inside[1 : (len(inside) + 1) // 2]
        parted = (fewest[first] + fewest[state - first]).min(initial=NEVER)
        fewest[state] = 1 if lattice.fits[state] else parted
    return fewest
