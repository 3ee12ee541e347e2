"""Step 2, requirements: how many of everything the boxes ask for. The rule is in `explode.py`."""

from planning.requirements.explode import lead_offsets, plan_requirements
from planning.requirements.items import Kind, code_of, item, kind_of
from planning.requirements.model import (
    BillLine,
    Demand,
    ItemOvers,
    OnHand,
    Requirement,
    RequirementsError,
    RequirementsProblem,
    RequirementsResult,
    Source,
    Use,
)

__all__ = [
    "BillLine",
    "Demand",
    "ItemOvers",
    "Kind",
    "OnHand",
    "Requirement",
    "RequirementsError",
    "RequirementsProblem",
    "RequirementsResult",
    "Source",
    "Use",
    "code_of",
    "item",
    "kind_of",
    "lead_offsets",
    "plan_requirements",
]
