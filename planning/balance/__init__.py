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

__all__ = [
    "AreaLine",
    "BalanceError",
    "BalanceProblem",
    "BalanceResult",
    "MaterialLine",
    "PieceLine",
    "plan_balance",
]
