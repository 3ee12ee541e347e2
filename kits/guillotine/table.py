"""The worth of every part of a sheet: Gilmore and Gomory's programme over the points of its two sides.

P. C. Gilmore and R. E. Gomory, Oper. Res. 13 (1965) 94-120; J. E. Beasley, J. Oper. Res. Soc. 36 (1985).
Everything here is in whole numbers of one unit; what that unit is does not matter.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from kits.guillotine.points import Side, Whole

AT_ONCE = 2**16  # sums in one stroke of numpy: enough to be worth a call, few enough to stay in the cache


@dataclass(frozen=True, slots=True)
class Block:
    """A piece one way round, with its worth."""

    width: int
    height: int
    worth: int


@dataclass(frozen=True, slots=True)
class Table:
    """worth[i, j]: the most that a part `across.lengths[i]` wide and `down.lengths[j]` high can be worth."""

    across: Side
    down: Side
    worth: NDArray[np.signedinteger]
    price: int


def start(blocks: Sequence[Block], across: Side, down: Side, price: int, most: int) -> Table:
    """Return the table as far as rows and columns of one kind of piece go.

    price: taken off for each cut, so that of two plans worth the same the one with fewer cuts wins. Equal
    rows are counted as cut together. most: no worth in the table will be above it.
    """
    kind = np.int32 if most < 2**31 else np.int64
    worth = np.zeros((len(across.lengths), len(down.lengths)), kind)
    for block in blocks:
        _add_grids(worth, block, across.lengths, down.lengths, price)
    for axis in (0, 1):  # a larger part can hold what a smaller one holds
        np.maximum.accumulate(worth, axis=axis, out=worth)
    return Table(across, down, worth, price)


def _add_grids(
    worth: NDArray[np.signedinteger], block: Block, widths: Whole, heights: Whole, price: int
) -> None:
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
    worth, down = table.worth, table.down
    for left, right in pairwise(_bands(table.across)):
        _cut(worth, table.across, range(left, right), table.price)
        band = np.ascontiguousarray(worth[left:right].T)
        _cut(band, down, range(len(down.lengths)), table.price)
        worth[left:right] = band.T


def _bands(side: Side) -> Iterator[int]:
    index, count = 0, len(side.lengths)
    while index < count:
        yield index
        index = int(np.searchsorted(side.lengths, side.lengths[index] + side.shortest))
    yield count


def _cut(worth: NDArray[np.signedinteger], side: Side, rows: range, price: int) -> None:
    """Raise each row to the best sum of two rows that it can be cut into. The longest loop of the program."""
    at_once = max(1, AT_ONCE // worth.shape[1])
    both, other = np.empty((2, at_once, worth.shape[1]), worth.dtype)
    for row in rows:
        first, second = side.splits[row]
        for chunk in range(0, len(first), at_once):
            count = len(first[chunk : chunk + at_once])
            # "clip" as the indices are right, and numpy would else keep a copy to undo a failure
            worth.take(first[chunk : chunk + count], axis=0, out=both[:count], mode="clip")
            worth.take(second[chunk : chunk + count], axis=0, out=other[:count], mode="clip")
            best = np.add(both[:count], other[:count], out=both[:count]).max(axis=0)
            best -= price
            np.maximum(worth[row], best, out=worth[row])
