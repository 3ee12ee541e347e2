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
SMALL = 30  # parts of a sheet that are smaller by more are not drawn but used as well as can be
EACH_CUT = 10  # what one more cut costs, in sums

Split: TypeAlias = tuple[Direction, State, State]
Made: TypeAlias = "int | tuple[Direction, Made, Made]"  # a block by its number, or a cut and its two parts


@dataclass(frozen=True, slots=True)
class _Near:
    worth: int
    counts: int
    made: Made


@dataclass(frozen=True, slots=True, eq=False)
class Drawn:
    """A plan of a part. counts: of all pieces, in one number. made: its cuts and blocks, each cut before its parts."""

    counts: int
    made: tuple["Made | Direction", ...]
    near: "NearBest"

    def counts_of(self, sizes: int) -> tuple[int, ...]:
        """Return how many pieces of each size it yields."""
        return tuple(self.counts >> BITS * size & (1 << BITS) - 1 for size in range(sizes))

    def item(self) -> Item:
        """Return how its pieces lie."""
        return self.near.item(_read(iter(self.made)))


def _read(made: "Iterator[Made | Direction]") -> Made:
    one = next(made)
    return (one, _read(made), _read(made)) if isinstance(one, Direction) else one


class Combined:
    """Plans with one first cut: any plan of the first part with any of the second.

    counts: pieces of each size (columns) that each plan (rows) yields.
    """

    def __init__(
        self, direction: Direction, firsts: Sequence[Drawn], seconds: Sequence[Drawn], sizes: int
    ) -> None:
        self.direction = direction
        self.firsts, self.seconds = firsts, seconds
        one, other = (
            np.array([drawn.counts_of(sizes) for drawn in part], np.int32) for part in (firsts, seconds)
        )
        self.counts = (one[:, None] + other[None]).reshape(-1, sizes)

    def drawn(self, number: int) -> Drawn:
        """Return one of the plans by its column."""
        one, other = divmod(number, len(self.seconds))
        first, second = self.firsts[one], self.seconds[other]
        return Drawn(first.counts + second.counts, (self.direction, *first.made, *second.made), first.near)


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
        spacing: int,
        slack: int,
        most: int,
    ) -> None:
        """slack: within which all plans are listed, `most` at most."""
        self.spacing = spacing
        self.table = table
        self.blocks = blocks
        self.lying = lying
        self.units = [1 << BITS * owner for owner in owners]
        self.slack = slack
        self.most = most
        self.known: dict[State, tuple[_Near, ...]] = {}
        self.bests: dict[State, _Near] = {}
        self.left = EFFORT
        self.small = int(table.across.lengths[-1] * table.down.lengths[-1]) // SMALL
        self.top = (len(table.across.lengths) - 1, len(table.down.lengths) - 1)

    def items(self) -> Iterator[Item]:
        """Yield the plans of the whole sheet, the one worth most first."""
        for near in self.of(self.top):
            yield self.item(near.made)

    def drawn(self, reach: int, times: int, dice: Random) -> Iterator["Drawn"]:
        """Yield plans of the whole sheet drawn by lot from those worth no less than the best by more than the reach.

        The nearer to the best, the more often.
        """
        return (self._draw(self.top, int(reach * dice.random() ** 2), dice) for _ in range(times))

    def combined(self, reach: int, each: int, sizes: int, dice: Random) -> "Combined | None":
        """Return plans of the whole sheet with one first cut, drawn by lot; None if each is cut into no two parts.

        each: how many plans are drawn of either part; every two of them are a plan of the whole.
        """
        way, lost = self._any_way(self.top, reach, dice)
        if way is None:
            return None
        left = (reach - lost) // 2
        parts = [
            [self._draw(state, int(left * dice.random() ** 2), dice) for _ in range(each)]
            for state in way[1:]
        ]
        return Combined(way[0], parts[0], parts[1], sizes)

    def _draw(self, state: State, left: int, dice: Random) -> "Drawn":
        """Return a plan of a part worth at most so much less than the best; small parts are used as well as can be."""
        counts = 0
        made: list[Made | Direction] = []
        waiting = [state]
        while waiting:
            state = waiting.pop()
            way, lost = (None, 0) if self._is_small(state) else self._any_way(state, left, dice)
            left -= lost
            if way is None:
                best = self._best(state)
                counts += best.counts
                made.append(best.made)
            else:
                made.append(way[0])
                waiting += way[1:]
        return Drawn(counts, tuple(made), self)

    def _is_small(self, state: State) -> bool:
        width, height = self.table.across.lengths[state[0]], self.table.down.lengths[state[1]]
        return bool(width * height < self.small)

    def _any_way(self, state: State, left: int, dice: Random) -> tuple[Split | None, int]:
        """Return one of the cuts that lose no more, and what it loses; None, or as often as a block loses no more."""
        best = int(self.table.worth[state])
        one, other = self._halves(state)
        short = best - one - other
        cuts = np.flatnonzero((short <= left) & (one > 0) & (other > 0))
        chosen = int(dice.random() * (len(cuts) + any(self._alone(state, best))))
        if chosen == len(cuts):
            return None, 0
        return self._split(state, int(cuts[chosen])), int(short[cuts[chosen]])

    def _best(self, state: State) -> _Near:
        """Return a plan of a part that is worth as much as any."""
        if state not in self.bests:
            best = int(self.table.worth[state])
            block = next(self._alone(state, best), None)
            self.bests[state] = self._best_cut(state, best) if block is None else self._single(block)
        return self.bests[state]

    def _best_cut(self, state: State, best: int) -> _Near:
        one, other = self._halves(state)
        ways = np.flatnonzero((one + other == best) & (one > 0) & (other > 0))
        if not len(ways):  # too long to be cut, and more than it needs to be
            column, line = state
            return self._best(
                (column - 1, line) if self.table.worth[column - 1, line] == best else (column, line - 1)
            )
        direction, first, second = self._split(state, int(ways[0]))
        parts = self._best(first), self._best(second)
        return _Near(best, parts[0].counts + parts[1].counts, (direction, parts[0].made, parts[1].made))

    def _single(self, number: int) -> _Near:
        return _Near(self.blocks[number].worth, self.units[number], number)

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
            singles = [self._single(number) for number in self._alone(state, self._least(state))]
            for near in (*singles, *self._sums(state)):
                before = found.get(near.counts)
                if before is None or near.worth > before.worth:
                    found[near.counts] = near
            best = sorted(found.values(), key=lambda near: (-near.worth, near.counts))
            self.known[state] = tuple(best[: self.most if state == self.top else EACH])
        return self.known[state]

    def _least(self, state: State) -> int:
        return max(1, int(self.table.worth[state]) - self.slack)

    def _alone(self, state: State, least: int) -> Iterator[int]:
        """Yield the blocks that alone are worth enough, by number."""
        width, height = int(self.table.across.lengths[state[0]]), int(self.table.down.lengths[state[1]])
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

    def item(self, made: Made) -> Item:
        """Return how the pieces of a plan lie."""
        if isinstance(made, int):
            return grid(self.lying[made], 1, 1, self.spacing)
        direction = made[0]
        return row(direction, [self.item(part) for part in _in_row(made, direction)], self.spacing)


def _in_row(made: Made, direction: Direction) -> Iterator[Made]:
    if isinstance(made, int) or made[0] is not direction:
        yield made
    else:
        yield from _in_row(made[1], direction)
        yield from _in_row(made[2], direction)
