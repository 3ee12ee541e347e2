"""Step 5, packing: what each box holds, what it weighs, in which cartons and parcels. The rule is in `boxes.py`.

`cartons/` chooses them; the checker is `check.py`.
"""

from planning.packing.boxes import plan_packing
from planning.packing.cartons import Carton, PackedParcel, PostLimit
from planning.packing.check import packing_faults
from planning.packing.items import Container, PackItem, PackLine
from planning.packing.model import (
    BoxProblem,
    BoxSpec,
    Extra,
    PackingProblem,
    PackingResult,
    Without,
)

__all__ = [
    "BoxProblem",
    "BoxSpec",
    "Carton",
    "Container",
    "Extra",
    "PackItem",
    "PackLine",
    "PackedParcel",
    "PackingProblem",
    "PackingResult",
    "PostLimit",
    "Without",
    "packing_faults",
    "plan_packing",
]
