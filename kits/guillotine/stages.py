"""The best of every part of a sheet where the stages of cutting are counted.

One pass of cuts in one direction over the worth of all parts is one stage, so that the passes of P. C. Gilmore
and R. E. Gomory's programme, Oper. Res. 13 (1965) 94-120, taken alternately give the best plans of one stage,
of two, and so on. The table of each pass is kept, to read a plan back out of it.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np

from kits.guillotine.held import place, places
from kits.guillotine.points import Side
from kits.guillotine.table import Block, Worths, raise_rows
from kits.guillotine.tree import Direction

UPRIGHT, LEVEL = Direction.UPRIGHT, Direction.LEVEL
MOST_KEPT = 2**24  # worths in all tables


@dataclass(frozen=True, slots=True)
class Stage:
    """The worth of every part, by its width and height, that is cut in this stage and in those after it.

    direction: of the cuts of this stage. before: the worth without any of them.
    exact: in the last stage of a plan in which pieces are not trimmed afterwards, strips must be just as wide
    as their pieces; these are the widths, and the tables have them in place of the lengths on that side.
    """

    direction: Direction
    before: Worths
    worth: Worths
    exact: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Grid:
    """Both sides of the sheet, the pieces, and what one cut costs, as for `kits.guillotine.table`."""

    across: Side
    down: Side
    blocks: tuple[Block, ...]
    price: int

    def along(self, direction: Direction) -> Side:
        """The side that cuts of this direction divide."""
        return self.across if direction is UPRIGHT else self.down


def stages_to(top: Direction, most: int | None, grid: Grid, *, final_trim: bool) -> tuple[list[Stage], bool]:
    """Return the stages from the last to the first, which has the direction `top`, and whether these are all.

    most: how many there may be; None for as many as are of use. They are all unless there are too many tables.
    final_trim: whether a piece may be trimmed after the last stage.
    """
    direction = top if most is None or most % 2 else top.across
    stages = [_last(direction, grid) if most and not final_trim else _cut(single(grid), direction, grid)]
    while most is None or len(stages) < most:
        if _is_settled(stages) and stages[-1].direction is top:
            break
        if sum(stage.worth.size for stage in stages) > MOST_KEPT and stages[-1].direction is top:
            return stages, False
        direction = direction.across
        before = _widened(stages[-1], grid) if stages[-1].exact else stages[-1].worth
        stages.append(_cut(before, direction, grid))
    return stages, True


def single(grid: Grid) -> Worths:
    """Return the worth of every part that holds one piece, trimmed to its size."""
    worth = np.zeros((len(grid.across.lengths), len(grid.down.lengths)), np.int64)
    for block in grid.blocks:
        for state in product(places(grid.across, block.width), places(grid.down, block.height)):
            worth[state] = max(worth[state], block.worth)
    _spread(worth, grid.across, 0)
    _spread(worth, grid.down, 1)
    return worth


def _is_settled(stages: Sequence[Stage]) -> bool:
    """Whether two passes, one in each direction, have changed nothing; then no further pass will."""
    last = stages[-2:]
    return len(last) == 2 and all(
        not stage.exact and np.array_equal(stage.before, stage.worth) for stage in last
    )


def _cut(before: Worths, direction: Direction, grid: Grid, exact: tuple[int, ...] = ()) -> Stage:
    turned = before if direction is UPRIGHT else before.T
    worth = np.array(turned, order="C")
    for sums in grid.along(direction).cuts:
        raise_rows(worth, worth, worth, sums, grid.price)
    return Stage(direction, before, worth if direction is UPRIGHT else worth.T, exact)


def _last(direction: Direction, grid: Grid) -> Stage:
    """Return the last stage of a plan in which strips are just as wide as their pieces."""
    side = grid.along(direction)
    sizes = [(b.width, b.height) if direction is UPRIGHT else (b.height, b.width) for b in grid.blocks]
    exact = tuple(sorted({across for _, across in sizes}))
    worth = np.zeros((len(side.lengths), len(exact)), np.int64)
    for (along, across), block in zip(sizes, grid.blocks, strict=True):
        index, column = place(side, along), exact.index(across)
        if index is not None:
            worth[index, column] = max(worth[index, column], block.worth)
    _spread(worth, side, 0)
    return _cut(worth if direction is UPRIGHT else worth.T, direction, grid, exact)


def _widened(last: Stage, grid: Grid) -> Worths:
    """Return the worth of every part out of which one exact strip is cut."""
    side = grid.along(last.direction.across)
    strips = last.worth if last.direction is UPRIGHT else last.worth.T
    worth = np.zeros((len(strips), len(side.lengths)), np.int64)
    for column, length in enumerate(last.exact):
        index = place(side, length)
        if index is not None:
            worth[:, index] = np.maximum(worth[:, index], strips[:, column])
    _spread(worth, side, 1)
    return worth if last.direction is UPRIGHT else worth.T


def _spread(worth: Worths, side: Side, axis: int) -> None:
    """Let each part hold what a smaller one holds, where the rest can be trimmed off."""
    wide = worth[side.narrow + 1 :] if axis == 0 else worth[:, side.narrow + 1 :]
    np.maximum.accumulate(wide, axis=axis, out=wide)
