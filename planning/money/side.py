"""One of two months that are compared: how many kits of each tier, and what each heading costs it."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from planning.cost import ONE_OFF, CostResult, Heading
from planning.cost.rows import BudgetLine, TierAim

Amounts = Mapping[
    tuple[str, Heading], Decimal
]  # (tier, or ONE_OFF for what no tier bears) and heading -> amount


@dataclass(frozen=True, slots=True)
class Side:
    """Kits by tier, and amounts by tier and heading."""

    boxes: Mapping[str, int] = field(default_factory=dict)
    amounts: Amounts = field(default_factory=dict)

    @property
    def total(self) -> Decimal:
        """All of it."""
        return sum(self.amounts.values(), Decimal(0))


def plan_side(cost: CostResult) -> Side:
    """Return what a plan comes to."""
    return Side(
        {column.code: column.boxes for column in cost.columns if column.boxes},
        {
            (column.code, heading): amount
            for column in cost.columns
            for heading, amount in column.by_heading
            if amount
        },
    )


def budget_side(aims: tuple[TierAim, ...], budget: tuple[BudgetLine, ...]) -> Side:
    """Return what the budget says."""
    amounts: defaultdict[tuple[str, Heading], Decimal] = defaultdict(Decimal)
    for line in budget:
        amounts[line.tier or ONE_OFF, line.heading] += line.amount
    return Side({aim.tier: aim.boxes for aim in aims if aim.boxes}, dict(amounts))
