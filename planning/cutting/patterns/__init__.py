"""Many sizes of pieces from several sheets: the cheapest plan of patterns, and what is proved of it.

Start at `search.py`; its checker is `check.py`.
"""

from planning.cutting.patterns.aims import Choice
from planning.cutting.patterns.check import plan_faults
from planning.cutting.patterns.problem import ParentSheet, PatternProblem, Rules, Wanted, WantedTooLargeError
from planning.cutting.patterns.result import Ended, Pattern, PatternPlan
from planning.cutting.patterns.search import QUICK, Effort, choices, improve, plan_patterns
from planning.cutting.patterns.work import Work, minutes_of, work_of

__all__ = [
    "QUICK",
    "Choice",
    "Effort",
    "Ended",
    "ParentSheet",
    "Pattern",
    "PatternPlan",
    "PatternProblem",
    "Rules",
    "Wanted",
    "WantedTooLargeError",
    "Work",
    "choices",
    "improve",
    "minutes_of",
    "plan_faults",
    "plan_patterns",
    "work_of",
]
