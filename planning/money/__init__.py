"""What a plan's cost is held against and what it leads to: budget, prices, promotions, what happened. A rule a module."""

from planning.money.actuals import Learned, Outcome, learned, outcomes, with_learned
from planning.money.prices import PromotionCost, TierPrice, promotion_costs, tier_prices, to_point
from planning.money.side import Side, budget_side, plan_side
from planning.money.variance import Variance, variances

__all__ = [
    "Learned",
    "Outcome",
    "PromotionCost",
    "Side",
    "TierPrice",
    "Variance",
    "budget_side",
    "learned",
    "outcomes",
    "plan_side",
    "promotion_costs",
    "tier_prices",
    "to_point",
    "variances",
    "with_learned",
]
