"""Allocation: who gets what is short, and who a substitute. The rule is in `plan.py`, its checker `check.py`."""

from planning.allocation.check import allocation_faults
from planning.allocation.model import (
    AllocationError,
    AllocationProblem,
    AllocationResult,
    Boxes,
    BoxGroup,
    Got,
    MaterialOutcome,
    Rule,
    ShortMaterial,
    Substitute,
    Uses,
)
from planning.allocation.plan import plan_allocation

__all__ = [
    "AllocationError",
    "AllocationProblem",
    "AllocationResult",
    "BoxGroup",
    "Boxes",
    "Got",
    "MaterialOutcome",
    "Rule",
    "ShortMaterial",
    "Substitute",
    "Uses",
    "allocation_faults",
    "plan_allocation",
]
