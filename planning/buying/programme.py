"""All needs together as a mixed-integer programme, on HiGHS: one thread, no clock.

For each order worth weighing one unknown says whether it is placed; another, where more may carry an order to free freight,
by how many lots it grows. Freight couples the needs: it is paid once an order, and not from a sum of goods on.

HiGHS reckons in floating point and in the smallest coin. What it finds is costed anew exactly. Its bound is loosened by what
it may be off; where a line that grows may be rounded down, half a coin is taken off its price in the programme.

A need that may be split may have too many ways to weigh them all. Some are weighed; for the bound, such a need costs what it
costs by itself and pays no freight.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from math import inf, isfinite
from typing import Any

from kits.catalogue import Supplier
from planning.buying.alone import Alone
from planning.buying.model import BuyingProblem
from planning.buying.options import FINEST, Lack
from planning.buying.orders import Choice, Parts, Prices
from planning.buying.steps import Step, can_be_listed, most_units, steps

NODES = 20_000  # of branch and bound; a month takes some dozens
SECONDS = 60.0  # a net for what nobody foresaw: a month takes about one
SLACK = 0.01  # of the smallest coin, by which a bound may be off
FEASIBLE = 2  # HiGHS's own mark of an answer that keeps every row


def decide(
    problem: BuyingProblem, found: Sequence[Alone], prices: Prices
) -> tuple[Choice | None, Decimal | None]:
    """Return the best choice found, and the least that any choice costs; None where there is no answer."""
    choice, bound = Programme(problem, found, prices).solve()
    if any(is_open(one, prices) for one in found):
        bound = Programme(problem, found, prices, relaxed=True).solve()[1]
    return choice, bound


def is_open(one: Alone, prices: Prices) -> bool:
    """Tell whether a need may be split in more ways than are weighed."""
    splits = bool(one.lack.target) and one.lack.need.split and one.lot is None
    return splits and not can_be_listed(one.lack, prices)


@dataclass(slots=True)
class Model:
    """Whole unknowns and rows, as HiGHS takes them."""

    costs: list[float] = field(default_factory=list)
    highs: list[float] = field(default_factory=list)
    rows: list[tuple[float, float, dict[int, float]]] = field(default_factory=list)

    def unknown(self, cost: float, high: float = 1.0) -> int:
        """Add a whole unknown from 0 to `high`; return its place."""
        self.costs.append(cost)
        self.highs.append(high)
        return len(self.costs) - 1

    def row(self, low: float, high: float, entries: dict[int, float]) -> None:
        """Add a row: the sum of unknowns lies between two numbers."""
        self.rows.append((low, high, entries))


class Programme:
    """The programme of a problem's lacks. relaxed: needs that may be split are left out, at the least they cost."""

    def __init__(
        self, problem: BuyingProblem, found: Sequence[Alone], prices: Prices, *, relaxed: bool = False
    ) -> None:
        self.found, self.prices = found, prices
        self.coin = 10**problem.exponent
        self.model = Model()
        self.taken: list[
            tuple[Step, int, int | None]
        ] = []  # a step, whether it is taken, by how many lots it grows
        self.billed: defaultdict[str, dict[int, float]] = defaultdict(dict)
        self.credit: defaultdict[str, Decimal] = defaultdict(Decimal)
        self.constant = Decimal(0)
        for index, one in enumerate(found):
            if relaxed and is_open(one, prices):
                self.leave_out(one)
            elif one.lack.target:
                self.add(one.lack, steps(index, one.lack, one.lot, prices))
        for supplier in problem.suppliers:
            self.add_freight(supplier)
        charges = (option.terms.offer.setup_charge for one in found for option in one.lack.options)
        self.whole = not any(one.lack.worth for one in found) and not any(
            charge * self.coin % 1 for charge in charges
        )

    def cents(self, amount: Decimal) -> float:
        """Return an amount in the smallest coin."""
        return float(amount * self.coin)

    def add(self, lack: Lack, found: Sequence[Step]) -> None:
        """Add one lack: one of its steps is taken."""
        self.constant += lack.worth * lack.net
        one_of: dict[int, float] = {}
        for step in found:
            taken = self.placed(lack, step)
            one_of[taken] = 1
            lots = None
            if step.lots:
                larger, lots = self.grown(lack, step)
                one_of[larger] = 1
                self.taken.append((step, larger, lots))
            self.taken.append((step, taken, None))
        self.model.row(1, 1, one_of)

    def placed(self, lack: Lack, step: Step) -> int:
        """Add an unknown for a step that is placed as it is."""
        taken = self.model.unknown(self.cents(step.cost - lack.worth * step.units))
        for supplier, amount in step.goods:
            self.billed[supplier][taken] = self.cents(amount)
        return taken

    def grown(self, lack: Lack, step: Step) -> tuple[int, int]:
        """Add the unknowns of a step that grows by a lot or more, less half a coin where its rounding is not known."""
        terms, quantity = step.first.option.terms, step.units
        goods, more = terms.exact_goods(quantity) * self.coin, step.price * step.lot * self.coin
        less = Decimal(0) if not goods % 1 and not more % 1 else Decimal("0.5")
        worth = lack.worth * self.coin
        cost = goods + terms.offer.setup_charge * self.coin - worth * quantity - less
        larger = self.model.unknown(float(cost))
        lots = self.model.unknown(float(more - worth * step.lot), float(step.lots))
        self.billed[terms.offer.supplier] |= {larger: float(goods + less), lots: float(more)}
        self.model.row(-inf, 0, {lots: 1, larger: -step.lots})
        self.model.row(0, inf, {lots: 1, larger: -1})
        return larger, lots

    def leave_out(self, alone: Alone) -> None:
        """Count a need that may be split at the least it costs by itself; its goods may stand on any supplier's order."""
        self.constant += alone.least
        for option in alone.lack.options:
            dearest = max(one.price for one in option.terms.breaks)
            units = most_units(option.terms, alone.lack, self.prices)
            self.credit[option.terms.offer.supplier] += dearest * units

    def add_freight(self, supplier: Supplier) -> None:
        """Add a supplier's freight: paid where anything is ordered there, but for the sum from which it is free."""
        freight = self.cents(self.prices.freight(supplier.code, Decimal(0)))
        if not freight or not self.billed[supplier.code]:
            return
        ordered = self.model.unknown(freight)
        rows: defaultdict[int, dict[int, float]] = defaultdict(dict)
        for step, taken, _ in self.taken:
            if supplier.code in step.suppliers:
                rows[step.lack][taken] = 1
        for row in rows.values():
            self.model.row(-inf, 0, {**row, ordered: -1})
        if supplier.free_freight_from is not None:
            free = self.model.unknown(-freight)
            self.model.row(-inf, 0, {free: 1, ordered: -1})
            goods, credit = self.billed[supplier.code], self.cents(self.credit[supplier.code])
            self.model.row(-credit, inf, {**goods, free: -self.cents(supplier.free_freight_from)})

    # --- Its answer ---

    def solve(self) -> tuple[Choice | None, Decimal | None]:
        """Return what branch and bound finds, and the least that any choice costs; None where it finds none."""
        if not self.taken:
            return tuple(() for _ in self.found), self.constant
        solver = stated(self.model, whole=self.whole)
        solver.run()
        info = solver.getInfo()
        values = solver.getSolution().col_value
        is_found = info.primal_solution_status == FEASIBLE
        return (self.choice(values) if is_found else None), self.bound(info.mip_dual_bound)

    def choice(self, values: Sequence[float]) -> Choice:
        """Return the orders that the unknowns say."""
        parts: list[Parts] = [() for _ in self.found]
        for step, taken, lots in self.taken:
            if round(values[taken]):
                parts[step.lack] = step.with_more(0 if lots is None else round(values[lots]))
        return tuple(parts)

    def bound(self, value: float) -> Decimal | None:
        """Return the least that any choice costs, by HiGHS's own bound; where every choice costs whole coins, so many."""
        if not isfinite(value):
            return None
        least = Decimal(value) - Decimal(SLACK) - Decimal(abs(value)) * Decimal("1e-9")
        least += self.constant * self.coin
        if self.whole:
            least = least.to_integral_value(ROUND_CEILING)
        money: Decimal = least / self.coin
        return money.quantize(FINEST, ROUND_FLOOR)


def stated(model: Model, *, whole: bool) -> Any:
    """State a model to HiGHS."""
    import highspy
    import numpy as np

    class Solver(highspy.Highs):
        """HiGHS without its greeting."""

        def enableCallbacks(self) -> None:  # noqa: N802 - its own name
            """Enable none: nothing is called back here, and this is where it greets."""

    solver: Any = Solver()  # type: ignore[no-untyped-call]
    settings: dict[str, Any] = {
        "output_flag": False,
        "threads": 1,  # several may answer differently from time to time, and hang in a forked worker
        "mip_rel_gap": 0.0,
        "mip_abs_gap": 0.4 if whole else SLACK,  # of whole coins, less than one above the bound is best
        "mip_max_nodes": NODES,
        "time_limit": SECONDS,
    }
    for name, value in settings.items():
        solver.setOptionValue(name, value)
    programme = highspy.HighsLp()
    programme.num_col_, programme.num_row_ = len(model.costs), len(model.rows)
    programme.col_cost_ = np.array(model.costs)
    programme.col_lower_ = np.zeros(len(model.costs))
    programme.col_upper_ = np.array(model.highs)
    programme.row_lower_ = np.array([low for low, _, _ in model.rows])
    programme.row_upper_ = np.array([high for _, high, _ in model.rows])
    programme.integrality_ = [highspy.HighsVarType.kInteger] * len(model.costs)
    matrix = programme.a_matrix_
    matrix.format_ = highspy.MatrixFormat.kRowwise
    matrix.start_ = np.cumsum([0, *(len(entries) for _, _, entries in model.rows)])
    matrix.index_ = np.array([place for _, _, entries in model.rows for place in entries])
    matrix.value_ = np.array([value for _, _, entries in model.rows for value in entries.values()])
    solver.passModel(programme)
    return solver
