"""Why a month costs more or less than another: more kits, other kits, or kits that cost more.

Quantity: as many kits more or fewer, in the proportions and at the cost of the month compared with. Mix: the kits of this
month in its own proportions instead, still at that cost. Price: what is left, each kit costing what it does. The three are
worked out exactly and rounded once; price takes the rounding, so they sum to the difference to the last coin. A tier the
other month did not have counts at its own cost, so it stands under mix; what no tier bears stands under price.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from kits.measures import round_money
from planning.cost import Heading
from planning.money.side import Side


@dataclass(frozen=True, slots=True, kw_only=True)
class Variance:
    """One heading, now and then, and what the difference is made of. quantity + mix + price = now - then."""

    heading: Heading
    now: Decimal
    then: Decimal
    quantity: Decimal
    mix: Decimal
    price: Decimal

    @property
    def difference(self) -> Decimal:
        """What is paid more."""
        return self.now - self.then


def variances(now: Side, then: Side, exponent: int) -> Iterator[Variance]:
    """Yield every heading that costs something on either side."""
    for heading in Heading:
        total, before = of_heading(now, heading), of_heading(then, heading)
        if not total and not before:
            continue
        quantity = round_money(quantity_of(heading, now, then), exponent)
        mix = round_money(in_own_mix(heading, now, then) - in_same_mix(heading, now, then), exponent)
        yield Variance(
            heading=heading,
            now=total,
            then=before,
            quantity=quantity,
            mix=mix,
            price=total - before - quantity - mix,
        )


def of_heading(side: Side, heading: Heading) -> Decimal:
    """Add one heading up."""
    return sum((amount for (_, one), amount in side.amounts.items() if one is heading), Decimal(0))


def borne(side: Side, heading: Heading) -> Fraction:
    """Add one heading up over the tiers that send kits."""
    return sum((Fraction(side.amounts.get((tier, heading), 0)) for tier in side.boxes), Fraction(0))


def quantity_of(heading: Heading, now: Side, then: Side) -> Fraction:
    """Return what more kits in the same proportions cost; where there were none before, that is all they cost."""
    return in_same_mix(heading, now, then) - borne(then, heading)


def in_same_mix(heading: Heading, now: Side, then: Side) -> Fraction:
    """Return what as many kits as now would cost in the proportions and at the cost of then."""
    boxes, before = sum(now.boxes.values()), sum(then.boxes.values())
    return borne(then, heading) * boxes / before if before else borne(now, heading)


def in_own_mix(heading: Heading, now: Side, then: Side) -> Fraction:
    """Return what the kits of now would cost at the cost of then."""
    cost = Fraction(0)
    for tier, boxes in now.boxes.items():
        before = then.boxes.get(tier, 0)
        side, count = (then, before) if before else (now, boxes)
        cost += Fraction(side.amounts.get((tier, heading), 0)) * boxes / count
    return cost
