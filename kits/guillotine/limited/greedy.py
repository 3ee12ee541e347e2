"""A first plan within the limits, at once: pieces one after the other into the space that they fit best."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from kits.guillotine.lay import Item, flat, grid, row
from kits.guillotine.limited.question import Question
from kits.guillotine.points import Whole
from kits.guillotine.tree import Direction
from kits.measures import Length

MOST_PLACED = 300  # with more of them the simple plans without limits are good anyway

Order: TypeAlias = Whole  # kinds, the one to be placed first before the others


@dataclass(slots=True)
class _Space:
    """A part of the sheet, with a block in its corner or empty.

    beside, below: what is left around the block. upright: whether what is beside it is as high as the space,
    else what is below it is as wide as the space.
    """

    width: int
    height: int
    block: int | None = None
    upright: bool = False
    beside: "_Space | None" = None
    below: "_Space | None" = None


def greedy(question: Question, spacing: Length) -> tuple[Item | None, int]:
    """Return the best of some plans in which pieces are placed one after the other, and its worth."""
    best: list[_Space] = []
    most = 0
    for order in _orders(question):
        for by_shorter in (True, False):
            spaces, worth = _placed(question, order, by_shorter=by_shorter)
            if worth > most:
                best, most = spaces, worth
    return (_item(question, best, spacing), most) if best else (None, 0)


def _orders(question: Question) -> Iterator[Order]:
    widths, heights = np.zeros_like(question.worth), np.zeros_like(question.worth)
    for kind, block in zip(question.kinds, question.blocks, strict=True):
        widths[kind], heights[kind] = block.width, block.height
    density = question.worth / question.areas
    for first, then in (
        (density, question.areas),
        (question.areas, density),
        (question.worth, density),
        (np.maximum(widths, heights), question.areas),
        (widths, heights),
        (heights, widths),
    ):
        yield np.lexsort((-then, -first))


def _placed(question: Question, order: Order, *, by_shorter: bool) -> tuple[list[_Space], int]:
    spaces = [_Space(question.width, question.height)]
    worth, placed = 0, 0
    for kind in order:
        blocks = np.flatnonzero(question.kinds == kind).tolist()
        for _ in range(min(int(question.limits[kind]), MOST_PLACED - placed)):
            if (found := _best_space(question, spaces, blocks)) is None:
                break
            spaces.extend(_divided(question, *found, by_shorter=by_shorter))
            worth, placed = worth + int(question.worth[kind]), placed + 1
    return spaces, worth


def _best_space(question: Question, spaces: list[_Space], blocks: list[int]) -> tuple[_Space, int] | None:
    """Return the empty space and the block that leave the narrowest strip."""
    fits = [
        (min(space.width - width, space.height - height), at, block)
        for block in blocks
        for width, height in [(question.blocks[block].width, question.blocks[block].height)]
        for at, space in enumerate(spaces)
        if space.block is None and width <= space.width and height <= space.height
    ]
    if not fits:
        return None
    _, at, block = min(fits)
    return spaces[at], block


def _divided(question: Question, space: _Space, block: int, *, by_shorter: bool) -> list[_Space]:
    """Place a block in the corner of a space, and return what is left around it."""
    width, height = question.blocks[block].width, question.blocks[block].height
    beside, below = space.width - width, space.height - height
    space.block, space.upright = block, (beside >= below) is by_shorter
    space.beside = _Space(beside, space.height if space.upright else height)
    space.below = _Space(width if space.upright else space.width, below)
    return [space.beside, space.below]


def _item(question: Question, spaces: list[_Space], spacing: Length) -> Item:
    items: dict[int, Item] = {}
    for space in reversed(spaces):  # each after those inside it
        if space.block is None:
            continue
        piece = grid(question.lying[space.block], 1, 1, spacing)
        inner, outer = (space.below, space.beside) if space.upright else (space.beside, space.below)
        first = Direction.LEVEL if space.upright else Direction.UPRIGHT
        corner = _beside(first, piece, items.get(id(inner)), spacing)
        items[id(space)] = _beside(first.across, corner, items.get(id(outer)), spacing)
    return items[id(spaces[0])]


def _beside(direction: Direction, item: Item, other: Item | None, spacing: Length) -> Item:
    return item if other is None else row(direction, flat(direction, [item, other]), spacing)
