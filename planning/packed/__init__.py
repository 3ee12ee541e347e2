"""What becomes of each box at the bench: what was done to it leads to how it stands. The rule is in `follow.py`.

`scan.py` tells what a scan is of, `pace.py` how a wave gets on, `carry.py` which packed boxes count in a later plan. The
checker is `check.py`.
"""

from planning.packed.carry import Carried, Listed, carry_over
from planning.packed.check import packed_faults
from planning.packed.follow import follow, follow_all
from planning.packed.model import (
    GOODS,
    HELD_FOR,
    UNTOUCHED,
    Act,
    Answer,
    BoxEvent,
    BoxList,
    BoxState,
    Line,
    Status,
    Weighing,
)
from planning.packed.pace import Pace, pace, window
from planning.packed.scan import BoxScan, ScanError, read_scan

__all__ = [
    "GOODS",
    "HELD_FOR",
    "UNTOUCHED",
    "Act",
    "Answer",
    "BoxEvent",
    "BoxList",
    "BoxScan",
    "BoxState",
    "Carried",
    "Line",
    "Listed",
    "Pace",
    "ScanError",
    "Status",
    "Weighing",
    "carry_over",
    "follow",
    "follow_all",
    "pace",
    "packed_faults",
    "read_scan",
    "window",
]
