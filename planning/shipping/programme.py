"""The schedule as an integer programme, on HiGHS: one thread, no clock.

Boxes of each lot in each column are the unknowns; each lot's boxes all stand somewhere, and no day asks for more than
the crew has. The aims are weighed so that the first counts most. Solved in parts of boxes the programme is quick; from
there one unknown after the other is rounded. Where it is small, branch and bound closes the gap that is left.

HiGHS reckons in floating point. What it finds is laid out anew in whole boxes; its bounds are loosened by what they may
be off.
"""

from collections.abc import Sequence
from math import ceil, floor, gcd, inf, isfinite
from typing import Any

from highspy import Highs, HighsModelStatus, HighsVarType, SolutionStatus

from planning.shipping.fill import settled
from planning.shipping.grid import AIMS, Cost, Filling, Grid

SMALL = 600  # unknowns up to which branch and bound takes a second or two
ROUNDINGS = 400  # unknowns rounded one by one ...
WORK = 1_000_000  # ... and unknowns of all programmes solved for that
HEAVY = 10**7  # a weight beyond which floating point is not exact to a step
FEW = 10  # boxes whose later costs an earlier aim outweighs, where to outweigh all would be too heavy
SLACK = 0.01  # of a step, by which a bound may be off
DUST = 1e-6  # a part of a box that is none
SPARE = (0, 1, 2, 4)  # boxes whose time a day keeps back, tried in turn


class Solver(Highs):
    """HiGHS without its greeting."""

    def enableCallbacks(self) -> None:  # noqa: N802 - its own name
        """Enable none: nothing is called back here, and this is where it greets."""


class Programme:
    """The programme of a grid. met: so many aims are met already; each box stands only where it is best by them."""

    def __init__(self, grid: Grid, met: int) -> None:
        self.grid = grid
        self.places = [
            (row, column)
            for row, lot in enumerate(grid.lots)
            for column in lot.columns
            if all(lot.cost(column)[aim] == lot.least(aim) for aim in AIMS[:met])
        ]
        self.all = list(range(len(self.places)))
        self.most = [float(grid.lots[row].boxes) for row, _ in self.places]
        self.above = {aim: self._above(aim) for aim in AIMS[met:]}
        self.solver = self._stated()

    def _above(self, aim: int) -> list[int]:
        """Return what each unknown costs above the least of its lot."""
        least = [lot.least(aim) for lot in self.grid.lots]
        return [self.grid.lots[row].cost(column)[aim] - least[row] for row, column in self.places]

    def _stated(self) -> Any:
        """State the programme to HiGHS, but for its costs."""
        solver: Any = Solver()  # type: ignore[no-untyped-call]
        # Several threads may answer differently from time to time, and hang in a forked worker. Costs are whole, so what
        # is less than one above the bound is best.
        settings = {
            "output_flag": False,
            "threads": 1,
            "presolve": "off",
            "mip_rel_gap": 0.0,
            "mip_abs_gap": 0.9,
        }
        for name, value in settings.items():
            solver.setOptionValue(name, value)
        for lot in self.grid.lots:
            solver.addRow(lot.boxes, lot.boxes, 0, [], [])
        for room in self.grid.room:
            solver.addRow(-inf, room, 0, [], [])
        for (row, column), most in zip(self.places, self.most, strict=True):
            timed = column != self.grid.nowhere and self.grid.lots[row].minutes
            rows = [row, len(self.grid.lots) + column] if timed else [row]
            solver.addCol(0.0, 0.0, most, len(rows), rows, [1, self.grid.lots[row].minutes][: len(rows)])
        solver.changeColsIntegrality(len(self.all), self.all, [HighsVarType.kInteger] * len(self.all))
        return solver

    # --- A filling ---

    def best(self, filling: Filling, nodes: int) -> tuple[Filling, bool]:
        """Return a filling no worse than the one given, and whether it is proved that none is better."""
        weights, strict = self.weights()
        weighed = [sum(weights[aim] * self.above[aim][i] for aim in self.above) for i in self.all]
        self.solver.changeColsCost(len(self.all), self.all, weighed)
        filling = self.rounded(filling)
        if not nodes or len(self.all) > SMALL:
            return filling, False
        filling = min(filling, self.branched(nodes), key=self.grid.total)
        total = self.grid.total(filling)
        value = sum(weights[aim] * (total[aim] - self.grid.floor(aim)) for aim in self.above)
        least = self.solver.getInfo().mip_dual_bound
        return filling, strict and isfinite(least) and value <= ceil(least - SLACK)

    def weights(self) -> tuple[dict[int, int], bool]:
        """Return the weight of each aim, and whether no sum of later costs can outweigh an earlier one."""
        strict = self._weights(sum(lot.boxes for lot in self.grid.lots))
        return (strict, True) if max(strict.values()) <= HEAVY else (self._weights(FEW), False)

    def _weights(self, boxes: int) -> dict[int, int]:
        """Return weights by which one step of an aim outweighs what so many boxes cost by all later aims."""
        weights: dict[int, int] = {}
        later = 0
        for aim, above in reversed(self.above.items()):
            weights[aim] = boxes * later + 1
            later += max(above) * weights[aim]
        return weights

    def branched(self, nodes: int) -> Filling:
        """Return what branch and bound finds, or what can be made of nothing where it finds none."""
        self.solver.setOptionValue("solve_relaxation", False)
        self.solver.changeColsBounds(len(self.all), self.all, [0.0] * len(self.all), self.most)
        self.solver.setOptionValue("mip_max_nodes", nodes)
        self.solver.run()
        found = self.solver.getInfo().primal_solution_status == SolutionStatus.kSolutionStatusFeasible
        return self.filling(self.solver.getSolution().col_value if found else [0.0] * len(self.all))

    def rounded(self, filling: Filling) -> Filling:
        """Return a better filling near what is best in parts of boxes, or the one given.

        Each day keeps back the time of so many of the longest boxes for what rounding asks for more.
        """
        longest = max(lot.minutes for lot in self.grid.lots)
        for spare in SPARE:
            self.keep_back(spare * longest)
            found = self.filling(self.nearly_whole())
            if self.grid.total(found) < self.grid.total(filling):
                filling = found
                break
        self.keep_back(0)
        return filling

    def keep_back(self, steps: int) -> None:
        """Leave each day so many steps less than it has."""
        for day, room in enumerate(self.grid.room):
            self.solver.changeRowBounds(len(self.grid.lots) + day, -inf, max(room - steps, 0))

    def nearly_whole(self) -> list[float]:
        """Solve in parts of boxes, keep what is whole, round the largest part up, and so on as far as it goes."""
        low, high = [0.0] * len(self.all), list(self.most)
        parts, tried = [0.0] * len(self.all), self.parts(low, high)
        for _ in range(min(ROUNDINGS, WORK // len(self.all))):
            if tried is None or all(part.is_integer() for part in tried):
                break
            parts = tried
            i = max(self.all, key=lambda i: parts[i] % 1)
            low = [max(least, floor(part)) for least, part in zip(low, parts, strict=True)]
            low[i] += 1
            if (tried := self.parts(low, high)) is None:
                low[i] = high[i] = floor(parts[i])
                tried = self.parts(low, high)
        return tried or parts

    def parts(self, low: Sequence[float], high: Sequence[float]) -> list[float] | None:
        """Solve in parts of boxes, each unknown within its limits; None where that cannot be."""
        self.solver.setOptionValue("solve_relaxation", True)
        self.solver.changeColsBounds(len(self.all), self.all, low, high)
        self.solver.run()
        if self.solver.getModelStatus() != HighsModelStatus.kOptimal:
            return None
        values = self.solver.getSolution().col_value
        return [float(round(one)) if abs(one - round(one)) < DUST else one for one in values]

    def filling(self, parts: Sequence[float]) -> Filling:
        """Lay parts of boxes out in whole ones: each lot's largest fractions are rounded up."""
        rows = [[0.0] * (self.grid.nowhere + 1) for _ in self.grid.lots]
        for (row, column), part in zip(self.places, parts, strict=True):
            rows[row][column] = part
        whole = (to_whole(row, lot.boxes) for row, lot in zip(rows, self.grid.lots, strict=True))
        return settled(self.grid, tuple(whole))

    # --- Its bound ---

    def bound(self, filling: Filling) -> Cost:
        """Return, aim by aim, what no filling as good as this one by the aims before it costs less than."""
        total = self.grid.total(filling)
        bound = list(total)
        for aim, above in self.above.items():
            step = gcd(*above) or 1
            costs = [one // step for one in above]
            self.solver.changeColsCost(len(self.all), self.all, costs)
            solved = self.parts([0.0] * len(self.all), self.most) is not None
            least = ceil(self.solver.getInfo().objective_function_value - SLACK) if solved else 0
            bound[aim] = min(total[aim], self.grid.floor(aim) + step * max(least, 0))
            held = (total[aim] - self.grid.floor(aim)) // step
            self.solver.addRow(-inf, held, len(self.all), self.all, costs)
        return bound[0], bound[1], bound[2]


def to_whole(parts: Sequence[float], total: int) -> tuple[int, ...]:
    """Round amounts to whole ones of a given total, by largest remainder; what is still lacking goes to the last."""
    whole = [floor(part) for part in parts]
    fractions = sorted(
        (i for i, part in enumerate(parts) if part % 1), key=lambda i: (whole[i] - parts[i], i)
    )
    for i in fractions[: max(total - sum(whole), 0)]:
        whole[i] += 1
    return (*whole[:-1], whole[-1] + total - sum(whole))
