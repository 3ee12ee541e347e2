"""Which builds are worth joining to others: of each length those worth enough, found without a look at the rest."""

from collections.abc import Iterator

import numpy as np

from kits.guillotine.limited.builds import Flags
from kits.guillotine.points import Whole
from kits.guillotine.table import Worths

MOST_PAIRS = 2**20  # in memory at once


class Mates:
    """Builds by their length along one side, and of one length those worth most first.

    lengths: the different ones, rising.
    """

    def __init__(self, builds: Whole, along: Whole, worth: Worths) -> None:
        self.worths = np.sort(worth)
        rank = len(worth) - np.searchsorted(self.worths, worth, side="right")
        self.lengths, group = np.unique(along, return_inverse=True)
        keys = group * (len(worth) + 1) + rank
        order = np.argsort(keys, kind="stable")
        self.builds, self.keys = builds[order], keys[order]
        self.starts = np.searchsorted(group[order], np.arange(len(self.lengths)))

    def pairs(self, others: Whole, needed: Worths, possible: Flags) -> Iterator[tuple[Whole, Whole]]:
        """Yield pairs of one of the others and a mate, as two arrays.

        needed: the least worth of a mate, by the other and by the length of the mate. possible: whether one of
        that length may be joined to it at all.
        """
        enough = len(self.worths) - np.searchsorted(self.worths, needed)
        groups = np.arange(len(self.lengths)) * (len(self.worths) + 1)
        counts = np.where(possible, np.searchsorted(self.keys, groups + enough) - self.starts, 0)
        ends = np.cumsum(counts.sum(axis=1))
        at = 0
        while at < len(others):
            before = ends[at - 1] if at else 0
            end = max(at + 1, int(np.searchsorted(ends, before + MOST_PAIRS, side="right")))
            yield self._listed(others[at:end], counts[at:end])
            at = end

    def _listed(self, others: Whole, counts: Whole) -> tuple[Whole, Whole]:
        flat = counts.ravel()
        within = np.arange(flat.sum()) - np.repeat(np.cumsum(flat) - flat, flat)
        mates = self.builds[within + np.repeat(np.tile(self.starts, len(others)), flat)]
        return np.repeat(others, counts.sum(axis=1)), mates
