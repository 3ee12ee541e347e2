"""Put builds together, the most promising first, until none is left that could be part of a better plan.

After P. Y. Wang, Oper. Res. 31 (1983) 573-586, and X. Viswanathan and A. Bagchi, Oper. Res. 41 (1993) 768-776.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from kits.guillotine.limited.bound import PARTS
from kits.guillotine.limited.builds import BUILD, Builds, Flags, marks
from kits.guillotine.limited.mates import Mates
from kits.guillotine.limited.outside import Prospect
from kits.guillotine.limited.question import Question
from kits.guillotine.points import Whole
from kits.guillotine.table import Worths

AT_LEAST = 64  # builds joined to others at once
SHARE = 16  # or one in so many of those that wait
AT_ONCE = 2**18  # lengths of mates looked at in one stroke of numpy
A_PAIR = 80  # sums that take as long as one pair of builds
A_BUILD = 750  # and as a build that is looked at closely, and more for each kind of piece
A_KIND = 8
A_LOOK = 16  # and as a look at one build, or at one length of mates
MOST_BUILDS = 400_000
WIDTH_OF_A_DIVE = 128  # builds kept of those made at once


@dataclass(slots=True)
class Effort:
    """How many sums may still be worked through."""

    left: int

    def spend(self, sums: int) -> None:
        """Take off what was worked through."""
        self.left -= sums


class Growth:
    """Builds whose bound reaches a floor.

    floor: worth of a plan that is of interest; it rises above every plan found. best: of these, worth most; None
    for none. dive: how much less the space around a build counts for its promise, from 0 to 1; above 0 plans are
    found sooner, and the proof later. prospects: the first gives the bounds; the others, at other prices, sort
    out builds that it lets pass.
    """

    def __init__(
        self, question: Question, prospects: Sequence[Prospect], floor: int, dive: float = 0
    ) -> None:
        self.question, self.dive = question, dive
        self.outside, self.constant = prospects[0].outside, prospects[0].constant
        self.others = prospects[1:]
        self.floor = floor
        self.a_build = A_BUILD + A_KIND * len(question.limits) * len(prospects)
        self.best: int | None = None
        self.joined = np.zeros(0, np.int64)
        self.builds = Builds(question.limits)
        self._add_blocks(prospects[0].left)

    def run(self, effort: Effort, most: int = MOST_BUILDS) -> bool:
        """Join builds until none waits; False where that takes too much effort, or more than so many builds."""
        builds = self.builds
        while len(chosen := self._chosen()):
            if effort.left <= 0 or builds.size > most:
                return False
            effort.spend(A_LOOK * builds.size)
            builds.waiting[chosen] = False
            self.joined = np.concatenate([self.joined, chosen])
            self.joined = self.joined[self._is_of_interest(self.joined)]
            self._join(chosen, effort)
        return effort.left > 0

    def _join(self, chosen: Whole, effort: Effort) -> None:
        """Join builds to all before them, as far as the effort leads."""
        for upright in (True, False):
            for first, second in self._pairs(chosen, effort, upright=upright):
                if effort.left <= 0:
                    return
                passed = self._add_joined(first, second, upright=upright)
                effort.spend(A_PAIR * len(first) + self.a_build * passed + A_LOOK * self.builds.size)

    def _is_of_interest(self, builds: Whole) -> Flags:
        enough = self.builds.rows["bound"][builds] >= self.floor * PARTS
        return np.logical_and(enough, self.builds.alive[builds])

    def _chosen(self) -> Whole:
        """Return the most promising of the builds that wait."""
        builds = self.builds
        waiting = np.flatnonzero(builds.waiting[: builds.size])
        useful = self._is_of_interest(waiting)
        builds.waiting[waiting[~useful]] = False
        waiting = waiting[useful]
        count = AT_LEAST if self.dive else max(AT_LEAST, len(waiting) // SHARE)
        if len(waiting) <= count:
            return waiting
        return waiting[self._most_promising(builds.rows[waiting], count)]

    def _most_promising(self, rows: NDArray[np.void], count: int) -> Whole:
        around = rows["bound"] - rows["worth"] - self.constant
        promise = (rows["bound"] - (self.dive * around).astype(np.int64)) // PARTS
        area = rows["width"].astype(np.int64) * rows["height"]
        best: Whole = np.lexsort((-area, -promise))[:count]
        return best

    def _pairs(self, chosen: Whole, effort: Effort, *, upright: bool) -> Iterator[tuple[Whole, Whole]]:
        """Yield pairs of a chosen build and one that was chosen before, or with it, that may be worth joining."""
        rows = self.builds.rows
        chosen = chosen[self._is_of_interest(chosen)]
        mates = Mates(self.joined, rows[_along(upright)][self.joined], rows["worth"][self.joined])
        step = max(1, AT_ONCE // max(1, len(mates.lengths)))
        for at in range(0, len(chosen), step):
            some = chosen[at : at + step]
            along = rows[_along(upright)][some][:, None] + mates.lengths
            effort.spend(A_LOOK * along.size)
            possible = along <= (self.question.width if upright else self.question.height)
            around = self._around(
                np.where(possible, along, 0), rows[_along(not upright)][some][:, None], upright
            )
            needed = self.floor * PARTS - self.constant - rows["worth"][some][:, None] - around
            yield from mates.pairs(some, needed, possible)

    def _around(self, along: Whole, across: Whole, upright: bool) -> Worths:
        width, height = (along, across) if upright else (across, along)
        return self.outside.most(self.outside.beside(width), self.outside.below(height))

    def _add_joined(self, first: Whole, second: Whole, *, upright: bool) -> int:
        """Add what comes of each pair where it is within the limits and may be part of a better plan.

        Return for how many pairs the limits were looked at.
        """
        rows, counts = self.builds.rows, self.builds.counts
        along = rows[_along(upright)][first] + rows[_along(upright)][second]
        across = np.maximum(rows[_along(not upright)][first], rows[_along(not upright)][second])
        worth = rows["worth"][first] + rows["worth"][second]
        useful = np.flatnonzero(
            worth + self._around(along, across, upright) >= self.floor * PARTS - self.constant
        )
        inside = counts[first[useful]] + counts[second[useful]]
        within = (inside <= self.question.limits).all(axis=1)
        passed, useful = len(useful), useful[within]
        made = np.zeros(len(useful), BUILD)
        made[_along(upright)], made[_along(not upright)] = along[useful], across[useful]
        first, second = first[useful], second[useful]
        made["worth"], made["first"], made["second"], made["upright"] = worth[useful], first, second, upright
        for sum_of_both in ("value", "key"):
            made[sum_of_both] = rows[sum_of_both][first] + rows[sum_of_both][second]
        self._add(made, inside[within])
        return passed

    def _add_blocks(self, worth: Whole) -> None:
        blocks, kinds = self.question.blocks, self.question.kinds
        made = np.zeros(len(blocks), BUILD)
        made["width"] = [block.width for block in blocks]
        made["height"] = [block.height for block in blocks]
        made["worth"], made["value"] = worth[kinds], self.question.worth[kinds]
        made["key"] = marks(len(worth))[kinds]
        made["first"] = -1 - np.arange(len(blocks))
        self._add(made, np.eye(len(self.question.limits), dtype=np.int64)[kinds])

    def _add(self, made: NDArray[np.void], counts: NDArray[np.signedinteger]) -> None:
        made["beside"] = self.outside.beside(made["width"])
        made["below"] = self.outside.below(made["height"])
        for other in self.others:
            around = other.outside.most(made["beside"], made["below"])
            passes = counts.astype(np.int64) @ other.left + around >= self.floor * PARTS - other.constant
            made, counts = made[passes], counts[passes]
        made["bound"] = made["worth"] + self.outside.most(made["beside"], made["below"]) + self.constant
        if self.dive and len(made) > WIDTH_OF_A_DIVE:
            kept = self._most_promising(made, WIDTH_OF_A_DIVE)
            made, counts = made[kept], counts[kept]
        if not len(made):
            return
        top = int(np.argmax(made["value"]))
        if made["value"][top] >= self.floor:
            self.best, self.floor = self.builds.size + top, int(made["value"][top]) + 1
        self.builds.add(made, counts)


def _along(upright: bool) -> str:
    return "width" if upright else "height"
