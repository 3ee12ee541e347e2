"""Read the cuts of the best plan back out of a finished table."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from kits.guillotine.lay import Item, grid, row
from kits.guillotine.table import Block, Table
from kits.guillotine.tree import Direction, Piece
from kits.measures import Length

State: TypeAlias = tuple[int, int]


@dataclass(frozen=True, slots=True)
class _Grid:
    block: int
    columns: int
    rows: int


@dataclass(frozen=True, slots=True)
class _Row:
    direction: Direction
    states: tuple[State, ...]


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
    items: dict[State, Item] = {}
    # A part is made of parts with smaller indices, so each finds what it is made of.
    for state, made in sorted(_reached(table, blocks, tops).items(), key=lambda entry: sum(entry[0])):
        if isinstance(made, _Grid):
            items[state] = grid(lying[made.block], made.columns, made.rows, spacing)
        else:
            items[state] = row(made.direction, [items[each] for each in made.states], spacing)
    return items


def _reached(table: Table, blocks: Sequence[Block], tops: Iterable[State]) -> dict[State, _Grid | _Row]:
    reached: dict[State, _Grid | _Row] = {}
    waiting = list(tops)
    while waiting:
        state = waiting.pop()
        if state in reached or not table.worth[state]:
            continue
        made = reached[state] = _grid(table, blocks, state) or _row(table, blocks, state)
        if isinstance(made, _Row):
            waiting.extend(made.states)
    return reached


def _grid(table: Table, blocks: Sequence[Block], state: State) -> _Grid | None:
    width, height = int(table.across.lengths[state[0]]), int(table.down.lengths[state[1]])
    for index, block in enumerate(blocks):
        columns, rows = width // block.width, height // block.height
        worth = columns * rows * block.worth - (columns + rows - 2) * table.price
        if columns and rows and worth == table.worth[state]:
            return _Grid(index, columns, rows)
    return None


def _row(table: Table, blocks: Sequence[Block], state: State) -> _Row:
    direction = Direction.UPRIGHT if _split(table, state, Direction.UPRIGHT) else Direction.LEVEL
    row: list[State] = []
    waiting = [state]
    while waiting:
        part = waiting.pop()
        split = None if _grid(table, blocks, part) else _split(table, part, direction)
        if split:
            waiting.extend(split)
        elif table.worth[part]:
            row.append(part)
    return _Row(direction, tuple(row))


def _split(table: Table, state: State, direction: Direction) -> tuple[State, State] | None:
    column, row = state
    if direction is Direction.UPRIGHT:
        first, second = table.across.splits[column]
        worth = table.worth[first, row] + table.worth[second, row]
    else:
        first, second = table.down.splits[row]
        worth = table.worth[column, first] + table.worth[column, second]
    found = np.flatnonzero(worth == table.worth[state] + table.price)
    if not len(found):
        return None
    one, other = int(first[found[0]]), int(second[found[0]])
    return ((one, row), (other, row)) if direction is Direction.UPRIGHT else ((column, one), (column, other))
