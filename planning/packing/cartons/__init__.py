"""Cartons: which carton takes a box, how many parcels it is, and what is just over a limit. The rule is in `choose.py`.

`split.py` seeks few parcels, `cures.py` what would bring one under a limit. The checker is `check.py`.
"""

from planning.packing.cartons.check import cartons_faults
from planning.packing.cartons.choose import plan_cartons, put_into
from planning.packing.cartons.model import (
    Carton,
    CartonError,
    CartonsProblem,
    CartonsResult,
    Cure,
    JustOver,
    PackedBox,
    PackedParcel,
    PostLimit,
    Remedy,
    ToPack,
)

__all__ = [
    "Carton",
    "CartonError",
    "CartonsProblem",
    "CartonsResult",
    "Cure",
    "JustOver",
    "PackedBox",
    "PackedParcel",
    "PostLimit",
    "Remedy",
    "ToPack",
    "cartons_faults",
    "plan_cartons",
    "put_into",
]
