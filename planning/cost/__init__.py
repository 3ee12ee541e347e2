"""Step 7, cost: what the month costs, by heading and by tier, to the last cent. The rule is in `entries.py`."""

from planning.cost.check import cost_faults
from planning.cost.entries import plan_cost
from planning.cost.headings import Heading
from planning.cost.model import (
    ONE_OFF,
    ColumnCost,
    CostEntry,
    CostProblem,
    CostResult,
    KeptGoods,
    LandedLot,
    MaterialFacts,
    ShortGoods,
    TierBoxes,
)

__all__ = [
    "ONE_OFF",
    "ColumnCost",
    "CostEntry",
    "CostProblem",
    "CostResult",
    "Heading",
    "KeptGoods",
    "LandedLot",
    "MaterialFacts",
    "ShortGoods",
    "TierBoxes",
    "cost_faults",
    "plan_cost",
]
