"""Materials that must be planned together as an integer programme, on HiGHS: one thread, effort counted and not timed.

Unknowns are packs by each offer, price and period, whether each is used, whether a supplier sends anything in a period and
whether freight is paid for it. Each period's need is shared out over the periods it may be ordered in, at most all of it
where something is ordered and nothing where not, which brings the bound in parts of orders close to the best whole plan
(Krarup & Bilde, 1977, from memory).

HiGHS reckons in floating point: what it finds is priced anew exactly, and its bound is loosened by what it may be off.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from math import inf, isfinite
from typing import Any

from highspy import Highs, HighsVarType, SolutionStatus

from planning.lots.costs import Pick, cost_of
from planning.lots.exact import freight_of
from planning.lots.model import LotOffer, LotsError, LotsProblem
from planning.lots.net import Net

SLACK = Fraction(1, 10**5)  # of the money's unit, by which a bound in floating point may be off
SAFETY = 120.0  # seconds; a net below the counted effort, which ends first


class Solver(Highs):
    """HiGHS without its greeting."""

    def enableCallbacks(self) -> None:  # noqa: N802 - its own name
        """Enable none: nothing is called back here, and this is where it greets."""


@dataclass(slots=True)
class Programme:
    """Columns and rows as they are stated. chosen: column of the packs of each order that may be placed."""

    solver: Any
    columns: int = 0
    whole: list[int] = field(default_factory=list)
    chosen: dict[int, tuple[int, LotOffer]] = field(default_factory=dict)

    def column(self, cost: Fraction, most: float = inf, *, is_whole: bool = False) -> int:
        """Add an unknown from 0 up and return its number."""
        self.solver.addCol(float(cost), 0.0, most, 0, [], [])
        if is_whole:
            self.whole.append(self.columns)
        self.columns += 1
        return self.columns - 1

    def row(self, low: float, high: float, parts: dict[int, float]) -> None:
        """Hold a sum of unknowns between bounds."""
        self.solver.addRow(low, high, len(parts), list(parts), list(parts.values()))


def searched(group: Sequence[Net], problem: LotsProblem) -> tuple[list[Pick], Fraction]:
    """Return the orders found for materials that belong together, and what no orders of them cost less than."""
    programme = stated(group, problem)
    solver = programme.solver
    kinds = [HighsVarType.kInteger] * len(programme.whole)
    solver.changeColsIntegrality(len(programme.whole), programme.whole, kinds)
    solver.run()
    if solver.getInfo().primal_solution_status != SolutionStatus.kSolutionStatusFeasible:
        raise LotsError(no_room(problem))
    values = solver.getSolution().col_value
    picks = [
        Pick(period, offer, round(values[column]) * offer.pack)
        for column, (period, offer) in programme.chosen.items()
        if round(values[column])
    ]
    cost = cost_of(picks, group, problem.suppliers)
    if not programme.whole:  # nothing is ordered, whatever the bound of a programme without decisions says
        return picks, cost
    least = solver.getInfo().mip_dual_bound
    bound = Fraction(least) - SLACK if isfinite(least) else Fraction(0)
    return picks, cost if cost - bound <= 2 * SLACK else min(bound, cost)


def no_room(problem: LotsProblem) -> str:
    """Say what stands in the way where no plan was found."""
    if problem.room is not None:
        return (
            f"the stock room, {problem.room.normalize():,f}, does not hold what must be kept from period to period, or no "
            "plan was found within the effort. Give it more room, or smaller packs and minimums."
        )
    return "no plan was found within the effort. Allow more nodes, or larger orders in one period."


def silent_solver(nodes: int) -> Any:
    """Return HiGHS with its effort counted, on one thread, saying nothing."""
    solver: Any = Solver()  # type: ignore[no-untyped-call]
    for name, value in (
        ("output_flag", False),
        ("threads", 1),
        ("parallel", "off"),
        ("random_seed", 0),
        ("mip_rel_gap", 0.0),
        ("mip_abs_gap", 1e-6),
        ("mip_feasibility_tolerance", 1e-9),
        ("primal_feasibility_tolerance", 1e-9),
        ("mip_max_nodes", nodes),
        ("time_limit", SAFETY),
    ):
        solver.setOptionValue(name, value)
    return solver


def stated(group: Sequence[Net], problem: LotsProblem) -> Programme:
    """State the programme."""
    programme = Programme(silent_solver(problem.nodes))
    sends: defaultdict[tuple[int, str], Sent] = defaultdict(Sent)
    taken: list[list[tuple[Net, dict[int, float]]]] = [[] for _ in problem.periods]
    for one in group:
        uses = [material_rows(one, period, programme, sends, problem) for period in range(len(one.orders))]
        share_out(one, uses, programme)
        keep(one, uses, programme, taken)
    for (_, supplier), sent in sends.items():
        freight_rows(supplier, sent, problem, programme)
    if problem.room is not None:
        for here in taken:
            room_row(here, problem.room, programme)
    return programme


@dataclass(slots=True)
class Sent:
    """What a supplier may send in a period: the columns that say whether, and what a pack is worth by column of packs."""

    whether: list[int] = field(default_factory=list)
    worth: dict[int, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Use:
    """What may be ordered of a material in a period: units by column of packs, and the columns that say whether."""

    units: dict[int, float]
    whether: tuple[int, ...]


def material_rows(
    one: Net,
    period: int,
    programme: Programme,
    sends: defaultdict[tuple[int, str], Sent],
    problem: LotsProblem,
) -> Use:
    """State every order of a material that may be placed in a period: by each offer, at each of its prices."""
    units: dict[int, float] = {}
    whether: list[int] = []
    offers = [offer for offer in one.offers if offer.first <= period] if any(one.orders[period:]) else []
    for offer in offers:
        sent = sends[period, offer.supplier]
        enough = max(sum(one.orders[period:]), most_worth(offer, problem))
        for low, high, price in price_steps(offer, enough):
            if not is_worth_it(offer, low * offer.pack, sum(one.orders[period:]), problem):
                continue
            dearer = Fraction(offer.ahead(low * offer.pack))
            used = programme.column(offer.setup_in(period) + dearer, 1.0, is_whole=True)
            packs = programme.column(price * offer.pack, high, is_whole=True)
            programme.chosen[packs] = period, offer
            programme.row(0.0, inf, {packs: 1.0, used: -float(low)})
            programme.row(-inf, 0.0, {packs: 1.0, used: -float(high)})
            units[packs] = float(offer.pack)
            whether.append(used)
            sent.whether.append(used)
            sent.worth |= {packs: float(price * offer.pack), used: float(dearer)}
    return Use(units, tuple(whether))


def is_worth_it(offer: LotOffer, least: int, needed: int, problem: LotsProblem) -> bool:
    """Tell whether a price that starts above all that is needed can cost less than ordering just that, with freight."""
    just_enough = offer.at_least(needed)
    if least <= just_enough or (offer.most is not None and just_enough > offer.most):
        return True
    more = Fraction(offer.goods(least) - offer.goods(just_enough))
    return more < freight_of(offer, problem.suppliers)


def most_worth(offer: LotOffer, problem: LotsProblem) -> int:
    """Return the units that make an order free of freight by themselves: more than needed may cost less than freight."""
    terms = next((one for one in problem.suppliers if one.code == offer.supplier), None)
    least = min((one.price for one in offer.prices if one.price), default=None)
    if terms is None or not terms.freight or terms.free_freight_from is None or least is None:
        return 0
    return int(-(-terms.free_freight_from // least))


def price_steps(offer: LotOffer, needed: int) -> list[tuple[int, int, Fraction]]:
    """Return the fewest and the most packs worth ordering at each price of an offer, and the price."""
    steps = []
    for number, one in enumerate(offer.prices):
        low = offer.at_least(one.from_quantity) // offer.pack
        high = max(low, -(-needed // offer.pack))
        if number + 1 < len(offer.prices):
            high = min(high, (offer.prices[number + 1].from_quantity - 1) // offer.pack)
        if offer.most is not None:
            high = min(high, offer.most // offer.pack)
        if low <= high:
            steps.append((low, high, Fraction(one.price)))
    return steps


def share_out(one: Net, uses: Sequence[Use], programme: Programme) -> None:
    """Let each period's need come out of the orders of periods up to it, in parts that add up to 1."""
    given: list[dict[int, float]] = [{} for _ in uses]
    for until, needed in enumerate(one.orders):
        parts = {}
        for period in range(until + 1 if needed else 0):
            if uses[period].whether:
                part = programme.column(Fraction(0), 1.0)
                parts[part] = 1.0
                programme.row(-inf, 0.0, {part: 1.0} | dict.fromkeys(uses[period].whether, -1.0))
                given[period][part] = -float(needed)
        if needed:
            programme.row(1.0, 1.0, parts)
    for use, out in zip(uses, given, strict=True):
        if out:
            programme.row(0.0, inf, use.units | out)


def keep(
    one: Net, uses: Sequence[Use], programme: Programme, taken: list[list[tuple[Net, dict[int, float]]]]
) -> None:
    """State what is left at the end of each period, and what keeping it costs."""
    without = one.left([0] * len(uses))
    ordered: dict[int, float] = {}
    for period, use in enumerate(uses):
        ordered |= use.units
        left = programme.column(one.material.storage_in(period))
        programme.row(
            float(without[period]), float(without[period]), {left: 1.0} | {c: -u for c, u in ordered.items()}
        )
        taken[period].append((one, {left: float(one.material.space)}))


def freight_rows(supplier: str, sent: Sent, problem: LotsProblem, programme: Programme) -> None:
    """Let a supplier's order cost freight, unless its goods are worth enough."""
    terms = next((one for one in problem.suppliers if one.code == supplier), None)
    if terms is None or not terms.freight:
        return
    paid = {programme.column(Fraction(terms.freight), 1.0, is_whole=True): -1.0}
    if terms.free_freight_from is not None:
        free = programme.column(Fraction(0), 1.0, is_whole=True)
        paid[free] = -1.0
        programme.row(0.0, inf, sent.worth | {free: -float(terms.free_freight_from)})
    for used in sent.whether:
        programme.row(-inf, 0.0, {used: 1.0} | paid)


def room_row(here: Sequence[tuple[Net, dict[int, float]]], room: Any, programme: Programme) -> None:
    """Hold what all stock takes at the end of a period within the room."""
    parts = {column: space for _, left in here for column, space in left.items() if space}
    if parts:
        programme.row(-inf, float(room), parts)
