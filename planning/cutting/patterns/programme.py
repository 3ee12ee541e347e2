"""The linear and the whole-numbered programmes over the patterns found so far, on HiGHS: one thread, no clock.

Their floating point numbers decide which patterns are looked at next and which plans are tried, and nothing else.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
from numpy.typing import NDArray

from planning.cutting.patterns.column import Column

if TYPE_CHECKING:
    from highspy import Highs

Floats: TypeAlias = NDArray[np.float64]

NO_LIMIT = float("inf")
FEASIBLE = 2  # HiGHS's own mark of a plan that keeps every row
INTEGER = 1  # and of a number that must be whole


@dataclass(frozen=True, slots=True)
class Needs:
    """What a programme must keep. prices: of sheets. penalties: of each piece not made; none if all can be made."""

    demands: Sequence[int]
    prices: Sequence[float]
    available: Sequence[int | None]
    penalties: Sequence[float]


@dataclass(frozen=True, slots=True, eq=False)
class Solved:
    """The linear programme's answer.

    cost: of the plan in fractions of sheets. uses: of each pattern. values: what one more of each piece would
    cost. premiums: what one more of each sheet would save.
    """

    cost: float
    uses: Floats
    values: tuple[float, ...]
    premiums: tuple[float, ...]


class LinearProgramme:
    """The cheapest use of patterns, in fractions, to which patterns are added as they are found."""

    def __init__(self, needs: Needs) -> None:
        self.needs = needs
        self.solver = _with_rows(needs)
        self.prices: list[float] = []

    def add(self, columns: Sequence[Column]) -> None:
        """Add patterns."""
        for one in columns:
            self.prices.append(self.needs.prices[one.sheet])
            _add(self.solver, self.needs, one, self.prices[-1])

    def solve_beside(self, factors: Sequence[float] | Floats) -> Floats:
        """Return the uses of a plan that is cheapest at other prices. factors: of each pattern's."""
        self._price(np.array(self.prices) * np.array(factors))
        self.solver.run()
        uses = self._uses()
        self._price(np.array(self.prices))
        return uses

    def solve_rest(self, demands: Sequence[int], available: Sequence[int | None]) -> tuple[float, Floats]:
        """Return what it costs in fractions to make other numbers of pieces from other numbers of sheets, and the uses."""
        self._bound(demands, available)
        self.solver.run()
        answer = self.solver.getInfo().objective_function_value, self._uses()
        self._bound(self.needs.demands, self.needs.available)
        return answer

    def _price(self, prices: Floats) -> None:
        count = len(prices)
        numbers = np.arange(count, dtype=np.int32) + np.int32(len(self.needs.penalties))
        self.solver.changeColsCost(count, numbers, prices)

    def _bound(self, demands: Sequence[int], available: Sequence[int | None]) -> None:
        most = [NO_LIMIT if limit is None else float(limit) for limit in available]
        count = len(demands) + len(most)
        low = np.array([*demands, *[-NO_LIMIT] * len(most)], float)
        high = np.array([*[NO_LIMIT] * len(demands), *most], float)
        rows = np.arange(count, dtype=np.int32)
        self.solver.changeRowsBounds(count, rows, low, high)  # type: ignore[attr-defined]  # not in its stubs

    def _uses(self) -> Floats:
        return np.array(self.solver.getSolution().col_value)[len(self.needs.penalties) :]

    def solve(self) -> Solved:
        """Return the cheapest plan in fractions."""
        self.solver.run()
        solution = self.solver.getSolution()
        duals, pieces = list(solution.row_dual), len(self.needs.demands)
        return Solved(
            self.solver.getInfo().objective_function_value,
            self._uses(),
            tuple(max(0.0, dual) for dual in duals[:pieces]),
            tuple(max(0.0, -dual) for dual in duals[pieces:]),
        )


@cache
def _kind() -> type["Highs"]:
    """Return HiGHS without its greeting. It is loaded here, by whoever searches; to ask and to read need not wait."""
    from highspy import Highs

    class Solver(Highs):
        def enableCallbacks(self) -> None:  # noqa: N802 - its own name
            """Enable none: nothing is called back here, and this is where it greets."""

    return Solver


def whole_plan(
    needs: Needs, columns: Sequence[Column], *, target: float, nodes: int
) -> tuple[int, ...] | None:
    """Return how often to use each pattern, in whole sheets, as cheaply as so many nodes find it.

    target: the cost at which the search ends, as none is looked for below.
    """
    solver = _with_rows(needs)
    for one in columns:
        _add(solver, needs, one, needs.prices[one.sheet])
    solver.setOptionValue("objective_target", target)
    found = _in_whole_numbers(solver, nodes)
    return found and found[len(needs.penalties) :]


@dataclass(frozen=True, slots=True)
class Lifts:
    """How a pattern is cut. sheets: in one lift. effort: of one lift, in any unit."""

    sheets: int
    effort: float


def least_effort(
    needs: Needs, columns: Sequence[Column], lifts: Sequence[Lifts], *, most: float, nodes: int
) -> tuple[int, ...] | None:
    """Return how often to use each pattern so that all lifts together take the least effort.

    most: what the sheets may cost.
    """
    solver = _with_rows(needs)
    solver.addRow(-NO_LIMIT, most, 0, [], [])
    cost_row, first_link = solver.getNumRow() - 1, solver.getNumRow()
    for _ in columns:
        solver.addRow(0.0, NO_LIMIT, 0, [], [])
    for index, one in enumerate(columns):
        rows = {cost_row: needs.prices[one.sheet], first_link + index: -1.0}
        _add(solver, needs, one, 0.0, rows)
    for index, lift in enumerate(lifts):
        solver.addCol(lift.effort, 0.0, NO_LIMIT, 1, [first_link + index], [float(lift.sheets)])
    found = _in_whole_numbers(solver, nodes)
    slack = len(needs.penalties)
    return found and found[slack : slack + len(columns)]


def _with_rows(needs: Needs) -> "Highs":
    """Return a programme with a row for each piece and each sheet, and pieces that are not made at their penalty."""
    solver = _kind()()
    for option, value in (
        ("output_flag", False),
        ("threads", 1),
        ("parallel", "off"),
        ("random_seed", 0),
        ("mip_rel_gap", 0.0),
    ):
        solver.setOptionValue(option, value)
    for demand in needs.demands:
        solver.addRow(float(demand), NO_LIMIT, 0, [], [])
    for limit in needs.available:
        solver.addRow(-NO_LIMIT, NO_LIMIT if limit is None else float(limit), 0, [], [])
    for index, penalty in enumerate(needs.penalties):
        solver.addCol(penalty, 0.0, NO_LIMIT, 1, [index], [1.0])
    return solver


def _add(
    solver: "Highs", needs: Needs, one: Column, cost: float, more: dict[int, float] | None = None
) -> None:
    """Add a pattern. more: its entries in rows besides those of pieces and sheets."""
    entries = {index: float(count) for index, count in enumerate(one.counts) if count}
    entries |= {len(needs.demands) + one.sheet: 1.0, **(more or {})}
    solver.addCol(cost, 0.0, NO_LIMIT, len(entries), list(entries), list(entries.values()))


def _in_whole_numbers(solver: "Highs", nodes: int) -> tuple[int, ...] | None:
    count = solver.getNumCol()
    whole = np.full(count, INTEGER, np.uint8)
    solver.changeColsIntegrality(count, np.arange(count, dtype=np.int32), whole)
    solver.setOptionValue("mip_max_nodes", nodes)
    solver.run()
    if solver.getInfo().primal_solution_status != FEASIBLE:
        return None
    return tuple(round(value) for value in solver.getSolution().col_value)
