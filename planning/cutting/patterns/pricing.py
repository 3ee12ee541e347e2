"""Which patterns of one sheet are worth most, again and again with other values for the pieces.

The programme of `kits.guillotine.table`, in whole numbers, so that the worth which it says no pattern exceeds is
exact. Each first cut gives a pattern of its own: many good ones come from one table.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from random import Random
from typing import TypeAlias

import numpy as np

from kits.guillotine import Direction, Part, SheetProblem, best_use
from kits.guillotine.lay import Grid, Item, Row, grid, row
from kits.guillotine.points import LONGEST_SIDE, Side, points, side
from kits.guillotine.ruled import is_ruled
from kits.guillotine.scaled import Scaled, scaled
from kits.guillotine.table import Block, State, Table, fill, start
from kits.guillotine.trace import items_of
from kits.guillotine.tree import Piece
from planning.cutting.patterns.column import Column, column
from planning.cutting.patterns.near import NearBest

ROOM = 2**30  # values are scaled so that no pattern can be worth more: 32 bits hold it, and cuts besides
EXACT = 1_500_000_000  # sums of a table that is still worked out in full: some seconds
QUICK = 20_000_000  # sums of a table that is worked out in a blink
MOST_PARTS = 2**23
FEWEST_POINTS = 2
A_CALL = 50_000  # sums that take as long as one call of numpy
RULED = 100_000_000  # effort for one sheet where stages or strips are limited, for a good pattern
PASSES = 4  # over the table there, about

FirstCut: TypeAlias = tuple[Direction, State, State]


@dataclass(frozen=True, slots=True)
class Priced:
    """Patterns, the one worth most first, and the worth that no pattern of the sheet exceeds (None: not known)."""

    columns: tuple[Column, ...]
    bound: int | None


@dataclass(frozen=True, slots=True)
class Grating:
    """The points of both sides of a sheet; sizes are rounded up to whole steps, 1 where every point is there."""

    across: Side
    down: Side
    wide: int
    high: int

    @property
    def is_exact(self) -> bool:
        """Whether every point that matters is there."""
        return self.wide == self.high == 1


class Pricing:
    """One sheet, the pieces that it may be cut into, and the points of its sides."""

    def __init__(
        self, number: int, sheet: SheetProblem, numbers: Mapping[str, int], opening: int | None = None
    ) -> None:
        """number: of the sheet. numbers: of the pieces, by name, over all sheets. opening: the longest cut."""
        self.number = number
        self.sheet = sheet
        self.numbers = numbers
        self.scaled = scaled(sheet)
        self.owners = tuple(numbers[lying.name] for lying in self.scaled.lying)
        self.is_ruled = is_ruled(sheet, self.scaled)
        self.longest = None if opening is None else longest_in_units(opening, sheet, self.scaled)
        self.full = _grating(self.scaled, EXACT)
        self.small = _grating(self.scaled, QUICK)

    @property
    def has_small(self) -> bool:
        """Whether a smaller table finds good patterns sooner than the full one."""
        if self.is_ruled:
            return self.work(small=False) > RULED
        return (self.small.wide, self.small.high) != (self.full.wide, self.full.high)

    def at_most(self, values: Sequence[float]) -> float:
        """What the piece worth most for its area would be worth if it covered the sheet."""
        area = self.scaled.width * self.scaled.height
        blocks = zip(self.scaled.blocks, self.owners, strict=True)
        return max(values[owner] * area / (block.width * block.height) for block, owner in blocks)

    def grids(self) -> Iterator[Column]:
        """Yield the largest grid of each piece; under rules, the best pattern of it alone."""
        if self.is_ruled:
            for owner in dict.fromkeys(self.owners):
                alone = [int(number == owner) for number in range(len(self.numbers))]
                yield from self._price_ruled(alone, RULED).columns
            return
        best: dict[int, Grid] = {}
        sheet, spacing = self.scaled, self.sheet.spacing
        for block, lying, owner in zip(sheet.blocks, sheet.lying, self.owners, strict=True):
            made = grid(lying, sheet.width // block.width, sheet.height // block.height, spacing)
            before = best.get(owner)
            if before is None or made.columns * made.rows > before.columns * before.rows:
                best[owner] = made
        for item in best.values():
            yield self._column(item)

    def price(self, values: Sequence[int], *, small: bool = False, most: int = 1) -> Priced:
        """Return the patterns worth most, `most` of them at most. small: from the smaller table, without a bound."""
        if not any(values[owner] for owner in self.owners):
            return Priced((), 0)
        if self.is_ruled:
            return self._price_ruled(values, RULED if small else EXACT)
        grating = self.small if small else self.full
        blocks, lying = self._blocks(values)
        table = start(blocks, grating.across, grating.down, price=1, most=ROOM, longest=self.longest)
        fill(table)
        items = _best_items(table, blocks, lying, self.sheet.spacing, most)
        bound = int(table.worth[-1, -1]) + self._cuts(blocks) if grating.is_exact else None
        return Priced(tuple(self._column(item) for item in items), bound)

    def work(self, *, small: bool) -> int:
        """Return about how many sums it takes to price once."""
        grating = self.small if small and not self.is_ruled else self.full
        points = len(grating.across.lengths), len(grating.down.lengths)
        once = _work(*points) + len(self.owners) * A_CALL
        return min(RULED if small else EXACT, PASSES * once) if self.is_ruled else once

    def bound(self, values: Sequence[int]) -> int | None:
        """Return the worth that no pattern exceeds where a table of all points is too large; None if not known.

        All sizes are rounded down to whole steps. What can be cut can then still be cut, as the parts of a
        whole are never more once rounded down.
        """
        wide, high = self.full.wide, self.full.high
        blocks, _ = self._blocks(values)
        if self.is_ruled or any(block.width < wide or block.height < high for block in blocks):
            return None
        smaller = [Block(block.width // wide, block.height // high, block.worth) for block in blocks]
        across = side(tuple(sorted({block.width for block in smaller})), self.scaled.width // wide)
        down = side(tuple(sorted({block.height for block in smaller})), self.scaled.height // high)
        if not _is_within(len(across.lengths), len(down.lengths), 2 * EXACT):
            return None
        table = start(smaller, across, down, price=1, most=2**40)
        fill(table)
        return int(table.worth[-1, -1]) + self._cuts(smaller)

    def near(self, values: Sequence[int], slack: int, most: int) -> NearBest | None:
        """Return a table from which patterns nearly as good as the best can be read; None where there is none.

        slack: within which all are listed, `most` at most.
        """
        if self.is_ruled or not self.full.is_exact or not any(values[owner] for owner in self.owners):
            return None
        blocks, lying = self._blocks(values)
        table = start(blocks, self.full.across, self.full.down, price=0, most=ROOM, longest=self.longest)
        fill(table)
        owners = [self.numbers[each.name] for each in lying]
        return NearBest(table, blocks, lying, owners, self.sheet.spacing, slack, most)

    def listed(self, near: NearBest) -> Iterator[Column]:
        """Yield the patterns that are within its slack, as far as the effort suffices."""
        return (self._column(item) for item in near.items())

    def drawn(self, near: NearBest, reach: int, times: int, dice: Random) -> Iterator[Column]:
        """Yield patterns drawn by lot from those within the reach."""
        for one in near.drawn(reach, times, dice):
            yield Column(self.number, one.counts_of(len(self.numbers)), one)

    def _column(self, plan: Item | Part) -> Column:
        return column(self.number, plan, self.numbers)

    def _blocks(self, values: Sequence[int]) -> tuple[list[Block], list[Piece]]:
        """Return the blocks that are worth something, and the pieces they stand for."""
        kept = [
            (replace(block, worth=values[owner]), lying)
            for block, lying, owner in zip(self.scaled.blocks, self.scaled.lying, self.owners, strict=True)
            if values[owner]
        ]
        return [block for block, _ in kept], [lying for _, lying in kept]

    def _price_ruled(self, values: Sequence[int], effort: int) -> Priced:
        pieces = tuple(replace(each, value=values[self.numbers[each.name]]) for each in self.sheet.pieces)
        result = best_use(replace(self.sheet, pieces=pieces), effort)
        return Priced((self._column(result.tree),), result.bound)

    def _cuts(self, blocks: Sequence[Block]) -> int:
        """Return the most cuts of a pattern: the table takes them off its worth, and they are added again."""
        return max(self.scaled.width * self.scaled.height // (block.width * block.height) for block in blocks)


def longest_in_units(opening: int, sheet: SheetProblem, own: Scaled) -> tuple[int, int]:
    """Return the longest cut across and down in a sheet's own units, its spacing included."""
    return (opening + sheet.spacing) // own.wide, (opening + sheet.spacing) // own.high


def _best_items(
    table: Table, blocks: Sequence[Block], lying: Sequence[Piece], spacing: int, most: int
) -> Iterator[Item]:
    """Yield the best plan of the whole sheet, then the best after each other first cut."""
    top = (len(table.across.lengths) - 1, len(table.down.lengths) - 1)
    cuts = list(_first_cuts(table, top, most - 1)) if most > 1 else []
    states = {state for _, *both in cuts for state in both}
    found = items_of(table, blocks, lying, spacing, [top, *sorted(states)])
    if top in found:
        yield found[top]
    for direction, one, other in cuts:
        parts = [
            part for state in (one, other) if state in found for part in _in_row(found[state], direction)
        ]
        if parts:
            yield row(direction, parts, spacing)


def _first_cuts(table: Table, top: State, most: int) -> Iterator[FirstCut]:
    """Yield the first cuts that lead to the most worth."""
    column, line = top
    first, second = table.upright(top)
    upper, lower = table.level(top)
    worth = np.concatenate(
        [
            table.worth[first, line] + table.worth[second, line],
            table.worth[column, upper] + table.worth[column, lower],
        ]
    )
    for index in np.argsort(-worth, kind="stable")[:most]:
        if index < len(first):
            yield Direction.UPRIGHT, (int(first[index]), line), (int(second[index]), line)
        else:
            at = index - len(first)
            yield Direction.LEVEL, (column, int(upper[at])), (column, int(lower[at]))


def _in_row(item: Item, direction: Direction) -> tuple[Item, ...]:
    return item.items if isinstance(item, Row) and item.direction is direction else (item,)


def _grating(sheet: Scaled, effort: int) -> Grating:
    """Return as many points of both sides as the effort allows."""
    widths = tuple(sorted({block.width for block in sheet.blocks}))
    heights = tuple(sorted({block.height for block in sheet.blocks}))
    wide, high = -(-sheet.width // LONGEST_SIDE), -(-sheet.height // LONGEST_SIDE)
    while True:
        across, down = points(widths, sheet.width, wide), points(heights, sheet.height, high)
        columns, rows = (MOST_PARTS if each is None else len(each) for each in (across, down))
        if _is_within(columns, rows, effort) or max(columns, rows) <= FEWEST_POINTS:
            return Grating(side(widths, sheet.width, wide), side(heights, sheet.height, high), wide, high)
        wide, high = (wide * 2, high) if columns >= rows else (wide, high * 2)


def _is_within(columns: int, rows: int, effort: int) -> bool:
    return columns * rows <= MOST_PARTS and _work(columns, rows) <= effort


def _work(columns: int, rows: int) -> int:
    return columns * rows * (columns + rows) // 4 + (columns + rows) * A_CALL
