"""START HERE: a month becomes a plan, one step after the other.

Each step is a package of its own with one public function, `problem -> result`, on frozen plain data; `planning.problems`
looks the step's question up in the month's rows. Nothing is handed on that its own checker has not passed.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields, replace
from functools import partial
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
from planning.chances import ChancesResult, chances_faults, plan_chances
from planning.contents import ContentsResult, contents_faults, plan_contents
from planning.cost import CostResult, cost_faults, plan_cost
from planning.cutting import CuttingProblem, CuttingResult, cutting_faults, plan_again, plan_cutting
from planning.forecast import ForecastResult, forecast_faults, plan_forecast
from planning.lots import LotsResult, lots_faults, plan_lots
from planning.month import Month
from planning.overs import OversResult, overs_faults, plan_overs
from planning.packing import PackingResult, packing_faults, plan_packing
from planning.postage import PostageResult, plan_postage, postage_faults
from planning.problems import (
    allocation_problem,
    balance_problem,
    buying_problem,
    chances_problem,
    contents_problem,
    cost_problem,
    cutting_problem,
    forecast_problem,
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
from planning.shipping import (
    ShippingResult,
    Wave,
    make_waves,
    pack_plainly,
    plan_shipping,
    shipping_faults,
    waves_faults,
)

Problem = TypeVar("Problem")
Result = TypeVar("Result")
Tell = Callable[[str], None]


TOLD = (
    "roster",
    "requirements",
    "cutting",
    "packing",
    "buying",
    "shipping",
    "cost",
    "balance",
    "looking ahead",
)
"""What `plan_month` tells, in order."""


class PlanError(RuntimeError):
    """A step's answer did not pass its checker: a mistake of the program, never of the month."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Decided:
    """The answers of the steps up to the cost.

    contents: of each kind of box that is due. larger: which sheets are cut from larger ones.
    """

    contents: ContentsResult
    roster: RosterResult
    requirements: RequirementsResult
    cutting: CuttingResult
    larger: LargerResult
    buying: BuyingResult
    packing: PackingResult
    postage: PostageResult
    shipping: ShippingResult
    cost: CostResult


@dataclass(frozen=True, slots=True, kw_only=True)
class MonthPlan(Decided):
    """The answers of every step.

    lots, forecast: None where nothing is known of later, or of earlier months. chances: None where nothing is uncertain.
    """

    waves: tuple[Wave, ...]
    balance: BalanceResult
    allocation: AllocationResult
    overs: OversResult
    lots: LotsResult | None
    forecast: ForecastResult | None
    chances: ChancesResult | None


def plan_month(
    month: Month,
    tell: Tell = lambda step: None,
    people: RosterProblem | None = None,
    *,
    quick: bool = False,
    known: CuttingResult | None = None,
) -> MonthPlan:
    """Plan a month whose rows fit together (`planning.faults` finds none).

    `tell` hears each step's name as it begins. people: the roster, where it was counted in a database and the month's book
    holds nobody. quick, known: see `decide`. Raises CuttingError, LotsError, CalendarError or BalanceError where the month
    cannot be planned, PlanError where a checker disagrees with a step.
    """
    people = people or roster_problem(month)
    tell("roster")
    contents, people = filled(month, people)
    done = decide(month, contents, plan_roster(people), tell, quick=quick, known=known)
    tell("balance")
    balance = plan_balance(balance_problem(month, done.requirements, done.cutting, done.buying, done.packing))
    tell("looking ahead")
    allocation = checked(
        plan_allocation,
        allocation_faults,
        allocation_problem(month, people, done.requirements, done.cutting, done.buying, done.packing),
    )
    past = forecast_problem(month)
    forecast = checked(plan_forecast, forecast_faults, past) if past else None
    overs = checked(
        plan_overs, overs_faults, overs_problem(month, done.requirements, done.cutting, done.buying, forecast)
    )
    waves = make_waves(done.shipping.loads, month.club.wave_size)
    if found := waves_faults(done.shipping.loads, waves, month.club.wave_size):
        raise PlanError("; ".join(found))
    later = lots_problem(month, done.buying, done.roster.boxes, forecast)
    lots = checked(plan_lots, lots_faults, later) if later else None
    unsure = chances_problem(month, done.requirements, done.cutting, done.buying, done.cost, forecast)
    chances = checked(plan_chances, chances_faults, unsure) if unsure else None
    return MonthPlan(
        **{one.name: getattr(done, one.name) for one in fields(done)},
        waves=waves,
        balance=balance,
        allocation=allocation,
        overs=overs,
        lots=lots,
        forecast=forecast,
        chances=chances,
    )


def filled(month: Month, people: RosterProblem) -> tuple[ContentsResult, RosterProblem]:
    """Fill every kind of box that people are due, and return with it the roster that knows what its boxes hold."""
    contents = checked(plan_contents, contents_faults, contents_problem(month, people))
    return contents, replace(people, filled=contents.filled)


def decide(
    month: Month,
    contents: ContentsResult,
    roster: RosterResult,
    tell: Tell = lambda step: None,
    *,
    quick: bool = False,
    known: CuttingResult | None = None,
) -> Decided:
    """Take the steps from the boxes of the roster up to the cost.

    quick: content with a good way to cut, not the long search for the best. known: no search at all: sheets are cut by the
    patterns of this plan and boxes packed by the plain rule, and no checker looks, so that many counts are compared
    in a moment.
    """
    cut: Callable[[CuttingProblem], CuttingResult] = (
        plan_cutting if known is None else partial(plan_again, known=known.tickets)
    )
    look = checked if known is None else taken
    tell("requirements")
    needs = plan_requirements(requirements_problem(month, roster))
    tell("cutting")
    larger = LargerResult()
    if ways := larger_sheets(month):
        own = cut(cutting_problem(month, needs, quick=True))
        packed = plan_packing(packing_problem(month, roster, contents, own))
        whole = plan_requirements(requirements_problem(month, roster, packed))
        asked = LargerProblem(buying=buying_problem(month, whole, own), ways=ways)
        larger = look(decide_larger, larger_faults, asked)
    also = size_jobs(month, larger)
    cutting = look(cut, cutting_faults, cutting_problem(month, needs, also, quick=quick))
    tell("packing")
    packing = look(plan_packing, packing_faults, packing_problem(month, roster, contents, cutting))
    needs = plan_requirements(requirements_problem(month, roster, packing))
    tell("buying")
    buying = look(plan_buying, buying_faults, buying_problem(month, needs, cutting))
    tell("shipping")
    postage = look(plan_postage, postage_faults, postage_problem(month, roster, packing))
    shipping = look(
        plan_shipping if known is None else pack_plainly,
        shipping_faults,
        shipping_problem(month, roster, cutting, buying, packing, postage),
    )
    tell("cost")
    cost = look(
        plan_cost, cost_faults, cost_problem(month, roster, needs, cutting, buying, packing, shipping)
    )
    return Decided(
        contents=contents,
        roster=roster,
        requirements=needs,
        cutting=cutting,
        larger=larger,
        buying=buying,
        packing=packing,
        postage=postage,
        shipping=shipping,
        cost=cost,
    )


def checked(
    step: Callable[[Problem], Result], faults: Callable[[Problem, Result], Sequence[str]], problem: Problem
) -> Result:
    """Take a step and let its checker look at the answer."""
    result = step(problem)
    if found := faults(problem, result):
        raise PlanError("; ".join(found))
    return result


def taken(
    step: Callable[[Problem], Result], faults: Callable[[Problem, Result], Sequence[str]], problem: Problem
) -> Result:
    """Take a step as it is: what is only compared is checked when it becomes the plan."""
    return step(problem)
