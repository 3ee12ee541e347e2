"""Tracking: numbers that come back from the carriers, checked and put to their boxes. The rule is in `read.py`.

`s10.py` is the form and the check digit of UPU S10. The checker is `check.py`.
"""

from planning.tracking.check import tracking_faults
from planning.tracking.model import Refusal, Tracked, TrackingProblem, TrackingResult, TrackingRow
from planning.tracking.read import read_tracking
from planning.tracking.s10 import S10, S10Error, check_digit, parse_s10

__all__ = [
    "S10",
    "Refusal",
    "S10Error",
    "Tracked",
    "TrackingProblem",
    "TrackingResult",
    "TrackingRow",
    "check_digit",
    "parse_s10",
    "read_tracking",
    "tracking_faults",
]
