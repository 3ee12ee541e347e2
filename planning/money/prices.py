"""Prices that leave what the club aims at: by tier, for members and for single orders, at the club's price points.

Of a price, a payment fee takes its share and the aim another; what is left must pay everything else a kit costs. A
price is always rounded up to the next price point, so the aim is met.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import ceil

from kits.measures import Rounding, round_money
from planning.cost import ColumnCost, CostResult, Heading
from planning.cost.rows import Charge, ChargeKind, PricePoint, Promotion, TierAim

LASTING = (Heading.DESIGN, Heading.FIXED)  # what one kit more does not add to
HUNDRED = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class TierPrice:
    """What a kit of a tier costs and should cost.

    cost: of one, without the share of the price that payment takes. fee: that share, in percent. member, single: the price
    points that leave the aim; None without an aim, or where fee and aim take the whole price. most_off: percent off today's
    price that still leaves the aim; at_cost: that loses nothing. free_from: kits in one parcel from which a single
    order can travel free and still leave its aim, if the parcel's postage is that of one kit; None where no number can.
    """

    tier: str
    name: str
    price: Decimal
    cost: Decimal
    fee: Decimal
    member: Decimal | None
    single: Decimal | None
    most_off: Decimal | None
    at_cost: Decimal | None
    free_from: int | None


def tier_prices(
    cost: CostResult, aims: Sequence[TierAim], charges: Sequence[Charge], points: Sequence[PricePoint]
) -> Iterator[TierPrice]:
    """Yield every tier that sends kits."""
    aimed = {one.tier: one for one in aims}
    for column in cost.columns:
        if column.each is not None:
            yield tier_price(column, aimed.get(column.code), charges, points)


def tier_price(
    column: ColumnCost, aim: TierAim | None, charges: Sequence[Charge], points: Sequence[PricePoint]
) -> TierPrice:
    """Work one tier out."""
    fee = fee_of(column.code, charges)
    base = Fraction(column.total) / column.boxes - Fraction(column.price) * Fraction(fee) / HUNDRED
    margin, single_margin = (aim.margin, aim.single_margin) if aim else (None, None)
    single = price_for(base, fee, single_margin, points, column.exponent)
    return TierPrice(
        tier=column.code,
        name=column.name,
        price=column.price,
        cost=round_money(base, column.exponent),
        fee=fee,
        member=price_for(base, fee, margin, points, column.exponent),
        single=single,
        most_off=percent_off(column.price, base, fee, margin),
        at_cost=percent_off(column.price, base, fee, Decimal(0)),
        free_from=free_from(column, base, fee, single, single_margin),
    )


def fee_of(tier: str, charges: Sequence[Charge]) -> Decimal:
    """Return the percentage of a price that taking the payment costs."""
    fees = (
        one.percent
        for one in charges
        if one.kind is ChargeKind.PAYMENT and (not one.tiers or tier in one.tiers)
    )
    return sum(fees, Decimal(0))


def share_left(fee: Decimal, margin: Decimal) -> Fraction:
    """Return what part of a price is left for all other cost."""
    return 1 - (Fraction(fee) + Fraction(margin)) / HUNDRED


def price_for(
    base: Fraction, fee: Decimal, margin: Decimal | None, points: Sequence[PricePoint], exponent: int
) -> Decimal | None:
    """Return the lowest price point that leaves a margin."""
    if margin is None or share_left(fee, margin) <= 0:
        return None
    return to_point(max(base, Fraction(0)) / share_left(fee, margin), points, exponent)


def to_point(price: Fraction, points: Sequence[PricePoint], exponent: int) -> Decimal:
    """Return the lowest price point that is no lower than a price; the next coin where the club has none."""
    rising = sorted(points, key=lambda one: one.start)
    for place, point in enumerate(rising):
        ends = Fraction(rising[place + 1].start) if place + 1 < len(rising) else None
        step, less = Fraction(point.step), Fraction(point.less)
        found = ceil((max(price, Fraction(point.start)) + less) / step) * step - less
        if ends is None or found < ends:
            return round_money(found, exponent, Rounding.UP)
    return round_money(price, exponent, Rounding.UP)


def percent_off(price: Decimal, base: Fraction, fee: Decimal, margin: Decimal | None) -> Decimal | None:
    """Return how many percent may come off a price, rounded down to tenths; None where none may."""
    if margin is None or not price or share_left(fee, margin) <= 0:
        return None
    off = (1 - base / share_left(fee, margin) / Fraction(price)) * HUNDRED
    return round_money(off, 1, Rounding.DOWN) if off >= 0 else None


def free_from(
    column: ColumnCost, base: Fraction, fee: Decimal, single: Decimal | None, margin: Decimal | None
) -> int | None:
    """Return from how many kits a single order pays for its own postage out of what they leave above the aim."""
    if single is None or margin is None:
        return None
    postage = Fraction(dict(column.by_heading)[Heading.POSTAGE]) / column.boxes
    left = Fraction(single) * share_left(fee, margin) - (base - postage)
    return max(1, ceil(postage / left)) if left > 0 else None


@dataclass(frozen=True, slots=True, kw_only=True)
class PromotionCost:
    """What a promotion costs on one tier.

    off: of one kit's price. given: to kits sent anyway. extra: kits hoped for, and brings what they bring after
    what they cost; enough: how many would make good what is given, None where one more never earns anything.
    """

    name: str
    tier: str
    off: Decimal
    kits: int
    given: Decimal
    extra: int
    brings: Decimal
    enough: int | None

    @property
    def cost(self) -> Decimal:
        """What it costs in the end; negative where it pays."""
        return self.given - self.brings


def promotion_costs(
    cost: CostResult, promotions: Sequence[Promotion], charges: Sequence[Charge]
) -> Iterator[PromotionCost]:
    """Yield what each promotion costs on each tier it is for; kits hoped for are shared by the tiers' kits."""
    for one in promotions:
        own = [column for column in cost.columns if column.boxes and one.tier in ("", column.code)]
        kits = sum(column.boxes for column in own)
        for column in own:
            share = Fraction(column.boxes, kits)
            yield promotion_cost(one, column, share, fee_of(column.code, charges))


def promotion_cost(one: Promotion, column: ColumnCost, share: Fraction, fee: Decimal) -> PromotionCost:
    """Work one promotion out on one tier."""
    coin = column.exponent
    off = round_money(min(column.price * one.percent / HUNDRED + one.off, column.price), coin)
    boxes = column.boxes if one.boxes is None else min(column.boxes, int(one.boxes * share))
    extra = int(one.extra * share)
    lasting = sum((Fraction(dict(column.by_heading)[heading]) for heading in LASTING), Fraction(0))
    adds = (Fraction(column.total) - lasting) / column.boxes - Fraction(column.price) * Fraction(
        fee
    ) / HUNDRED
    earns = Fraction(column.price - off) * share_left(fee, Decimal(0)) - adds
    given = boxes * off
    return PromotionCost(
        name=one.name,
        tier=column.name,
        off=off,
        kits=boxes,
        given=given,
        extra=extra,
        brings=round_money(extra * earns, coin),
        enough=ceil(Fraction(given) / earns) if earns > 0 else None,
    )
