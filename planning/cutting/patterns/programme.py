"""The linear and the whole-numbered programme over the patterns found so far, on HiGHS: one thread, no clock.

Its floating point numbers decide which patterns are looked at next, and nothing else.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import highspy
import numpy as np

from planning.cutting.patterns.column import Column

EASE = 1e-6


@dataclass(frozen=True, slots=True)
class Solved:
    """The linear programme's answer.

    cost: of the plan in fractions of sheets. uses: of each column. values: what one more of each piece would
    cost. premiums: what one more of each sheet would save. short: pieces of each size that are not made.
    """

    cost: float
    uses: tuple[float, ...]
    values: tuple[float, ...]
    premiums: tuple[float, ...]


class LinearProgramme:
    """The cheapest use of patterns, in fractions, to which patterns are added as they are found."""

    def __init__(
        self,
        demands: Sequence[int],
        prices: Sequence[float],
        available: Sequence[int | None],
        penalties: Sequence[float],
    ) -> None:
        """penalties: what each piece costs that is not made; none where all can be made."""
        self.prices = prices
        self.pieces = len(demands)
        self.count = 0
        self.solver = _solver()
        for demand in demands:
            self.solver.addRow(float(demand), highspy.kHighsInf, 0, [], [])
        for number in available:
            self.solver.addRow(-highspy.kHighsInf, highspy.kHighsInf if number is None else number, 0, [], [])
        self.slack = 0
        for index, penalty in enumerate(penalties):
            self.solver.addCol(penalty, 0.0, float(demands[index]), 1, [index], [1.0])
            self.slack += 1

    def add(self, columns: Sequence[Column]) -> None:
        """Add patterns."""
        for one in columns:
            rows = [index for index, count in enumerate(one.counts) if count]
            counts = [float(one.counts[index]) for index in rows]
            rows.append(self.pieces + one.sheet)
            counts.append(1.0)
            self.solver.addCol(self.prices[one.sheet], 0.0, highspy.kHighsInf, len(rows), rows, counts)

    def demand(self, demands: Sequence[int]) -> None:
        """Ask for other numbers of pieces."""
        for index, demand in enumerate(demands):
            self.solver.changeRowBounds(index, float(demand), highspy.kHighsInf)

    def solve(self) -> Solved:
        """Return the cheapest plan in fractions."""
        self.solver.run()
        solution = self.solver.getSolution()
        duals = list(solution.row_dual)
        return Solved(
            self.solver.getInfo().objective_function_value,
            tuple(list(solution.col_value)[self.slack :]),
            tuple(max(0.0, dual) for dual in duals[: self.pieces]),
            tuple(max(0.0, -dual) for dual in duals[self.pieces :]),
        )


def whole_plan(
    columns: Sequence[Column],
    demands: Sequence[int],
    prices: Sequence[float],
    available: Sequence[int | None],
    penalties: Sequence[float],
    *,
    target: float,
    nodes: int,
) -> tuple[int, ...] | None:
    """Return how often to use each pattern, in whole sheets, as cheaply as so many nodes find it.

    target: the cost that no plan is below, at which the search ends.
    """
    solver = _solver()
    solver.setOptionValue("mip_max_nodes", nodes)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("objective_target", target)
    model = highspy.HighsLp()
    pieces, slack = len(demands), len(penalties)
    model.num_col_ = slack + len(columns)
    model.num_row_ = pieces + len(prices)
    model.col_cost_ = np.array([*penalties, *(prices[one.sheet] for one in columns)], np.double)
    model.col_lower_ = np.zeros(model.num_col_)
    model.col_upper_ = np.full(model.num_col_, highspy.kHighsInf)
    model.row_lower_ = np.array([*demands, *[-highspy.kHighsInf] * len(prices)], np.double)
    limits = [highspy.kHighsInf if each is None else each for each in available]
    model.row_upper_ = np.array([*[highspy.kHighsInf] * pieces, *limits], np.double)
    starts, rows, counts = [0], [], []
    for index in range(slack):
        rows.append(index)
        counts.append(1.0)
        starts.append(len(rows))
    for one in columns:
        for index, count in enumerate(one.counts):
            if count:
                rows.append(index)
                counts.append(float(count))
        rows.append(pieces + one.sheet)
        counts.append(1.0)
        starts.append(len(rows))
    model.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    model.a_matrix_.start_ = np.array(starts)
    model.a_matrix_.index_ = np.array(rows)
    model.a_matrix_.value_ = np.array(counts, np.double)
    model.integrality_ = [highspy.HighsVarType.kInteger] * model.num_col_
    solver.passModel(model)
    solver.run()
    if solver.getInfo().primal_solution_status != 2:  # feasible
        return None
    return tuple(round(value) for value in list(solver.getSolution().col_value)[slack:])


def _solver() -> highspy.Highs:
    solver: highspy.Highs = highspy.Highs()  # type: ignore[no-untyped-call]
    for option, value in (
        ("log_to_console", False),
        ("output_flag", False),
        ("threads", 1),
        ("parallel", "off"),
        ("random_seed", 0),
    ):
        solver.setOptionValue(option, value)
    return solver
