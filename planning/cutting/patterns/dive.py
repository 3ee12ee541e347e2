"""From a plan in fractions to whole sheets, sheet by sheet: what is left to make is planned in fractions again each time."""

from collections import Counter
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from planning.cutting.patterns.closing import Closing
from planning.cutting.patterns.column import Column
from planning.cutting.patterns.known import Known
from planning.cutting.patterns.programme import Floats

LAST = 3  # sheets that are chosen out of all patterns
EASE = 1e-6
LOOSE = (0, 0, 1, 2)  # sheets of each pattern that are planned anew
SPREAD = 2.0  # gaps, by which prices differ in the plan in fractions from which a dive begins
FEWEST = 1e-6  # of a sheet: less is none


@dataclass(slots=True)
class Rest:
    """What is left to make, the money and the sheets left for it, and what has been chosen so far, by number in the pool."""

    demands: list[int]
    budget: float
    available: list[int | None]
    chosen: Counter[int]


class Dives:
    """Dives from plans in fractions that are nearly as cheap as can be, one after the other."""

    def __init__(self, known: Known) -> None:
        self.known = known
        self.columns: list[Column] = []

    @cached_property
    def closing(self) -> Closing:
        """The patterns to choose the last sheets from."""
        return Closing(self.known)

    def search(self, times: int, looks: int) -> bool:
        """Look for a plan that is good enough; return whether one was found. looks: for the last sheets of each."""
        return any(self._dive(looks) for _ in range(times))

    def _dive(self, looks: int) -> bool:
        rest = self._begin()
        while True:
            cost, uses = self.known.linear.solve_rest(rest.demands, rest.available)
            if cost > rest.budget + EASE:
                return False
            if uses.sum() <= LAST + EASE:
                return self._close(rest, uses, looks)
            self._choose(rest, uses)

    def _begin(self) -> Rest:
        known, dice = self.known, self.known.random
        self.columns = list(known.pool.values())
        goal = float(known.goal / known.dear)
        spread = SPREAD * known.gap / goal * dice.random()
        uses = known.linear.solve_beside([1 + spread * dice.random() for _ in self.columns])
        rest = Rest(list(known.demands), goal, list(known.available), Counter())
        for number in np.flatnonzero(uses >= 1 - EASE):
            self._take(rest, int(number), max(0, int(uses[number] + EASE) - dice.choice(LOOSE)))
        return rest

    def _choose(self, rest: Rest, uses: Floats) -> None:
        """Keep the whole sheets of a plan in fractions; where there are none, draw one of its patterns by lot."""
        whole = np.floor(uses + EASE).astype(int)
        if whole.any() and uses.sum() - whole.sum() >= LAST - 1:
            for number in np.flatnonzero(whole):
                self._take(rest, int(number), int(whole[number]))
            return
        used = np.flatnonzero(uses > FEWEST)
        (drawn,) = self.known.random.choices(used.tolist(), (uses[used] ** 2).tolist())
        self._take(rest, drawn, 1)

    def _take(self, rest: Rest, number: int, count: int) -> None:
        one = self.columns[number]
        rest.chosen[number] += count
        rest.budget -= count * self.known.prices[one.sheet]
        rest.demands = [max(0, n - count * made) for n, made in zip(rest.demands, one.counts, strict=True)]
        limit = rest.available[one.sheet]
        if limit is not None:
            rest.available[one.sheet] = limit - count

    def _close(self, rest: Rest, uses: Floats, looks: int) -> bool:
        sheets = min(LAST, max(int(np.ceil(uses.sum() - EASE)), self._affordable(rest)))
        last = self.closing.find(rest.demands, rest.budget, sheets, looks) if any(rest.demands) else []
        if last is None or not self._in_stock(rest, last):
            return False
        self.known.add(last)
        chosen = [(self.columns[number], count) for number, count in rest.chosen.items() if count]
        return self.known.offer(_together([*chosen, *((one, 1) for one in last)])) and self.known.is_done

    def _affordable(self, rest: Rest) -> int:
        return int(rest.budget / max(self.known.prices) + EASE)

    def _in_stock(self, rest: Rest, last: list[Column]) -> bool:
        taken = Counter(one.sheet for one in last)
        left = [(rest.available[sheet], count) for sheet, count in taken.items()]
        return all(limit is None or count <= limit for limit, count in left)


def _together(plan: list[tuple[Column, int]]) -> list[tuple[Column, int]]:
    total: Counter[Column] = Counter()
    for one, count in plan:
        total[one] += count
    return list(total.items())
