"""Step 5, packing: what each box holds, what it weighs, whether it fits. The rule is in `boxes.py`."""

from planning.packing.boxes import plan_packing
from planning.packing.model import (
    BoxProblem,
    BoxSpec,
    Container,
    PackingProblem,
    PackingResult,
    PackItem,
    PackLine,
)

__all__ = [
    "BoxProblem",
    "BoxSpec",
    "Container",
    "PackItem",
    "PackLine",
    "PackingProblem",
    "PackingResult",
    "plan_packing",
]
