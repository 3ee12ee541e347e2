"""What is asked where only so many of a piece are wanted, in numbers."""

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np

from kits.guillotine.points import Whole
from kits.guillotine.scaled import Scaled
from kits.guillotine.sheet import SheetProblem
from kits.guillotine.table import Block
from kits.guillotine.tree import Piece

LARGEST_WORTH = 2**52  # so that sums of small parts of it fit 64 bits


@dataclass(frozen=True)
class Question:
    """A sheet, the blocks it may be cut into, and how many of each kind are wanted.

    kinds: which of the wanted pieces each block is; two blocks of one kind are one piece both ways round.
    worth, limits: of each kind. lying: the piece that each block is, in its own size.
    """

    width: int
    height: int
    blocks: tuple[Block, ...]
    lying: tuple[Piece, ...]
    kinds: Whole
    worth: Whole
    limits: Whole

    @cached_property
    def areas(self) -> Whole:
        """The area of one piece of each kind; it is the same both ways round."""
        areas = np.zeros(len(self.worth), np.int64)
        for kind, block in zip(self.kinds, self.blocks, strict=True):
            areas[kind] = block.width * block.height
        return areas

    def lengths(self, *, across: bool) -> list[tuple[tuple[int, ...], int]]:
        """Return for each kind the lengths it may have along one side, and its limit."""
        found: list[set[int]] = [set() for _ in self.limits]
        for kind, block in zip(self.kinds, self.blocks, strict=True):
            found[kind].add(block.width if across else block.height)
        return [(tuple(sorted(each)), int(limit)) for each, limit in zip(found, self.limits, strict=True)]


def asked(problem: SheetProblem, search: Scaled) -> Question:
    """Return the question without the pieces that are worth nothing or not wanted at all.

    Raises ValueError where the values are too large to be worked with.
    """
    if search.bound(search.width, search.height) >= LARGEST_WORTH:
        raise ValueError("the values of the pieces are too large: choose a larger unit for them")
    sheet = search.width * search.height
    useful = [
        at
        for at, (block, owner) in enumerate(zip(search.blocks, search.owners, strict=True))
        if block.worth and problem.pieces[owner].limit != 0
    ]
    blocks = tuple(search.blocks[at] for at in useful)
    owners = [search.owners[at] for at in useful]
    kinds = np.cumsum([0, *(one != other for one, other in pairwise(owners))])[: len(owners)]
    first = np.searchsorted(kinds, np.arange(kinds[-1] + 1)) if owners else np.zeros(0, np.int64)
    room = [sheet // (blocks[at].width * blocks[at].height) for at in first]
    limits = [problem.pieces[owners[at]].limit for at in first]
    return Question(
        search.width,
        search.height,
        blocks,
        tuple(search.lying[at] for at in useful),
        kinds,
        np.array([blocks[at].worth for at in first], np.int64),
        np.array(
            [most if limit is None else min(limit, most) for limit, most in zip(limits, room, strict=True)],
            np.int64,
        ),
    )
