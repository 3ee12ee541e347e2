"""Chances: cost per kit and the month's profit as distributions. The rule is in `plan.py`, its checker `check.py`."""

from planning.chances.check import chances_faults
from planning.chances.exact import binomial_quantile
from planning.chances.model import (
    ChancesError,
    ChancesProblem,
    ChancesResult,
    GoodsStep,
    Line,
    OrderPoint,
    Per,
    Range,
    Scenario,
    Spread,
    Swing,
    TierChance,
    TierMonth,
    TierOrders,
)
from planning.chances.plan import plan_chances

__all__ = [
    "ChancesError",
    "ChancesProblem",
    "ChancesResult",
    "GoodsStep",
    "Line",
    "OrderPoint",
    "Per",
    "Range",
    "Scenario",
    "Spread",
    "Swing",
    "TierChance",
    "TierMonth",
    "TierOrders",
    "binomial_quantile",
    "chances_faults",
    "plan_chances",
]
