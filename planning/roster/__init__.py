"""Step 1, roster: who gets a box this month, and which boxes are alike. The rule is in `boxes.py`."""

from planning.roster.boxes import boxes_for, contents_for, plan_roster
from planning.roster.model import (
    BoxClass,
    Change,
    Contents,
    Due,
    LeftOut,
    Occasions,
    Part,
    Profile,
    Reason,
    RosterProblem,
    RosterResult,
)
from planning.roster.rows import Besides, OneOffOrder, Subscriber

__all__ = [
    "Besides",
    "BoxClass",
    "Change",
    "Contents",
    "Due",
    "LeftOut",
    "Occasions",
    "OneOffOrder",
    "Part",
    "Profile",
    "Reason",
    "RosterProblem",
    "RosterResult",
    "Subscriber",
    "boxes_for",
    "contents_for",
    "plan_roster",
]
