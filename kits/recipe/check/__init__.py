"""Every fault of a recipe at once: `check(design) -> faults`, in `check.py`."""

from kits.recipe.check.check import check
from kits.recipe.check.faults import Fault, FaultName

__all__ = ["Fault", "FaultName", "check"]
