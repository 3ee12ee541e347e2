"""All the patterns of a sheet that are worth nearly as much as the best, read out of a finished table.

A plan whose cost is within the gap of the bound uses only patterns that fall short of their sheet's price by no
more than the gap. Where few patterns come that near, they can all be listed.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from kits.guillotine import Direction, Piece
from kits.guillotine.lay import Item, grid, row
from kits.guillotine.table import Block, Table
from kits.guillotine.trace import State

BITS = 16  # of a number in which the pieces of all sizes are counted, for each size
EFFORT = 100_000  # sums of two plans to look at: less than a second
EACH_CUT = 10  # what one more cut costs, in sums

Made: TypeAlias = "int | tuple[Direction, Made, Made]"  # a block by its number, or a cut and its two parts


@dataclass(frozen=True, slots=True)
class _Near:
    worth: int
    counts: int
    made: Made


class NearBest:
    """The plans of each part of the sheet whose worth is within the slack of the best, so many at most.

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
        self.table = table
        self.blocks = blocks
        self.lying = lying
        self.units = [1 << BITS * owner for owner in owners]
        self.slack = slack
        self.most = most
        self.known: dict[State, tuple[_Near, ...]] = {}
        self.left = EFFORT

    def items(self, spacing: int) -> Iterator[Item]:
        """Yield the plans of the whole sheet, the one worth most first."""
        top = (len(self.table.across.lengths) - 1, len(self.table.down.lengths) - 1)
        for near in self.of(top):
            yield self._item(near.made, spacing)

    def of(self, state: State) -> tuple[_Near, ...]:
        """Return the plans of a part."""
        if state not in self.known:
            if self.left < 0:
                return ()
            found: dict[int, _Near] = {}
            for near in (*self._singles(state), *self._sums(state)):
                before = found.get(near.counts)
                if before is None or near.worth > before.worth:
                    found[near.counts] = near
            best = sorted(found.values(), key=lambda near: (-near.worth, near.counts))
            self.known[state] = tuple(best[: self.most])
        return self.known[state]

    def _least(self, state: State) -> int:
        return max(1, int(self.table.worth[state]) - self.slack)

    def _singles(self, state: State) -> Iterator[_Near]:
        width, height = int(self.table.across.lengths[state[0]]), int(self.table.down.lengths[state[1]])
        least = self._least(state)
        for number, block in enumerate(self.blocks):
            if block.width <= width and block.height <= height and block.worth >= least:
                yield _Near(block.worth, self.units[number], number)

    def _sums(self, state: State) -> Iterator[_Near]:
        least, price = self._least(state), self.table.price
        for direction, one, other in self._splits(state, least + price):
            self.left -= EACH_CUT
            firsts, seconds = self.of(one), self.of(other)
            for first in firsts:
                for second in seconds:
                    worth = first.worth + second.worth - price
                    self.left -= 1
                    if worth < least or self.left < 0:
                        break
                    yield _Near(worth, first.counts + second.counts, (direction, first.made, second.made))

    def _splits(self, state: State, least: int) -> Iterator[tuple[Direction, State, State]]:
        column, line = state
        worth = self.table.worth
        first, second = self.table.across.splits[column]
        for at in np.flatnonzero(worth[first, line] + worth[second, line] >= least):
            yield Direction.UPRIGHT, (int(first[at]), line), (int(second[at]), line)
        first, second = self.table.down.splits[line]
        for at in np.flatnonzero(worth[column, first] + worth[column, second] >= least):
            yield Direction.LEVEL, (column, int(first[at])), (column, int(second[at]))

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
