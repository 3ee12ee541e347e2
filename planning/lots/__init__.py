"""Lots: what to order in which month, at least cost over all of them. The rule is in `plan.py`, its checker `check.py`."""

from planning.lots.check import lots_faults
from planning.lots.model import (
    LateNeed,
    LotLine,
    LotMaterial,
    LotOffer,
    LotOrder,
    LotPrice,
    LotsError,
    LotsProblem,
    LotsResult,
    LotStock,
    LotSupplier,
)
from planning.lots.plan import plan_lots

__all__ = [
    "LateNeed",
    "LotLine",
    "LotMaterial",
    "LotOffer",
    "LotOrder",
    "LotPrice",
    "LotStock",
    "LotSupplier",
    "LotsError",
    "LotsProblem",
    "LotsResult",
    "lots_faults",
    "plan_lots",
]
