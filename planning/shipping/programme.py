"""The schedule as an integer programme, on HiGHS: one thread, no clock.

Boxes of each choice are the unknowns; each lot's boxes all are somewhere, and no stretch of time is asked for more than the
crew and its overtime have. The aims are met one after the other. Solved in parts of boxes the programme is quick, and the
prices it finds tell of nearly every choice how many boxes can have it in any schedule that is nearly as good: what is left
is solved in whole boxes by branch and bound.

HiGHS reckons in floating point. What it finds is counted anew exactly; its bounds are loosened by what they may be off.
"""

from collections.abc import Sequence
from math import ceil, floor, inf
from typing import Any

from highspy import Highs, HighsModelStatus, HighsVarType, SolutionStatus

from planning.shipping.choices import Choice, Decided, stretches
from planning.shipping.grid import AIMS, MONEY, Grid

FREE = 60  # choices left open at first
ROUNDS, WIDER = 4, 20  # how often, and how much wider, it is tried where these were too few
SLACK = 0.01  # of the least difference, by which a bound may be off
DUST = 1e-6  # a part of a box that is none
OPEN = 0.9  # of the least difference, at which a search may end: what is less than one better is not better


class Solver(Highs):
    """HiGHS without its greeting."""

    def enableCallbacks(self) -> None:  # noqa: N802 - its own name
        """Enable none: nothing is called back here, and this is where it greets."""


class Programme:
    """The programme of a grid and what may be chosen."""

    def __init__(self, grid: Grid, choices: Sequence[Choice]) -> None:
        self.grid, self.choices = grid, choices
        self.all = list(range(len(choices)))
        self.most = [grid.lots[one.lot].boxes for one in choices]
        self.above = [[one.cost[aim] - grid.lots[one.lot].leasts[aim] for one in choices] for aim in AIMS]
        self.over = [(day, first) for day in range(len(grid.days)) for first in (True, False)]
        self.solver = self._stated()

    # --- How it is stated ---

    def _stated(self) -> Any:
        """State the programme to HiGHS, but for its costs."""
        solver: Any = Solver()  # type: ignore[no-untyped-call]
        # Several threads may answer differently from time to time, and hang in a forked worker.
        for name, value in {"output_flag": False, "threads": 1, "mip_rel_gap": 0.0}.items():
            solver.setOptionValue(name, value)
        windows = sorted({one.window for one in self.choices if one.window[0] != self.grid.nowhere})
        self.held = held = list(stretches(self.grid, self.choices))
        begin = len(self.grid.lots)
        work = {window: begin + place for place, window in enumerate(windows)}
        room = begin + len(windows)
        for lot in self.grid.lots:
            solver.addRow(lot.boxes, lot.boxes, 0, [], [])
        for _ in windows:
            solver.addRow(0, 0, 0, [], [])
        for one in held:
            solver.addRow(-inf, self._room(one.first, one.last), 0, [], [])
        columns: list[tuple[float, list[int], list[int]]] = [
            (most, *self._box(choice, work)) for choice, most in zip(self.choices, self.most, strict=True)
        ]
        inside: dict[tuple[int, int], list[int]] = {window: [] for window in windows}
        for place, stretch in enumerate(held):
            for window in stretch.windows:
                inside[window].append(room + place)
        columns += [(inf, [work[window], *rows], [-1, *[1] * len(rows)]) for window, rows in inside.items()]
        for day, first in self.over:
            rows = [
                room + place
                for place, one in enumerate(held)
                if one.first <= self.grid.days[day].first and self.grid.days[day].last <= one.last
            ]
            columns.append((self._overtime(day, first=first), rows, [-1] * len(rows)))
        starts, indices, values = [0], list[int](), list[int]()
        for _, rows, entries in columns:
            indices += rows
            values += entries
            starts.append(len(indices))
        count = len(columns)
        solver.addCols(
            count,
            [0.0] * count,
            [0.0] * count,
            [float(most) for most, _, _ in columns],
            len(indices),
            starts[:-1],
            indices,
            [float(one) for one in values],
        )
        self.count = count
        return solver

    def _box(self, choice: Choice, work: dict[tuple[int, int], int]) -> tuple[list[int], list[int]]:
        """Return the rows a box of a choice counts in, and how much."""
        steps = self.grid.lots[choice.lot].steps
        if choice.window not in work or not steps:
            return [choice.lot], [1]
        return [choice.lot, work[choice.window]], [1, steps]

    def _room(self, first: int, last: int) -> int:
        """Return the steps the crew has of its own from a column to the end of another."""
        place = self.grid.day_of[last]
        before = sum(day.room for day in self.grid.days[self.grid.day_of[first] : place])
        day = self.grid.days[place]
        return before + (day.room if last == day.last else day.until[last - day.first])

    def _overtime(self, day: int, *, first: bool) -> int:
        """Return the most steps of a day's overtime: its first, which may cost less, or all others."""
        steps = self.grid.days[day].most - self.grid.days[day].room
        return min(steps, 1) if first else max(steps - 1, 0)

    # --- How it is solved ---

    def decide(self, nodes: int) -> Decided | None:
        """Return the best choice by all aims, one after the other; None where none is found in so many nodes."""
        bound, boxes = [0, 0, 0], None
        for aim in AIMS:
            found, bound[aim] = self.least(aim, nodes)
            if found is None:
                return None
            boxes = found
            if aim != MONEY:
                self.hold(aim, boxes)
        return (
            None if boxes is None else Decided(boxes, self.overtime_of(boxes), (bound[0], bound[1], bound[2]))
        )

    def with_spare(self, decided: Decided, boxes: int, nodes: int) -> Decided | None:
        """Return a choice that leaves the time of so many of the longest boxes free in every stretch, with the same bound.

        What cannot be parted may then find room; it is sought among those as punctual as what was decided.
        """
        spare = boxes * max((lot.steps for lot in self.grid.lots), default=0)
        first = len(self.grid.lots) + len(
            {one.window for one in self.choices if one.window[0] != self.grid.nowhere}
        )
        for place, one in enumerate(self.held):
            room = max(self._room(one.first, one.last) - spare, 0)
            self.solver.changeRowBounds(first + place, -inf, room)
        found, _ = self.least(MONEY, nodes)
        return None if found is None else Decided(found, self.overtime_of(found), decided.bound)

    def hold(self, aim: int, boxes: Sequence[int]) -> None:
        """Let an aim be missed by no more than it is now."""
        above = self.above[aim]
        value = sum(count * cost for count, cost in zip(boxes, above, strict=True))
        if value:
            self.solver.addRow(-inf, value, len(self.all), self.all, [float(one) for one in above])
        else:
            self.most = [0 if cost else most for cost, most in zip(above, self.most, strict=True)]

    def overtime_of(self, boxes: Sequence[int]) -> tuple[int, ...]:
        """Return the overtime of each day that costs least with such boxes: whole steps, as in any network of flows."""
        days, first = self.grid.days, self.count - len(self.over)
        paid = [float(days[day].odd if odd else days[day].each) for day, odd in self.over]
        self.bounded(boxes, boxes)
        self.solver.changeColsIntegrality(len(self.all), self.all, [HighsVarType.kContinuous] * len(self.all))
        self.solver.changeColsCost(self.count, list(range(self.count)), [0.0] * first + paid)
        self.solver.run()
        steps = self.solver.getSolution().col_value[first:]
        return tuple(ceil(sum(steps[2 * day : 2 * day + 2]) - DUST) for day in range(len(days)))

    def least(self, aim: int, nodes: int) -> tuple[tuple[int, ...] | None, int]:
        """Return the choice that costs least by an aim, and its bound."""
        above, base = self.above[aim], self.grid.floor(aim)
        unit = max(self.grid.finest, self.grid.dust) if aim == MONEY else 1
        costs = [cost / unit for cost in above] + [0.0] * (self.count - len(above))
        if aim == MONEY:
            costs[-len(self.over) :] = [
                (self.grid.days[day].odd if first else self.grid.days[day].each) / unit
                for day, first in self.over
            ]
        self.solver.changeColsCost(self.count, list(range(self.count)), costs)
        found, least = self.whole(nodes)
        least = max(least - SLACK, 0.0)
        return found, base + (
            ceil(least) * unit if unit != self.grid.dust or aim != MONEY else ceil(least * unit)
        )

    def whole(self, nodes: int) -> tuple[tuple[int, ...] | None, float]:
        """Return the least choice in whole boxes, and what none costs less than."""
        parts, prices, least = self.parts()
        if parts is None:
            return None, 0.0
        if all(abs(part - round(part)) < DUST for part in parts):
            return tuple(map(round, parts)), least
        gap = sorted(map(abs, prices))[: FREE + len(self.grid.lots)][-1]
        best: tuple[float, tuple[int, ...] | None, float] = (inf, None, least)
        for _ in range(ROUNDS):
            found, value, bound = self.branched(*self.within(parts, prices, gap), nodes)
            if value <= best[0]:  # where it is no better, its bound is: it looked further
                best = value, found, max(least, min(bound, least + gap))
            if value - least <= gap:
                break
            gap = best[0] - least if found else WIDER * gap + 1
        return best[1], best[2]

    def parts(self) -> tuple[list[float] | None, list[float], float]:
        """Solve in parts of boxes: the parts, what one more of each costs, and the cost; None where nothing goes."""
        self.solver.changeColsIntegrality(len(self.all), self.all, [HighsVarType.kContinuous] * len(self.all))
        self.bounded([0] * len(self.all), self.most)
        self.solver.run()
        if self.solver.getModelStatus() != HighsModelStatus.kOptimal:
            return None, [], 0.0
        answer, count = self.solver.getSolution(), len(self.all)
        return (
            list(answer.col_value[:count]),
            list(answer.col_dual[:count]),
            self.solver.getInfo().objective_function_value,
        )

    def bounded(self, low: Sequence[int], high: Sequence[int]) -> None:
        """Keep each choice between two counts."""
        self.solver.changeColsBounds(
            len(self.all), self.all, [float(one) for one in low], [float(one) for one in high]
        )

    def within(
        self, parts: Sequence[float], prices: Sequence[float], gap: float
    ) -> tuple[list[int], list[int]]:
        """Return how few and how many boxes each choice has in any answer at most a gap above the one in parts."""
        low, high = [0] * len(self.all), list(self.most)
        for place, (part, price, most) in enumerate(zip(parts, prices, self.most, strict=True)):
            if gap == inf or not price:
                continue
            moved = floor(gap / abs(price) + DUST)
            if price > 0 and part < DUST:
                high[place] = min(most, moved)
            elif price < 0 and part > most - DUST:
                low[place] = max(0, most - moved)
        return low, high

    def branched(
        self, low: Sequence[int], high: Sequence[int], nodes: int
    ) -> tuple[tuple[int, ...] | None, float, float]:
        """Return the best whole choice within limits, its cost, and what none within them costs less than."""
        self.solver.changeColsIntegrality(len(self.all), self.all, [HighsVarType.kInteger] * len(self.all))
        self.bounded(low, high)
        self.solver.clearSolver()  # what it knows of another search may mislead it
        self.solver.setOptionValue("mip_abs_gap", OPEN)
        self.solver.setOptionValue("mip_max_nodes", nodes)
        self.solver.run()
        info = self.solver.getInfo()
        if info.primal_solution_status != SolutionStatus.kSolutionStatusFeasible:
            return None, inf, inf if self.solver.getModelStatus() == HighsModelStatus.kInfeasible else 0.0
        boxes = tuple(map(round, self.solver.getSolution().col_value[: len(self.all)]))
        return boxes, info.objective_function_value, info.mip_dual_bound
