"""Step 5, packing: what each box holds, what it weighs, whether it fits. The rule is in `boxes.py`."""

from planning.packing.boxes import plan_packing
from planning.packing.model import (
    BoxProblem,
    BoxSpec,
    Container,
    Extra,
    PackingProblem,
    PackingResult,
    PackItem,
    PackLine,
    Without,
)

__all__ = [
    "BoxProblem",
    "BoxSpec",
    "Container",
    "Extra",
    "PackItem",
    "PackLine",
    "PackingProblem",
    "PackingResult",
    "Without",
    "plan_packing",
]
