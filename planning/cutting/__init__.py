"""Step 3, cutting: how to get the pieces out of sheets and rolls. The rule is in `choose.py`, its checker in `check.py`."""

from planning.cutting.again import plan_again
from planning.cutting.alone import ways_to_cut
from planning.cutting.check import cutting_faults
from planning.cutting.choose import plan_cutting
from planning.cutting.machine import Guillotine
from planning.cutting.model import CuttingError, CuttingProblem, LengthJob, PieceJob, Roll, SheetStock
from planning.cutting.result import Choice, CuttingResult, CuttingTicket, Group, LengthTicket, OnTicket
from planning.cutting.supply import Supply

__all__ = [
    "Choice",
    "CuttingError",
    "CuttingProblem",
    "CuttingResult",
    "CuttingTicket",
    "Group",
    "Guillotine",
    "LengthJob",
    "LengthTicket",
    "OnTicket",
    "PieceJob",
    "Roll",
    "SheetStock",
    "Supply",
    "cutting_faults",
    "plan_again",
    "plan_cutting",
    "ways_to_cut",
]
