"""The steps that can be taken on their own, with both sides of each as JSON."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from pydantic import TypeAdapter

from kits.guillotine import Ended, Part, SheetProblem, best_use, check_result
from planning.allocation import AllocationProblem, AllocationResult, plan_allocation
from planning.buying import BuyingProblem, BuyingResult, buy_as_asked
from planning.chances import ChancesProblem, ChancesResult, plan_chances
from planning.contents import ContentsProblem, ContentsResult, plan_contents
from planning.cost import CostProblem, CostResult, plan_cost
from planning.cutting import CuttingProblem, CuttingResult, plan_cutting
from planning.cutting.patterns import PatternPlan, PatternProblem, plan_patterns
from planning.forecast import ForecastProblem, ForecastResult, plan_forecast
from planning.lots import LotsProblem, LotsResult, plan_lots
from planning.overs import OversProblem, OversResult, plan_overs
from planning.packing import PackingProblem, PackingResult, plan_packing
from planning.postage import PostageProblem, PostageResult, plan_postage
from planning.requirements import RequirementsProblem, RequirementsResult, plan_requirements
from planning.roster import RosterProblem, RosterResult, plan_roster
from planning.shipping import ShippingProblem, ShippingResult, plan_shipping


@dataclass(frozen=True, slots=True)
class Single:
    """A step: its function, and how its question and its answer are written."""

    take: Callable[[Any], Any]
    problem: TypeAdapter[Any]
    result: TypeAdapter[Any]


@dataclass(frozen=True, slots=True)
class SheetAnswer:
    """The best use of a sheet. faults: what the checker, which shares nothing with the search, finds wrong."""

    tree: Part
    value: int
    bound: int
    ended: Ended
    faults: tuple[str, ...]


def use_sheet(problem: SheetProblem) -> SheetAnswer:
    """Return the best use of a sheet, checked."""
    result = best_use(problem)
    faults = tuple(str(fault) for fault in check_result(problem, result))
    return SheetAnswer(result.tree, result.value, result.bound, result.ended, faults)


SINGLES = {
    "sheet": Single(use_sheet, TypeAdapter(SheetProblem), TypeAdapter(SheetAnswer)),
    "contents": Single(plan_contents, TypeAdapter(ContentsProblem), TypeAdapter(ContentsResult)),
    "roster": Single(plan_roster, TypeAdapter(RosterProblem), TypeAdapter(RosterResult)),
    "requirements": Single(
        plan_requirements, TypeAdapter(RequirementsProblem), TypeAdapter(RequirementsResult)
    ),
    "cutting": Single(plan_cutting, TypeAdapter(CuttingProblem), TypeAdapter(CuttingResult)),
    "patterns": Single(plan_patterns, TypeAdapter(PatternProblem), TypeAdapter(PatternPlan)),
    "lots": Single(plan_lots, TypeAdapter(LotsProblem), TypeAdapter(LotsResult)),
    "overs": Single(plan_overs, TypeAdapter(OversProblem), TypeAdapter(OversResult)),
    "forecast": Single(plan_forecast, TypeAdapter(ForecastProblem), TypeAdapter(ForecastResult)),
    "chances": Single(plan_chances, TypeAdapter(ChancesProblem), TypeAdapter(ChancesResult)),
    "allocation": Single(plan_allocation, TypeAdapter(AllocationProblem), TypeAdapter(AllocationResult)),
    "buying": Single(buy_as_asked, TypeAdapter(BuyingProblem), TypeAdapter(BuyingResult)),
    "packing": Single(plan_packing, TypeAdapter(PackingProblem), TypeAdapter(PackingResult)),
    "postage": Single(plan_postage, TypeAdapter(PostageProblem), TypeAdapter(PostageResult)),
    "shipping": Single(plan_shipping, TypeAdapter(ShippingProblem), TypeAdapter(ShippingResult)),
    "cost": Single(plan_cost, TypeAdapter(CostProblem), TypeAdapter(CostResult)),
}
