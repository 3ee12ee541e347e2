"""Step 1, roster: who gets a box this month, and which boxes are alike. The rule is in `boxes.py`."""

from planning.roster.boxes import boxes_for, plan_roster
from planning.roster.model import BoxClass, Contents, LeftOut, Profile, Reason, RosterProblem, RosterResult
from planning.roster.rows import OneOffOrder, Subscriber

__all__ = [
    "BoxClass",
    "Contents",
    "LeftOut",
    "OneOffOrder",
    "Profile",
    "Reason",
    "RosterProblem",
    "RosterResult",
    "Subscriber",
    "boxes_for",
    "plan_roster",
]
