"""Where cuts are worth making when every cut must leave the machine something to hold.

A part narrower than the machine can hold is never cut along that side, so it must have the length of its piece
exactly. A wider part may be as long as its pieces, its offcuts taken as pieces that are just wide enough to be
held: in such parts an offcut can always be trimmed off.
"""

import numpy as np

from kits.guillotine.points import LONGEST_SIDE, Side, Whole, floor, points, splits_of, totals, with_cuts
from kits.guillotine.scaled import Hold


def held_side(
    sizes: frozenset[int], limit: int, hold: Hold | None, most: int, *, raster: bool = True
) -> tuple[Side, bool]:
    """Return the points of a side and the cuts between them, and whether they are all that matter.

    most: how many there may be, about; where that is not enough, places for few pieces are kept. raster: take
    a part to be as long as what others leave of the sheet; without it, every total of pieces is a length.
    """
    used = sizes | {hold.waste} if hold else sizes
    lengths = None
    if limit <= LONGEST_SIDE:
        lengths = points(tuple(used), limit) if raster else totals(used, limit)
    is_exact = lengths is not None and len(lengths) <= most
    if lengths is None or not is_exact:
        lengths = _thinned(np.array(sorted(used)), limit, most)
    if hold is None:
        return with_cuts(lengths, [splits_of(lengths, length) for length in lengths], min(sizes)), is_exact
    lengths, narrow = _held(lengths, sizes, limit, hold)
    splits = [_held_splits(lengths, index, narrow, hold) for index in range(len(lengths))]
    return with_cuts(lengths, splits, min(*sizes, hold.waste), narrow, hold.waste), is_exact


def place(side: Side, length: int) -> int | None:
    """Return the index of the smallest part that is a piece of that length, or can be trimmed to it."""
    index = int(np.searchsorted(side.lengths, length))
    is_there = index < len(side.lengths) and (index > side.narrow or side.lengths[index] == length)
    return index if is_there else None


def places(side: Side, length: int) -> list[int]:
    """Return the same, and for a piece that cannot be held the smallest part with an offcut that can be."""
    found = [place(side, length)]
    if found[0] is None or found[0] <= side.narrow:
        found.append(place(side, max(length + side.waste, int(side.lengths[side.narrow]) + 1)))
    return [index for index in found if index is not None]


def can_hold(side: Side, index: int, length: int) -> bool:
    """Whether a part with that index is a piece of that length, or can be trimmed to it."""
    return any(needed == index or side.narrow < needed < index for needed in places(side, length))


def _thinned(sizes: Whole, limit: int, most: int) -> Whole:
    """Return multiples of one size, of the longest sizes first, and where there is room for more, totals."""
    lengths = np.zeros(1, np.int64)
    for size in sizes[::-1]:
        multiples = np.arange(min(limit // size, most) + 1) * size
        more = np.union1d(lengths, multiples)
        lengths = more if len(more) <= most or len(lengths) == 1 else lengths
    while True:
        more = np.unique(np.concatenate([lengths, np.add.outer(lengths, sizes).ravel()]))
        more = more[more <= limit]
        if not len(lengths) < len(more) <= most:
            return lengths
        lengths = more


def _held(lengths: Whole, sizes: frozenset[int], limit: int, hold: Hold) -> tuple[Whole, int]:
    """Return the lengths of parts that can be cut, after those of pieces that cannot, and the number of these."""
    kept = lengths[lengths >= hold.part]
    # Of a sheet that cannot be cut along this side nothing is of use but a piece just as long.
    narrow = sorted(size for size in sizes if size < hold.part and (len(kept) or size == limit))
    return np.array([0, *narrow, *kept]), len(narrow)


def _held_splits(lengths: Whole, index: int, narrow: int, hold: Hold) -> tuple[Whole, Whole]:
    if index <= narrow:
        return np.zeros(0, np.int64), np.zeros(0, np.int64)
    length = lengths[index]
    small = np.arange(1, narrow + 1)
    small = small[length - lengths[small] >= hold.waste]
    small_rest = floor(lengths, length - lengths[small])
    small_rest[small_rest <= narrow] = 0  # an offcut, and long enough to be held
    first, second = splits_of(lengths, length)
    wide = first > narrow
    return np.append(small, first[wide]), np.append(small_rest, second[wide])
