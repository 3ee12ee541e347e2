"""Contents: what goes into each box, by rules in rows. The rule is in `fill.py`, its checker in `check.py`.

`choose.py` says which rules are for a box and which count where they are at odds.
"""

from planning.contents.check import contents_faults
from planning.contents.fill import plan_contents
from planning.contents.model import (
    Alike,
    Assortment,
    Box,
    Clash,
    ContentsProblem,
    ContentsResult,
    Filled,
    Reason,
)
from planning.contents.rows import Does, Extra, Kind, Rule, RuleError, TierLine, When

__all__ = [
    "Alike",
    "Assortment",
    "Box",
    "Clash",
    "ContentsProblem",
    "ContentsResult",
    "Does",
    "Extra",
    "Filled",
    "Kind",
    "Reason",
    "Rule",
    "RuleError",
    "TierLine",
    "When",
    "contents_faults",
    "plan_contents",
]
