"""START HERE: a month becomes a plan, one step after the other.

Each step is a package of its own with one public function, `problem -> result`, on frozen plain data; `planning.problems`
looks the step's question up in the month's rows. Nothing is handed on that its own checker has not passed.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeVar

from planning.allocation import AllocationResult, allocation_faults, plan_allocation
from planning.balance import BalanceResult, plan_balance
from planning.buying import (
    BuyingResult,
    LargerProblem,
    LargerResult,
    buying_faults,
    decide_larger,
    larger_faults,
    plan_buying,
)
from planning.cost import CostResult, cost_faults, plan_cost
from planning.cutting import CuttingResult, cutting_faults, plan_cutting
from planning.lots import LotsResult, lots_faults, plan_lots
from planning.month import Month
from planning.overs import OversResult, overs_faults, plan_overs
from planning.packing import PackingResult, plan_packing
from planning.postage import PostageResult, plan_postage, postage_faults
from planning.problems import (
    allocation_problem,
    balance_problem,
    buying_problem,
    cost_problem,
    cutting_problem,
    larger_sheets,
    lots_problem,
    overs_problem,
    packing_problem,
    postage_problem,
    requirements_problem,
    roster_problem,
    shipping_problem,
    size_jobs,
)
from planning.requirements import RequirementsResult, plan_requirements
from planning.roster import RosterProblem, RosterResult, plan_roster
from planning.shipping import ShippingResult, Wave, make_waves, plan_shipping, shipping_faults

Problem = TypeVar("Problem")
Result = TypeVar("Result")
Tell = Callable[[str], None]


class PlanError(RuntimeError):
    """A step's answer did not pass its checker: a mistake of the program, never of the month."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MonthPlan:
    """The answers of every step.

    larger: which sheets are cut from larger ones, and which bought in their own size. lots: None where nothing is known of
    later months.
    """

    roster: RosterResult
    requirements: RequirementsResult
    cutting: CuttingResult
    larger: LargerResult
    buying: BuyingResult
    packing: PackingResult
    postage: PostageResult
    shipping: ShippingResult
    waves: tuple[Wave, ...]
    cost: CostResult
    balance: BalanceResult
    allocation: AllocationResult
    overs: OversResult
    lots: LotsResult | None


def plan_month(
    month: Month,
    tell: Tell = lambda step: None,
    people: RosterProblem | None = None,
    *,
    quick: bool = False,
) -> MonthPlan:
    """Plan a month whose rows fit together (`planning.faults` finds none).

    `tell` hears each step's name as it begins. people: the roster, where it was counted in a database and the month's book
    holds nobody. quick: content with a good way to cut, not the long search for the best. Raises CuttingError, LotsError,
    CalendarError or BalanceError where the month cannot be planned, PlanError where a checker disagrees with a step.
    """
    tell("roster")
    people = people or roster_problem(month)
    roster = plan_roster(people)
    tell("requirements")
    needs = plan_requirements(requirements_problem(month, roster))
    tell("cutting")
    larger = LargerResult()
    if ways := larger_sheets(month):
        own = plan_cutting(cutting_problem(month, needs, quick=True))
        asked = LargerProblem(buying=buying_problem(month, needs, own), ways=ways)
        larger = checked(decide_larger, larger_faults, asked)
    also = size_jobs(month, larger)
    cutting = checked(plan_cutting, cutting_faults, cutting_problem(month, needs, also, quick=quick))
    tell("buying")
    buying = checked(plan_buying, buying_faults, buying_problem(month, needs, cutting))
    tell("packing")
    packing = plan_packing(packing_problem(month, roster, cutting))
    tell("shipping")
    postage = checked(plan_postage, postage_faults, postage_problem(month, roster, packing))
    shipping = checked(
        plan_shipping, shipping_faults, shipping_problem(month, roster, cutting, buying, packing, postage)
    )
    waves = make_waves(shipping.loads, month.club.wave_size)
    tell("cost")
    cost = checked(
        plan_cost, cost_faults, cost_problem(month, roster, needs, cutting, buying, packing, shipping)
    )
    tell("balance")
    balance = plan_balance(balance_problem(month, needs, cutting, buying, packing))
    tell("looking ahead")
    allocation = checked(
        plan_allocation, allocation_faults, allocation_problem(month, people, needs, cutting, buying, packing)
    )
    overs = checked(plan_overs, overs_faults, overs_problem(month, needs, cutting, buying))
    ahead = lots_problem(month, buying)
    lots = checked(plan_lots, lots_faults, ahead) if ahead else None
    return MonthPlan(
        roster=roster,
        requirements=needs,
        cutting=cutting,
        larger=larger,
        buying=buying,
        packing=packing,
        postage=postage,
        shipping=shipping,
        waves=waves,
        cost=cost,
        balance=balance,
        allocation=allocation,
        overs=overs,
        lots=lots,
    )


def checked(
    step: Callable[[Problem], Result], faults: Callable[[Problem, Result], Sequence[str]], problem: Problem
) -> Result:
    """Take a step and let its checker look at the answer."""
    result = step(problem)
    if found := faults(problem, result):
        raise PlanError("; ".join(found))
    return result
