"""Read the best plan of a table out of it, and keep of it what is within the limits."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from kits.guillotine.lay import Item, flat, grid, row
from kits.guillotine.limited.question import Question
from kits.guillotine.points import Whole
from kits.guillotine.table import Table, Worths
from kits.guillotine.tree import Direction
from kits.measures import Length

State: TypeAlias = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Node:
    """A block, or two nodes side by side (upright) or one below the other, by their places in the plan."""

    block: int | None = None
    direction: Direction = Direction.UPRIGHT
    halves: tuple[int, ...] = ()


def read(question: Question, table: Table, left: Whole) -> list[Node]:
    """Return the best plan, each node before those it is made of. left: the worth of each kind in the table."""
    states = [(len(table.across.lengths) - 1, len(table.down.lengths) - 1)]
    plan: list[Node] = []
    for state in states:  # grows on the way
        block = _single(question, table, left, state)
        if block is None and table.worth[state]:
            direction, halves = _split(table, state)
            plan.append(Node(None, direction, (len(states), len(states) + 1)))
            states.extend(halves)
        else:
            plan.append(Node(block))
    return plan


def count(question: Question, plan: Sequence[Node]) -> Whole:
    """Return how many pieces of each kind a plan has."""
    used = [node.block for node in plan if node.block is not None]
    counts: Whole = np.bincount(question.kinds[used], minlength=len(question.worth)).astype(np.int64)
    return counts


def item_within(question: Question, plan: Sequence[Node], spacing: Length) -> Item | None:
    """Return what is left of a plan without the pieces that are too many."""
    left = question.limits.copy()
    items: list[Item | None] = [None] * len(plan)
    for at in reversed(range(len(plan))):
        node = plan[at]
        if node.block is not None:
            kind = question.kinds[node.block]
            left[kind] -= 1
            items[at] = grid(question.lying[node.block], 1, 1, spacing) if left[kind] >= 0 else None
        halves = [item for half in node.halves if (item := items[half])]
        if halves:
            items[at] = row(node.direction, flat(node.direction, halves), spacing)
    return items[0]


def _single(question: Question, table: Table, left: Whole, at: State) -> int | None:
    worth, width, height = table.worth[at], table.across.lengths[at[0]], table.down.lengths[at[1]]
    if not worth:
        return None
    for number, (kind, block) in enumerate(zip(question.kinds, question.blocks, strict=True)):
        if left[kind] == worth and block.width <= width and block.height <= height:
            return number
    return None


def _split(table: Table, at: State) -> tuple[Direction, tuple[State, State]]:
    column, line = at
    found = _best_split(table.worth[:, line], table.across.splits[column], table.worth[at])
    if found is not None:
        return Direction.UPRIGHT, ((found[0], line), (found[1], line))
    found = _best_split(table.worth[column], table.down.splits[line], table.worth[at])
    if found is None:
        raise LookupError("a worth that no cut has")
    return Direction.LEVEL, ((column, found[0]), (column, found[1]))


def _best_split(line: Worths, splits: tuple[Whole, Whole], worth: int) -> tuple[int, int] | None:
    one, other = splits
    found = np.flatnonzero(line[one] + line[other] == worth)
    return (int(one[found[0]]), int(other[found[0]])) if len(found) else None
