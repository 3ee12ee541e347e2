"""The lengths that rows of pieces can have along each side of a sheet."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from kits.guillotine import Direction
from kits.measures import Length

Whole: TypeAlias = NDArray[np.int32]

NEVER = 2**30 - 1  # longer than any sheet, and twice of it still a number of 32 bits


@dataclass(frozen=True, slots=True, eq=False)
class Sides:
    """Every width and height that an arrangement can have, rising; the last are those of the sheet.

    longest: no cut is longer.
    """

    widths: Whole
    heights: Whole
    longest: Length = NEVER

    @property
    def width(self) -> Length:
        """The width of the sheet."""
        return int(self.widths[-1])

    @property
    def height(self) -> Length:
        """The height of the sheet."""
        return int(self.heights[-1])

    @property
    def all_can_be_cut(self) -> bool:
        """Whether no cut of a sheet would be too long."""
        return max(self.width, self.height) <= self.longest

    def can_cut(self, direction: Direction, width: Length, height: Length) -> bool:
        """Whether a room can be cut in a direction from edge to edge."""
        return (height if direction is Direction.UPRIGHT else width) <= self.longest

    def beside(self, narrow: Whole) -> Whole:
        """Return least widths of what is joined side by side: higher rooms than can be cut so are cut level first."""
        return _as_at(narrow, self.row(self.longest))

    def below(self, low: Whole) -> Whole:
        """Return least heights of what is joined one below the other, likewise."""
        return _as_at(low, self.column(self.longest))

    def row(self, height: Length) -> int:
        """Return the index of the largest height that fits into one."""
        return int(np.searchsorted(self.heights, height, side="right")) - 1

    def column(self, width: Length) -> int:
        """Return the index of the largest width that fits into one."""
        return int(np.searchsorted(self.widths, width, side="right")) - 1

    def narrow(self, low: Whole) -> Whole:
        """Return the least width for each height, from the least height for each width."""
        return _other(low, self.widths, self.heights)

    def low(self, narrow: Whole) -> Whole:
        """Return the least height for each width, from the least width for each height."""
        return _other(narrow, self.heights, self.widths)


def sums(sizes: Iterable[Length], step: Length, side: Length) -> Whole:
    """Return all lengths of rows of these sizes below a side, and the side itself, rising.

    A size off the step is one as long as the side, so it stands in no row.
    """
    reached, steps = 1, (side - 1) // step
    for size in sorted({size // step for size in sizes if size % step == 0}):
        shift = size
        while shift <= steps:
            reached |= reached << shift & (1 << steps + 1) - 1
            shift *= 2
    rows = [number * step for number in range(1, steps + 1) if reached >> number & 1]
    return np.array([*rows, side], np.int32)


def _as_at(least: Whole, index: int) -> Whole:
    least[index + 1 :] = least[index] if index >= 0 else NEVER
    return least


def _other(least: Whole, along: Whole, across: Whole) -> Whole:
    """Both are never rising: find the first of `along` at which `least` is no more than each of `across`."""
    return np.append(along, np.int32(NEVER)).take(np.negative(least).searchsorted(np.negative(across)))
