"""Contents: what goes into each box, by rules in rows. The rule is in `fill.py`, its checker in `check.py`.

`choose.py` says which rules are for a box and which count where they are at odds, `differ.py` what a box then holds that its
tier does not, `unused.py` what each rule came to.
"""

from planning.contents.check import contents_faults
from planning.contents.fill import plan_contents
from planning.contents.model import (
    Alike,
    Applied,
    Assortment,
    Box,
    Clash,
    ContentsProblem,
    ContentsResult,
    Filled,
    Reason,
)
from planning.contents.rows import Does, Extra, Rule, RuleError, TierLine, When, why_wrong

__all__ = [
    "Alike",
    "Applied",
    "Assortment",
    "Box",
    "Clash",
    "ContentsProblem",
    "ContentsResult",
    "Does",
    "Extra",
    "Filled",
    "Reason",
    "Rule",
    "RuleError",
    "TierLine",
    "When",
    "contents_faults",
    "plan_contents",
    "why_wrong",
]
