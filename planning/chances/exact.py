"""What needs no drawing: the quantiles of a binomial count, and the quantity at which one more kit pays for itself."""

from decimal import Decimal
from math import exp, lgamma, log

from planning.chances.model import ChancesProblem, Per, TierChance

SMALL, FAR = 1e-12, 40.0


def binomial_quantile(tries: int, percent: Decimal, chance: float) -> int:
    """Return the fewest hits that are not passed with this chance, of so many tries, each a hit with so many percent.

    Terms are added from those too small to count (forty deviations of the log below the likeliest) upward.
    """
    rate = float(percent) / 100
    if tries == 0 or rate <= 0 or rate >= 1:
        return tries if rate >= 1 else 0
    whole = lgamma(tries + 1)

    def term(hits: int) -> float:
        ways = whole - lgamma(hits + 1) - lgamma(tries - hits + 1)
        return exp(ways + hits * log(rate) + (tries - hits) * log(1 - rate))

    wide = int(10 * (tries * rate * (1 - rate)) ** 0.5 + FAR)
    hits, total = max(0, int(tries * rate) - wide), 0.0
    while hits < tries:
        total += term(hits)
        if total >= chance - SMALL:
            break
        hits += 1
    return hits


def newsvendor(problem: ChancesProblem, tier: TierChance) -> tuple[Decimal, Decimal]:
    """Return the chance of being enough at which one more kit pays for itself, and the boxes that reach it.

    One too few costs the price and the short cost less what making and posting it would; one too many costs what it took to
    make less what it is worth. What is uncertain counts by its mean; nothing is spoiled or damaged.
    """
    extra = 1 + problem.surcharge.mean / 100
    means = [
        (line.per, line.amount.mean * line.times(tier.code) * (extra if line.surcharged else 1))
        for line in problem.lines
    ]
    make = tier.goods_step(tier.kits).each + sum((each for per, each in means if per is Per.KIT), Decimal(0))
    post = sum((each for per, each in means if per is Per.BOX), Decimal(0))
    gain, loss = tier.price + tier.short - make - post, make - tier.worth
    if gain <= 0:
        return Decimal(0), tier.wanted.quantile(Decimal(0)) if has_ends(tier) else Decimal(0)
    ratio = min(gain / (gain + loss), Decimal(1)) if loss > 0 else Decimal(1)
    if ratio == 1 and not has_ends(tier):
        ratio = Decimal("0.9999")  # a bell curve has no end
    return ratio, tier.wanted.quantile(ratio)


def has_ends(tier: TierChance) -> bool:
    """Tell whether there is a count that is surely not passed."""
    return tier.wanted.kind not in ("normal", "poisson")
