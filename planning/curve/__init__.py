"""What a kit costs at other counts of boxes, the decisions made anew for each. The rule is in `plan.py`."""

from planning.curve.model import CurvePoint, CurveProblem, CurveResult, Jump
from planning.curve.plan import plan_curve
from planning.curve.scale import scaled_roster
from planning.curve.variants import Changed, WhatIf, changed_month, what_if

__all__ = [
    "Changed",
    "CurvePoint",
    "CurveProblem",
    "CurveResult",
    "Jump",
    "WhatIf",
    "changed_month",
    "plan_curve",
    "scaled_roster",
    "what_if",
]
