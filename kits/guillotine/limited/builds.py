"""Parts of a sheet put together from pieces within their limits, none of which another one makes useless."""

import numpy as np
from numpy.typing import NDArray

from kits.guillotine.points import Whole

Flags = NDArray[np.bool_]

BUILD = np.dtype(
    [
        ("width", np.int32),
        ("height", np.int32),
        ("beside", np.int32),  # what it leaves beside and below it, as `Outside` numbers it
        ("below", np.int32),
        ("worth", np.int64),  # of its pieces, less their prices
        ("bound", np.int64),  # of any plan it is part of
        ("value", np.int64),  # of its pieces, prices aside
        ("key", np.int64),  # the same for the same pieces: the sum of a mark for each
        (
            "first",
            np.int32,
        ),  # the two builds it was put together from; a single block instead of the first: below 0
        ("second", np.int32),
        ("upright", np.bool_),  # whether these lie side by side
    ]
)
START = 1024


def marks(count: int) -> Whole:
    """Return a mark for each kind of piece: their sums hardly ever agree for different pieces."""
    dice = np.random.Generator(np.random.PCG64(1))  # the same on every run
    return dice.integers(-(2**62), 2**62, count) * 2 + 1


class Builds:
    """Builds in the order in which they were added.

    rows: what each is. counts: how many of each kind are in it. alive: whether it may still be of use.
    waiting: whether it has not been joined to others yet.
    """

    def __init__(self, limits: Whole) -> None:
        self.size = 0
        self.rows = np.zeros(START, BUILD)
        self.counts = np.zeros((START, len(limits)), np.min_scalar_type(-2 * int(limits.max())))
        self.alive = np.zeros(START, np.bool_)
        self.waiting = np.zeros(START, np.bool_)
        self.by_key = np.zeros(0, np.int64)  # builds, those with the same pieces together
        self.sorted_keys = np.zeros(0, np.int64)

    def add(self, rows: NDArray[np.void], counts: NDArray[np.signedinteger]) -> None:
        """Add builds, and give up those that are no use beside another with the same pieces.

        Of two with the same pieces that one is of no use that leaves no more beside it and no more below it.
        """
        new = np.arange(self.size, self.size + len(rows))
        self._make_room(self.size + len(rows))
        self.size += len(rows)
        self.rows[new], self.counts[new] = rows, counts
        self.alive[new] = self.waiting[new] = True
        touched = self._like(rows["key"])
        useful = self._useful(np.concatenate([self.by_key[touched], new]))
        others, keys = self.by_key[~touched], self.sorted_keys[~touched]
        added = self.rows["key"][useful]
        places = np.searchsorted(keys, added)
        self.by_key = np.insert(others, places, useful)
        self.sorted_keys = np.insert(keys, places, added)

    def _like(self, keys: Whole) -> Flags:
        """Return which of the builds in the order of keys have one of these keys."""
        some = np.unique(keys)
        steps = np.zeros(len(self.sorted_keys) + 1, np.int64)
        np.add.at(steps, np.searchsorted(self.sorted_keys, some), 1)
        np.add.at(steps, np.searchsorted(self.sorted_keys, some, side="right"), -1)
        return np.cumsum(steps[:-1]) > 0

    def _useful(self, builds: Whole) -> Whole:
        """Return those builds that are of use, and give up the others."""
        rows = self.rows[builds]
        keys = rows["key"]
        order = np.lexsort((builds, -rows["below"], -rows["beside"], keys))
        builds, keys, below = builds[order], keys[order], rows["below"][order].astype(np.int64)
        heads = np.flatnonzero(np.append(True, keys[1:] != keys[:-1]))
        group = np.repeat(np.arange(len(heads)), np.diff(np.append(heads, len(keys))))
        alike = (self.counts[builds] == self.counts[builds[heads[group]]]).all(axis=1)
        # Within a group what is left beside falls, so that only what is left below must be looked at.
        height = group * (int(below.max()) + 1) + below
        most = np.maximum.accumulate(height)
        useless = np.append(False, most[:-1] >= height[1:])
        useless &= np.logical_and.reduceat(alike, heads)[group]  # keys may agree by chance
        self.alive[builds[useless]] = self.waiting[builds[useless]] = False
        kept: Whole = builds[~useless]
        return kept

    def _make_room(self, size: int) -> None:
        more = max(size - len(self.rows), 0)
        if more:
            more = max(more, len(self.rows))
            for name in ("rows", "counts", "alive", "waiting"):
                before = getattr(self, name)
                setattr(
                    self, name, np.concatenate([before, np.zeros((more, *before.shape[1:]), before.dtype)])
                )
