"""All the patterns of a sheet that are worth nearly as much as the best, read out of a finished table.

A plan whose cost is within the gap of the bound uses only patterns that fall short of their sheet's price by no
more than the gap. Where few patterns come that near, they can all be listed.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from random import Random
from typing import TypeAlias

import numpy as np

from kits.guillotine import Direction, Piece
from kits.guillotine.lay import Item, grid, row
from kits.guillotine.points import Whole
from kits.guillotine.table import Block, State, Table

BITS = 16  # of a number in which the pieces of all sizes are counted, for each size
EFFORT = 50_000  # sums of two plans to look at: half a second
EACH = 12  # plans of a part of the sheet that are kept
EACH_CUT = 10  # what one more cut costs, in sums

Split: TypeAlias = tuple[Direction, State, State]
Made: TypeAlias = "int | tuple[Direction, Made, Made]"  # a block by its number, or a cut and its two parts


@dataclass(frozen=True, slots=True)
class _Near:
    worth: int
    counts: int
    made: Made


class NearBest:
    """The plans of each part of the sheet whose worth is within the slack of the best, so many at most.

    Of a table without a price for cuts, so that a plan is worth what its parts are.
    Where that takes more effort than there is, some of them.
    """

    def __init__(
        self,
        table: Table,
        blocks: Sequence[Block],
        lying: Sequence[Piece],
        owners: Sequence[int],
        slack: int,
        most: int,
    ) -> None:
        """slack: within which all plans are listed, `most` at most."""
        self.table = table
        self.blocks = blocks
        self.lying = lying
        self.units = [1 << BITS * owner for owner in owners]
        self.slack = slack
        self.most = most
        self.known: dict[State, tuple[_Near, ...]] = {}
        self.ways: dict[State, tuple[Whole, Whole]] = {}
        self.left = EFFORT
        self.top = (len(table.across.lengths) - 1, len(table.down.lengths) - 1)

    def items(self, spacing: int) -> Iterator[Item]:
        """Yield the plans of the whole sheet, the one worth most first."""
        for near in self.of(self.top):
            yield self._item(near.made, spacing)

    def drawn(self, spacing: int, reach: int, times: int, dice: Random) -> Iterator[Item]:
        """Yield plans of the whole sheet drawn by lot from all that are within the reach, a wider slack."""
        self.slack = reach
        for _ in range(times):
            made, _ = self._draw(self.top, self.slack, dice)
            yield self._item(made, spacing)

    def _draw(self, state: State, slack: int, dice: Random) -> tuple[Made, int]:
        """Return a plan of a part, and what is left of the slack: what it is worth less than the best."""
        short, ways = self._ways_within(state)
        chosen = dice.randrange(int(np.searchsorted(short, slack, side="right")))
        left, way = slack - int(short[chosen]), int(ways[chosen])
        if way < 0:
            return -1 - way, left
        direction, one, other = self._split(state, way)
        first, left = self._draw(one, left, dice)
        second, left = self._draw(other, left, dice)
        return (direction, first, second), left

    def _ways_within(self, state: State) -> tuple[Whole, Whole]:
        """Return what each way to use a part is worth less than the best, rising, and the ways: see `_split`.

        Below 0, a block alone: -1 for the first, -2 for the second.
        """
        if state not in self.ways:
            blocks = list(self._fitting(state))
            one, other = self._halves(state)
            worth = np.append([self.blocks[number].worth for number in blocks], one + other).astype(np.int64)
            ways = np.append([-1 - number for number in blocks], np.arange(len(one))).astype(np.int64)
            useful = np.append(np.full(len(blocks), True), (one > 0) & (other > 0))
            short = int(self.table.worth[state]) - worth
            kept = np.flatnonzero(useful & (short <= self.slack))
            order = kept[np.argsort(short[kept], kind="stable")]
            self.ways[state] = short[order], ways[order]
        return self.ways[state]

    def _halves(self, state: State) -> tuple[Whole, Whole]:
        """Return the worths of both parts for each cut of a part, upright cuts first."""
        column, line = state
        first, second = self.table.upright(state)
        upper, lower = self.table.level(state)
        worth = self.table.worth
        return (
            np.append(worth[first, line], worth[column, upper]).astype(np.int64),
            np.append(worth[second, line], worth[column, lower]).astype(np.int64),
        )

    def _split(self, state: State, way: int) -> Split:
        """Return one of these cuts by its number."""
        column, line = state
        first, second = self.table.upright(state)
        if way < len(first):
            return Direction.UPRIGHT, (int(first[way]), line), (int(second[way]), line)
        upper, lower = self.table.level(state)
        return Direction.LEVEL, (column, int(upper[way - len(first)])), (column, int(lower[way - len(first)]))

    def of(self, state: State) -> tuple[_Near, ...]:
        """Return the plans of a part."""
        if state not in self.known:
            if self.left < 0:
                return ()
            found: dict[int, _Near] = {}
            singles = [_Near(self.blocks[n].worth, self.units[n], n) for n in self._fitting(state)]
            for near in (*singles, *self._sums(state)):
                before = found.get(near.counts)
                if before is None or near.worth > before.worth:
                    found[near.counts] = near
            best = sorted(found.values(), key=lambda near: (-near.worth, near.counts))
            self.known[state] = tuple(best[: self.most if state == self.top else EACH])
        return self.known[state]

    def _least(self, state: State) -> int:
        return max(1, int(self.table.worth[state]) - self.slack)

    def _fitting(self, state: State) -> Iterator[int]:
        """Yield the blocks that alone are worth enough, by number."""
        width, height = int(self.table.across.lengths[state[0]]), int(self.table.down.lengths[state[1]])
        least = self._least(state)
        for number, block in enumerate(self.blocks):
            if block.width <= width and block.height <= height and block.worth >= least:
                yield number

    def _sums(self, state: State) -> Iterator[_Near]:
        least = self._least(state)
        for direction, one, other in self._splits(state, least):
            self.left -= EACH_CUT
            firsts, seconds = self.of(one), self.of(other)
            for first in firsts:
                for second in seconds:
                    worth = first.worth + second.worth
                    self.left -= 1
                    if worth < least or self.left < 0:
                        break
                    yield _Near(worth, first.counts + second.counts, (direction, first.made, second.made))

    def _splits(self, state: State, least: int) -> Iterator[Split]:
        one, other = self._halves(state)
        for way in np.flatnonzero(one + other >= least):
            yield self._split(state, int(way))

    def _item(self, made: Made, spacing: int) -> Item:
        if isinstance(made, int):
            return grid(self.lying[made], 1, 1, spacing)
        direction = made[0]
        return row(direction, [self._item(part, spacing) for part in _in_row(made, direction)], spacing)


def _in_row(made: Made, direction: Direction) -> Iterator[Made]:
    if isinstance(made, int) or made[0] is not direction:
        yield made
    else:
        yield from _in_row(made[1], direction)
        yield from _in_row(made[2], direction)
