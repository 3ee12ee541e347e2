"""The worth of every part of a sheet: Gilmore and Gomory's programme over the points of its two sides.

P. C. Gilmore and R. E. Gomory, Oper. Res. 13 (1965) 94-120; J. E. Beasley, J. Oper. Res. Soc. 36 (1985).
Everything here is in whole numbers of one unit; what that unit is does not matter.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from kits.guillotine.points import Side, Sums, Whole

Worths: TypeAlias = NDArray[np.signedinteger]

AT_ONCE = 2**16  # sums in one stroke of numpy: enough to be worth a call, few enough to stay in the cache


@dataclass(frozen=True, slots=True)
class Block:
    """A piece one way round, with its worth."""

    width: int
    height: int
    worth: int


NO_END = 2**62
NO_CUTS = np.zeros(0, np.int64), np.zeros(0, np.int64)
State: TypeAlias = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Table:
    """worth[i, j]: the most that a part `across.lengths[i]` wide and `down.lengths[j]` high can be worth.

    wide, tall: from this column on a part is too wide for a level cut, from this row on too high for an upright one.
    """

    across: Side
    down: Side
    worth: Worths
    price: int
    wide: int = NO_END
    tall: int = NO_END

    def upright(self, state: State) -> tuple[Whole, Whole]:
        """Return the columns of both parts for each upright cut of a part."""
        return self.across.splits[state[0]] if state[1] < self.tall else NO_CUTS

    def level(self, state: State) -> tuple[Whole, Whole]:
        """Return the rows of both parts for each level cut of a part."""
        return self.down.splits[state[1]] if state[0] < self.wide else NO_CUTS


def start(
    blocks: Sequence[Block],
    across: Side,
    down: Side,
    price: int,
    most: int,
    longest: tuple[int, int] | None = None,
) -> Table:
    """Return the table as far as rows and columns of one kind of piece go.

    price: taken off for each cut, so that of two plans worth the same the one with fewer cuts wins. Equal
    rows are counted as cut together. most: no worth in the table will be above it. longest: the longest cut a machine
    makes across and down; one side of the sheet is no longer.
    """
    kind = np.int32 if most < 2**31 else np.int64
    worth = np.zeros((len(across.lengths), len(down.lengths)), kind)
    for block in blocks:
        _add_grids(worth, block, across.lengths, down.lengths, price)
    for axis in (0, 1):  # a larger part can hold what a smaller one holds
        np.maximum.accumulate(worth, axis=axis, out=worth)
    if longest is None:
        return Table(across, down, worth, price)
    return Table(across, down, worth, price, _cut_along(across, longest[0]), _cut_along(down, longest[1]))


def _cut_along(side: Side, longest: int) -> int:
    """Return how many of the lengths may be cut along.

    Where a length stands for all that is longer than the one before, as raster points do, it may if any of these may.
    """
    return int(np.searchsorted(side.lengths, longest)) + 1


def _add_grids(worth: Worths, block: Block, widths: Whole, heights: Whole, price: int) -> None:
    """Enter each grid of equal blocks at the smallest part that holds it."""
    columns = np.arange(1, widths[-1] // block.width + 1)
    rows = np.arange(1, heights[-1] // block.height + 1)
    grids = np.multiply.outer(columns, rows) * block.worth - np.add.outer(columns - 1, rows - 1) * price
    at = np.ix_(np.searchsorted(widths, columns * block.width), np.searchsorted(heights, rows * block.height))
    np.maximum.at(worth, at, grids)


def fill(table: Table) -> None:
    """Work out the table by cuts.

    Parts that differ in width by less than the narrowest piece cannot be cut from each other, so each such
    band is finished by cutting its parts first upright, into narrower ones, and then level.
    """
    worth, across, down = table.worth, table.across, table.down
    for band, cuts in zip(across.bands, across.cuts, strict=True):
        low = worth[:, : table.tall]
        raise_rows(low, low, low, cuts, table.price)
        cut = slice(band.start, min(band.stop, max(band.start, table.wide)))
        turned = np.ascontiguousarray(worth[cut].T)
        for below in down.cuts:
            raise_rows(turned, turned, turned, below, table.price)
        worth[cut] = turned.T


def raise_rows(worth: Worths, one: Worths, other: Worths, sums: Sums, price: int = 0) -> None:
    """Raise each row of `worth` to the best sum of a row of `one` and a row of `other`, less the price.

    The longest loop of the program.
    """
    if len(sums.first) * worth.shape[1] <= AT_ONCE:
        if len(sums.rows):
            both = one.take(sums.first, axis=0) + other.take(sums.second, axis=0)
            best = np.maximum.reduceat(both, sums.heads, axis=0) - price
            worth[sums.rows] = np.maximum(worth[sums.rows], best)
        return
    at_once = max(1, AT_ONCE // worth.shape[1])
    space = np.empty((2, at_once, worth.shape[1]), worth.dtype)
    for row, (start_at, end) in zip(sums.rows, pairwise((*sums.heads, len(sums.first))), strict=True):
        for at in range(start_at, end, at_once):
            piece = slice(at, min(at + at_once, end))
            best = _best_sum(one, other, sums.first[piece], sums.second[piece], space)
            best -= price
            np.maximum(worth[row], best, out=worth[row])


def _best_sum(one: Worths, other: Worths, first: Whole, second: Whole, space: Worths) -> Worths:
    count = len(first)
    left, right = space[0, :count], space[1, :count]
    # "clip" as the indices are right, and numpy would else keep a copy to undo a failure
    one.take(first, axis=0, out=left, mode="clip")
    other.take(second, axis=0, out=right, mode="clip")
    best: Worths = np.add(left, right, out=left).max(axis=0)
    return best
