"""Step 8, balance: every sheet and piece accounted for, or the plan is refused. The rule is in `balance.py`."""

from planning.balance.balance import (
    AreaLine,
    BalanceError,
    BalanceProblem,
    BalanceResult,
    MaterialLine,
    PieceLine,
    plan_balance,
)
from planning.balance.so_far import Booked, CutSoFar, cut_so_far

__all__ = [
    "AreaLine",
    "BalanceError",
    "BalanceProblem",
    "BalanceResult",
    "Booked",
    "CutSoFar",
    "MaterialLine",
    "PieceLine",
    "cut_so_far",
    "plan_balance",
]
