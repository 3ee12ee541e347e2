"""Read the cuts of the best plan back out of a finished table."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from kits.guillotine.lay import Item, grid, row
from kits.guillotine.points import Whole
from kits.guillotine.table import Block, State, Table
from kits.guillotine.tree import Direction, Piece
from kits.measures import Length


@dataclass(frozen=True, slots=True)
class _Grid:
    block: int
    columns: int
    rows: int


@dataclass(frozen=True, slots=True)
class _Row:
    direction: Direction
    states: tuple[State, ...]


class _Sizes(NamedTuple):
    """The blocks, as one array for each of their measures."""

    widths: Whole
    heights: Whole
    worths: Whole


def trace(table: Table, blocks: Sequence[Block], lying: Sequence[Piece], spacing: Length) -> Item | None:
    """Return the best plan, no larger than what it holds; None where nothing is worth anything.

    lying: the piece that each block stands for, in its own size.
    """
    top = (len(table.across.lengths) - 1, len(table.down.lengths) - 1)
    return items_of(table, blocks, lying, spacing, [top]).get(top)


def items_of(
    table: Table, blocks: Sequence[Block], lying: Sequence[Piece], spacing: Length, tops: Iterable[State]
) -> dict[State, Item]:
    """Return the best plans of these parts and of all parts of theirs; those worth nothing have none."""
    measures = [(block.width, block.height, block.worth) for block in blocks]
    sizes = _Sizes(*np.array(measures, np.int64).T)
    items: dict[State, Item] = {}
    # A part is made of parts with smaller indices, so each finds what it is made of.
    for state, made in sorted(_reached(table, sizes, tops).items(), key=lambda entry: sum(entry[0])):
        if isinstance(made, _Grid):
            items[state] = grid(lying[made.block], made.columns, made.rows, spacing)
        else:
            items[state] = row(made.direction, [items[each] for each in made.states], spacing)
    return items


def _reached(table: Table, sizes: _Sizes, tops: Iterable[State]) -> dict[State, _Grid | _Row]:
    reached: dict[State, _Grid | _Row] = {}
    waiting = list(tops)
    while waiting:
        state = waiting.pop()
        if state in reached or not table.worth[state]:
            continue
        made = reached[state] = _grid(table, sizes, state) or _row(table, sizes, state)
        if isinstance(made, _Row):
            waiting.extend(made.states)
    return reached


def _grid(table: Table, sizes: _Sizes, state: State) -> _Grid | None:
    columns = table.across.lengths[state[0]] // sizes.widths
    rows = table.down.lengths[state[1]] // sizes.heights
    worth = columns * rows * sizes.worths - (columns + rows - 2) * table.price
    found = np.flatnonzero((worth == table.worth[state]) & (columns > 0) & (rows > 0))
    if not len(found):
        return None
    block = int(found[0])
    return _Grid(block, int(columns[block]), int(rows[block]))


def _row(table: Table, sizes: _Sizes, state: State) -> _Row:
    direction = Direction.UPRIGHT if _split(table, state, Direction.UPRIGHT) else Direction.LEVEL
    row: list[State] = []
    waiting = [state]
    while waiting:
        part = waiting.pop()
        split = None if _grid(table, sizes, part) else _split(table, part, direction)
        if split:
            waiting.extend(split)
        elif table.worth[part]:
            row.append(part)
    return _Row(direction, tuple(row))


def _split(table: Table, state: State, direction: Direction) -> tuple[State, State] | None:
    column, row = state
    if direction is Direction.UPRIGHT:
        first, second = table.upright(state)
        worth = table.worth[first, row] + table.worth[second, row]
    else:
        first, second = table.level(state)
        worth = table.worth[column, first] + table.worth[column, second]
    found = np.flatnonzero(worth == table.worth[state] + table.price)
    if not len(found):
        return None
    one, other = int(first[found[0]]), int(second[found[0]])
    return ((one, row), (other, row)) if direction is Direction.UPRIGHT else ((column, one), (column, other))
