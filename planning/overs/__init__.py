"""Overs: what is spoiled on the way, and how much to have of what is uncertain. The rule is in `plan.py`.

`spoilage.py` follows a run through its operations; `counts.py` says how many it may be. The checker is `check.py`.
"""

from planning.overs.check import overs_faults
from planning.overs.counts import (
    Count,
    Listed,
    ListedCount,
    Normal,
    Poisson,
    QuantilePoint,
    Quantiles,
    Triangle,
    Uniform,
)
from planning.overs.errors import OversError
from planning.overs.model import (
    CurvePoint,
    OversProblem,
    OversResult,
    PriceStep,
    Run,
    RunOvers,
    StockAnswer,
    Stocked,
)
from planning.overs.plan import plan_overs
from planning.overs.spoilage import Base, Operation, Pass, passes, spoiled
from planning.overs.together import Part, Together

__all__ = [
    "Base",
    "Count",
    "CurvePoint",
    "Listed",
    "ListedCount",
    "Normal",
    "Operation",
    "OversError",
    "OversProblem",
    "OversResult",
    "Part",
    "Pass",
    "Poisson",
    "PriceStep",
    "QuantilePoint",
    "Quantiles",
    "Run",
    "RunOvers",
    "StockAnswer",
    "Stocked",
    "Together",
    "Triangle",
    "Uniform",
    "overs_faults",
    "passes",
    "plan_overs",
    "spoiled",
]
