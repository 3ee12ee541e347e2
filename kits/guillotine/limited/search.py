"""The best use of one sheet within limits: bounds and plans closer to each other until they meet.

Each round keeps only builds whose bound reaches a floor just below the best bound. Where it finds no plan, the
bound falls to the floor, and the next floor lies deeper.
"""

from dataclasses import dataclass
from functools import partial

import numpy as np

from kits.guillotine.lay import Item, flat, grid, row
from kits.guillotine.limited.bound import PARTS, Descent, Priced, Relaxed, area_prices, relaxed
from kits.guillotine.limited.greedy import greedy
from kits.guillotine.limited.grow import MOST_BUILDS, Effort, Growth
from kits.guillotine.limited.lengths import limited_side
from kits.guillotine.limited.outside import AreaOutside, Prospect, TableOutside, prospect
from kits.guillotine.limited.question import Question
from kits.guillotine.limited.read import item_within
from kits.guillotine.points import Side
from kits.guillotine.tree import Direction
from kits.measures import Length

PHASES = ((24, 0, 2_000, 0.1, 15_000), (60, 8, 8_000, 0.05, MOST_BUILDS))
FIRST_GAP = 400  # the first floor is one in so many below the bound
A_NODE = 60_000  # sums that take as long as to read one part of a plan
TABLES = 16  # one in so many of all sums may go into one table


@dataclass(frozen=True, slots=True)
class Limited:
    """The best plan found, None for an empty sheet; its worth; and the worth that none can exceed."""

    item: Item | None
    worth: int
    bound: int


def best_limited(question: Question, spacing: Length, effort: int) -> Limited:
    """Return the best plan within the limits, as far as so many sums lead."""
    return _Search(question, spacing, Effort(effort)).run()


class _Search:
    def __init__(self, question: Question, spacing: Length, effort: Effort) -> None:
        self.question, self.spacing, self.effort = question, spacing, effort
        self.item: Item | None = None
        self.worth = 0
        self.bound = int(question.worth @ question.limits)

    def run(self) -> Limited:
        if len(self.question.worth):
            self.item, self.worth = greedy(self.question, self.spacing)
        if self.is_open:
            self._meet()
        return Limited(self.item, self.worth, self.bound)

    @property
    def is_open(self) -> bool:
        return self.worth < self.bound and self.effort.left > 0

    def _meet(self) -> None:
        descent = self._descent()
        for steps, others, builds_of_dive, dive, builds in PHASES:
            prospects = self._prospects(descent, steps)
            if self.is_open:
                self._grow(prospects, self.worth + 1, builds_of_dive, dive)
            if self.is_open and descent:
                prospects += self._others(descent, others)
            self._close(prospects, builds)
            if not self.is_open or descent is None:
                break

    def _descent(self) -> Descent[Priced] | None:
        """Return prices to be improved with tables of the sheet; None where such a table is too dear."""
        question = self.question
        across = limited_side(question.lengths(across=True), question.width)
        down = limited_side(question.lengths(across=False), question.height)
        if across is None or down is None or _work(across, down) > self.effort.left // TABLES:
            return None
        solve = partial(relaxed, question, across, down)
        return Descent(solve, question.worth, question.limits, area_prices(question))

    def _prospects(self, descent: Descent[Priced] | None, steps: int) -> list[Prospect]:
        """Improve the bound, and return what can be won around a part."""
        if descent is None:
            prices = area_prices(self.question)
            outside = AreaOutside(self.question, prices)
            whole = outside.most(outside.beside(np.zeros(1, np.int64)), outside.below(np.zeros(1, np.int64)))
            self._lower(int(whole[0] + prices @ self.question.limits) // PARTS)
            return [prospect(self.question, outside, prices)]
        work = _work(descent.best.plan.table.across, descent.best.plan.table.down)
        share = self.effort.left // (4 * work)
        self._learn(descent.now)
        for found in descent.steps(min(steps, share), self.worth):
            self.effort.spend(work + A_NODE * len(found.plan.plan))
            self._learn(found)
        self.effort.spend(2 * work)
        self._lower(descent.best.bound // PARTS)
        return [self._prospect(descent.best)]

    def _others(self, descent: Descent[Priced], most: int) -> list[Prospect]:
        """Return prospects at other prices that bound nearly as well."""
        work = 3 * _work(descent.best.plan.table.across, descent.best.plan.table.down)
        most = min(most, self.effort.left // (8 * work))
        self.effort.spend(most * work)
        return [self._prospect(descent.solve(prices)) for prices in descent.others(most, self.worth)]

    def _prospect(self, found: Relaxed[Priced]) -> Prospect:
        return prospect(self.question, TableOutside(self.question, found.plan.table), found.prices)

    def _learn(self, found: Relaxed[Priced]) -> None:
        """Keep what is left of a plan without its surplus pieces, if it is the best so far."""
        worth = int(np.minimum(found.counts, self.question.limits) @ self.question.worth)
        if worth > self.worth:
            self.item = item_within(self.question, found.plan.plan, self.spacing)
            self.worth = worth

    def _lower(self, bound: int) -> None:
        self.bound = max(self.worth, min(self.bound, bound))

    def _close(self, prospects: list[Prospect], builds: int) -> None:
        """Let bound and plan meet, with at most so many builds."""
        gap = max(1, min(self.bound // FIRST_GAP, (self.bound - self.worth) // 2))
        while self.is_open:
            floor = max(self.worth + 1, self.bound - gap)
            if not self._grow(prospects, floor, builds):
                return
            self._lower(self.worth if self.worth >= floor else floor - 1)
            gap *= 2

    def _grow(self, prospects: list[Prospect], floor: int, builds: int, dive: float = 0) -> bool:
        growth = Growth(self.question, prospects, floor, dive)
        is_finished = growth.run(self.effort, builds)
        if growth.best is not None:
            self.item, self.worth = _item(self.question, growth, growth.best, self.spacing), growth.floor - 1
        return is_finished


def _work(across: Side, down: Side) -> int:
    columns, rows = len(across.lengths), len(down.lengths)
    return columns * rows * (columns + rows) // 4 + 1_000_000


def _item(question: Question, growth: Growth, top: int, spacing: Length) -> Item:
    """Return a build as pieces laid against each other."""
    rows = growth.builds.rows
    order = [top]
    for build in order:  # grows on the way
        if rows["first"][build] >= 0:
            order += [int(rows["first"][build]), int(rows["second"][build])]
    items: dict[int, Item] = {}
    for build in sorted(set(order)):  # each after those it was put together from
        if rows["first"][build] < 0:
            items[build] = grid(question.lying[-1 - rows["first"][build]], 1, 1, spacing)
        else:
            direction = Direction.UPRIGHT if rows["upright"][build] else Direction.LEVEL
            both = [items[int(rows[half][build])] for half in ("first", "second")]
            items[build] = row(direction, flat(direction, both), spacing)
    return items[top]
