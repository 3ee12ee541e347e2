"""One month in every scenario at once: what is made, spoiled, sent, damaged, left, and what it all comes to."""

from dataclasses import dataclass

import numpy as np

from planning.chances.draws import Draws, Whole
from planning.chances.model import PARTS, ChancesProblem, Per

HUNDRED = 100 * PARTS  # percent, in ten-thousandths


@dataclass(frozen=True)
class TierOutcome:
    """Boxes and kits of a tier, by scenario."""

    wanted: Whole
    spoiled: Whole
    sent: Whole
    damaged: Whole
    again: Whole
    left: Whole


@dataclass(frozen=True)
class Outcome:
    """The month by scenario, in ten-thousandths. amounts: of each line, its surcharge included."""

    tiers: tuple[TierOutcome, ...]
    amounts: tuple[Whole, ...]
    income: Whole
    cost: Whole

    @property
    def profit(self) -> Whole:
        """What is left of the income."""
        return self.income - self.cost

    @property
    def sent(self) -> Whole:
        """Boxes of all tiers, each counted once."""
        return np.asarray(sum(tier.sent for tier in self.tiers), dtype=np.int64)


def outcome(problem: ChancesProblem, draws: Draws, kits: tuple[int, ...]) -> Outcome:
    """Return what becomes of the month if so many kits of each tier are made."""
    tiers = tuple(tier_outcome(problem, draws, at, made) for at, made in enumerate(kits))
    surcharged = zip(problem.lines, draws.amounts, strict=True)
    amounts = tuple(
        with_surcharge(amount, draws.surcharge) if line.surcharged else amount for line, amount in surcharged
    )
    income = np.zeros(problem.scenarios, dtype=np.int64)
    cost = np.zeros(problem.scenarios, dtype=np.int64)
    for tier, made, came in zip(problem.tiers, kits, tiers, strict=True):
        income += int(tier.price * PARTS) * (came.sent - (came.damaged - came.again))
        goods = tier.goods_step(made)
        cost += made * int(goods.each * PARTS) + int(goods.once * PARTS)
        cost += int(tier.short * PARTS) * (came.wanted - came.sent) - int(tier.worth * PARTS) * came.left
    for line, amount in zip(problem.lines, amounts, strict=True):
        for tier, made, came in zip(problem.tiers, kits, tiers, strict=True):
            if line.per is not Per.MONTH and (times := line.times(tier.code)):
                paid = (amount * int(times * PARTS) + PARTS // 2) // PARTS
                cost += paid * (made if line.per is Per.KIT else came.sent + came.again)
        if line.per is Per.MONTH:
            cost += amount
    return Outcome(tiers=tiers, amounts=amounts, income=income, cost=cost)


def tier_outcome(problem: ChancesProblem, draws: Draws, at: int, made: int) -> TierOutcome:
    """Return what becomes of a tier's kits. Its luck does not depend on how many of others are made."""
    luck = [np.random.default_rng((problem.seed, at, which)) for which in (1, 2)]
    spoiled = luck[0].binomial(made, draws.spoiled / HUNDRED)
    sent = np.minimum(draws.wanted[at], made - spoiled)
    damaged = luck[1].binomial(sent, draws.damaged / HUNDRED)
    again = np.minimum(damaged, made - spoiled - sent)
    return TierOutcome(draws.wanted[at], spoiled, sent, damaged, again, made - spoiled - sent - again)


def with_surcharge(amount: Whole, percent: Whole) -> Whole:
    """Return an amount with so many percent more, the half rounded up."""
    return amount + (amount * percent + HUNDRED // 2) // HUNDRED
