"""Sheets that come out even: pieces joined to ever larger rectangles, as long as hardly anything is wasted.

After P. Y. Wang, Oper. Res. 31 (1983), from memory: two rectangles laid side by side or one above the other make a
larger one, and those that have wasted more than is allowed are dropped. The less is allowed the fewer there are, so
this finds the tight plans that need pieces of many sizes to be looked at together.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from kits.guillotine import Direction, Offcut, Part
from kits.measures import Area, Length
from kits.recipe.arrange.lay import in_strips
from kits.recipe.arrange.sides import Sides
from kits.recipe.arrange.units import Hole, PieceUnit

MOST_WAITING = 20_000
LARGE = (
    8  # a rectangle as large as the sheet may have wasted 1/8 more than a tiny one to be looked at as soon
)

Counts: TypeAlias = NDArray[np.int16]
Pieces: TypeAlias = Sequence[tuple[PieceUnit | Hole, int]]


@dataclass(frozen=True, slots=True, eq=False)
class Rectangle:
    """Some of the pieces as one rectangle. parts: what it was joined from, none for a piece itself."""

    width: Length
    height: Length
    waste: Area
    counts: Counts
    direction: Direction
    parts: tuple["Rectangle", ...] = ()
    piece: Part | None = None

    def part(self, width: Length, height: Length) -> Part:
        """Return it as it is cut from a room that holds it."""
        right, below = width - self.width, height - self.height
        part = self.piece or in_strips(self.direction, self._filled())
        part = in_strips(Direction.LEVEL, (part, Offcut(self.width, below))) if below else part
        return in_strips(Direction.UPRIGHT, (part, Offcut(right, height))) if right else part

    def _filled(self) -> Iterator[Part]:
        for each in self.parts:
            upright = self.direction is Direction.UPRIGHT
            yield each.part(each.width, self.height) if upright else each.part(self.width, each.height)


class Evenly:
    """Joins pieces until a rectangle fills a sheet.

    pieces: each with how many of it there are. allowed: how much of a sheet may be wasted. effort: how many
    rectangles to join with each other.
    """

    def __init__(self, pieces: Pieces, sides: Sides, allowed: Area, effort: int) -> None:
        self._sides = sides
        self._allowed = allowed
        self._most: Counts = np.array([count for _, count in pieces], np.int16)
        self._areas = np.array([unit.area for unit, _ in pieces], np.int64)
        self._waiting: list[tuple[float, int, Rectangle]] = []
        self._seen: set[tuple[bytes, Length, Length]] = set()
        self._held: list[Rectangle] = []
        self._sizes = np.zeros((effort, 3), np.int64)  # width, height and waste of those held
        self._counts: Counts = np.zeros((effort, len(pieces)), np.int16)
        for index, (unit, _) in enumerate(pieces):
            one: Counts = np.zeros(len(pieces), np.int16)
            one[index] = 1
            for way in unit.ways:
                piece = unit.lay(way[0], way[1], Direction.UPRIGHT)
                self._wait(Rectangle(way[0], way[1], 0, one, Direction.UPRIGHT, piece=piece))

    def full_sheets(self) -> Iterator[Rectangle]:
        """Yield rectangles that leave no more of a sheet than allowed, as they are found, until the effort ends."""
        whole = self._sides.width * self._sides.height
        while self._waiting and len(self._held) < len(self._sizes):
            one = heappop(self._waiting)[2]
            if whole - int(one.counts @ self._areas) <= self._allowed:
                yield one
            self._hold(one)
            self._join(one)

    def _hold(self, one: Rectangle) -> None:
        self._sizes[len(self._held)] = one.width, one.height, one.waste
        self._counts[len(self._held)] = one.counts
        self._held.append(one)

    def _join(self, one: Rectangle) -> None:
        """Join a rectangle with every one that is held, itself included."""
        held = len(self._held)
        width, height, waste = self._sizes[:held].T
        can = (self._counts[:held] + one.counts <= self._most).all(axis=1)
        spilt = waste + one.waste
        beside = spilt + np.abs(height - one.height) * np.where(height < one.height, width, one.width)
        below = spilt + np.abs(width - one.width) * np.where(width < one.width, height, one.height)
        beside_fits = can & (width + one.width <= self._sides.width) & (beside <= self._allowed)
        beside_fits &= np.maximum(height, one.height) <= self._sides.longest
        below_fits = can & (height + one.height <= self._sides.height) & (below <= self._allowed)
        below_fits &= np.maximum(width, one.width) <= self._sides.longest
        for index in np.flatnonzero(beside_fits).tolist():
            self._wait(_joined(one, self._held[index], Direction.UPRIGHT, int(beside[index])))
        for index in np.flatnonzero(below_fits).tolist():
            self._wait(_joined(one, self._held[index], Direction.LEVEL, int(below[index])))

    def _wait(self, one: Rectangle) -> None:
        key = (one.counts.tobytes(), one.width, one.height)
        if key not in self._seen and len(self._waiting) < MOST_WAITING:
            self._seen.add(key)
            area, sheet = one.width * one.height, self._sides.width * self._sides.height
            rank = one.waste / area - area / (LARGE * sheet)
            heappush(self._waiting, (rank, len(self._seen), one))


def _joined(one: Rectangle, other: Rectangle, direction: Direction, waste: Area) -> Rectangle:
    width, height = one.width + other.width, max(one.height, other.height)
    if direction is Direction.LEVEL:
        width, height = max(one.width, other.width), one.height + other.height
    return Rectangle(width, height, waste, one.counts + other.counts, direction, (one, other))
