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
        (
            "first",
            np.int32,
        ),  # the two builds it was put together from; a single block instead of the first: below 0
        ("second", np.int32),
        ("upright", np.bool_),  # whether these lie side by side
    ]
)
START = 1024


class Builds:
    """Builds in the order in which they were added.

    rows: what each is. counts: how many of each kind are in it. alive: whether it may still be of use.
    waiting: whether it has not been joined to others yet.
    """

    def __init__(self, limits: Whole) -> None:
        dice = np.random.Generator(np.random.PCG64(1))  # the same on every run
        self.marks = dice.integers(-(2**62), 2**62, len(limits)) * 2 + 1
        self.size = 0
        self.rows = np.zeros(START, BUILD)
        self.counts = np.zeros((START, len(limits)), np.min_scalar_type(-2 * int(limits.max())))
        self.alive = np.zeros(START, np.bool_)
        self.waiting = np.zeros(START, np.bool_)
        self.keys = np.zeros(START, np.int64)
        self.by_key = np.zeros(0, np.int64)

    def add(self, rows: NDArray[np.void], counts: NDArray[np.signedinteger]) -> None:
        """Add builds, and give up those that are no use beside another with the same pieces.

        Of two with the same pieces that one is of no use that leaves no more beside it and no more below it.
        """
        new = np.arange(self.size, self.size + len(rows))
        self._make_room(self.size + len(rows))
        self.size += len(rows)
        self.rows[new], self.counts[new] = rows, counts
        self.keys[new] = counts.astype(np.int64) @ self.marks
        self.alive[new] = self.waiting[new] = True
        touched = np.isin(self.keys[self.by_key], self.keys[new])
        useful = self._useful(np.concatenate([self.by_key[touched], new]))
        self.by_key = np.concatenate([self.by_key[~touched], useful])

    def _useful(self, builds: Whole) -> Whole:
        """Return those builds that are of use, and give up the others."""
        rows, keys = self.rows[builds], self.keys[builds]
        order = np.lexsort((builds, -rows["below"], -rows["beside"], keys))
        builds, keys, below = builds[order], keys[order], rows["below"][order].astype(np.int64)
        group = np.cumsum(np.append(True, keys[1:] != keys[:-1]))
        # Within a group what is left beside falls, so that only what is left below must be looked at.
        height = group * (int(below.max()) + 1) + below
        most = np.maximum.accumulate(height)
        useless = np.append(False, most[:-1] >= height[1:])
        self.alive[builds[useless]] = self.waiting[builds[useless]] = False
        kept: Whole = builds[~useless]
        return kept

    def _make_room(self, size: int) -> None:
        more = max(size - len(self.rows), 0)
        if more:
            more = max(more, len(self.rows))
            for name in ("rows", "counts", "alive", "waiting", "keys"):
                before = getattr(self, name)
                setattr(
                    self, name, np.concatenate([before, np.zeros((more, *before.shape[1:]), before.dtype)])
                )
