"""Fewer, larger units, so that their selections can all be looked at: pieces that join well are kept together."""

from dataclasses import dataclass
from math import inf, prod
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from kits.recipe.arrange.lattice import Unit
from kits.recipe.arrange.sides import NEVER, Sides, Whole
from kits.recipe.arrange.units import Bundle

Units: TypeAlias = tuple[tuple[Unit, int], ...]


def selections(units: Units) -> int:
    """Return how many selections some units have."""
    return prod(count + 1 for _, count in units)


def pairs(units: Units) -> int:
    """Return how many pairs make up all of their selections."""
    return prod((count + 1) * (count + 2) // 2 for _, count in units)


def bundled(units: Units, sides: Sides, most: int, taste: float) -> Units:
    """Return the same pieces in units with at most so many selections, or with as few as can be.

    taste: how much a join of large units is favoured (above zero) or put off, where both waste as little; so that
    several tries differ.
    """
    joins = _Joins(units, sides, taste)
    while selections(joins.units) > most and joins.join():
        pass
    return joins.units


@dataclass(slots=True)
class _Held:
    unit: Unit
    count: int


class _Joins:
    """Units, and for any two of them how much a join of them would waste.

    A row or a column is enough to rank joins by; how two really lie is found when they are joined.
    """

    def __init__(self, units: Units, sides: Sides, taste: float) -> None:
        self._sides = sides
        self._taste = taste
        self._held: list[_Held] = []
        self._cost: NDArray[np.float64] = np.empty((0, 0))
        for unit, count in units:
            self._add(unit, count)

    @property
    def units(self) -> Units:
        """The units as they are now joined."""
        return tuple((held.unit, held.count) for held in self._held if held.count)

    def join(self) -> bool:
        """Join the two units that waste least of those that a sheet holds; return whether there are any."""
        while True:
            one, other = divmod(int(self._cost.argmin()), len(self._held))
            if self._cost[one, other] == inf:
                return False
            if self._joined(one, other):
                return True
            self._cost[one, other] = inf

    def _joined(self, one: int, other: int) -> bool:
        first, second = self._held[one], self._held[other]
        copies = _divisor(first.count) if one == other else 1
        times = first.count // copies if one == other else min(first.count, second.count)
        parts = ((first.unit, copies),) if one == other else ((first.unit, 1), (second.unit, 1))
        bundle = Bundle.of(parts, self._sides)
        if not bundle.fits:
            return False
        for index in {one, other}:
            self._take(index, copies * times)
        self._add(bundle, times)
        return True

    def _take(self, index: int, count: int) -> None:
        held = self._held[index]
        held.count -= count
        if held.count < 2:
            self._cost[index, index] = inf
        if held.count == 0:
            self._cost[index, :] = self._cost[:, index] = inf

    def _add(self, unit: Unit, count: int) -> None:
        self._held.append(_Held(unit, count))
        size = len(self._held)
        grown = np.full((size, size), inf)
        grown[:-1, :-1] = self._cost
        grown[:, -1] = self._costs(unit)
        grown[-1, -1] = grown[-1, -1] if count > 1 else inf
        self._cost = grown

    def _costs(self, unit: Unit) -> NDArray[np.float64]:
        """Return what it costs to join the unit with each of those held: the share wasted, by taste."""
        narrow = np.array([held.unit.narrow for held in self._held], np.int64) + unit.narrow
        low = np.array([held.unit.low for held in self._held], np.int64) + unit.low
        area = np.array([held.unit.area for held in self._held], np.int64) + unit.area
        box = np.minimum(_least(narrow, self._sides.heights), _least(low, self._sides.widths))
        sheet = self._sides.width * self._sides.height
        cost = box / area - 1 - self._taste * area / sheet
        cost[(area > sheet) | [not held.count for held in self._held]] = inf
        return cost


def _least(along: NDArray[np.int64], across: Whole) -> NDArray[np.int64]:
    boxes = np.where(along < NEVER, along, NEVER) * across.astype(np.int64)
    least: NDArray[np.int64] = boxes.min(axis=1)
    return least


def _divisor(count: int) -> int:
    return next(size for size in range(2, count + 1) if count % size == 0)
