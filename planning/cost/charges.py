"""What a month costs besides goods, work and postage: payment fees, damage in the post, design and fixed costs."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal

from kits.measures import format_amount, round_money
from planning.cost.books import Books
from planning.cost.headings import Heading
from planning.cost.model import ONE_OFF, CostEntry, TierBoxes
from planning.cost.rows import Charge, ChargeKind

HEADINGS = {
    ChargeKind.PAYMENT: Heading.FEES,
    ChargeKind.DAMAGE: Heading.DAMAGE,
    ChargeKind.DESIGN: Heading.DESIGN,
    ChargeKind.FIXED: Heading.FIXED,
}
IN_A_BOX = (
    Heading.PAPER,
    Heading.CUTTING,
    Heading.EXTRAS,
    Heading.PACKAGING,
    Heading.PACKING,
    Heading.OVERTIME,
    Heading.POSTAGE,
)


def charges(books: Books, entries: Iterable[CostEntry]) -> Iterator[CostEntry]:
    """Yield the entries of every other cost; damage costs again what the boxes of a column cost so far."""
    in_boxes: defaultdict[str, Decimal] = defaultdict(Decimal)
    for one in entries:
        if one.heading in IN_A_BOX:
            in_boxes[one.column] += one.amount
    for charge in books.problem.charges:
        for tier in bearers(charge, books):
            yield from by_tier(charge, tier, in_boxes[tier.code], books)
        yield from shared_once(charge, books)


def bearers(charge: Charge, books: Books) -> Iterator[TierBoxes]:
    """Yield the tiers that bear a charge, and one-off orders where damage to their parcels is borne by all."""
    yield from (tier for tier in books.problem.tiers if not charge.tiers or tier.code in charge.tiers)
    if charge.kind is ChargeKind.DAMAGE and not charge.tiers:
        yield TierBoxes(code=ONE_OFF, name="One-off orders", price=Decimal(0), boxes=0)


def by_tier(charge: Charge, tier: TierBoxes, in_boxes: Decimal, books: Books) -> Iterator[CostEntry]:
    """Yield what a tier bears by its kits."""
    rate = charge.percent / 100
    again = charge.kind is ChargeKind.DAMAGE
    of = in_boxes if again else tier.price * tier.boxes if charge.kind is ChargeKind.PAYMENT else Decimal(0)
    amount = round_money(of * rate + tier.boxes * charge.each * (rate if again else 1), books.exponent)
    if amount:
        yield CostEntry(
            heading=HEADINGS[charge.kind],
            what=charge.name,
            column=tier.code,
            amount=amount,
            sum=by_tier_words(charge, tier, of, books.exponent),
        )


def by_tier_words(charge: Charge, tier: TierBoxes, of: Decimal, exponent: int) -> str:
    """Say how it was worked out."""
    parts = (
        [f"{charge.percent.normalize():f} % of {format_amount(of, exponent)}"]
        if charge.percent and of
        else []
    )
    if charge.each:
        again = charge.kind is ChargeKind.DAMAGE
        share = f"{charge.percent.normalize():f} % of " if again else ""
        parts.append(f"{share}{tier.boxes:,} kits × {format_amount(charge.each, exponent)}")
    return " + ".join(parts)


def shared_once(charge: Charge, books: Books) -> Iterator[CostEntry]:
    """Yield what is paid once a month, shared by the kits of those who bear it; equally where no kit is sent."""
    own = [tier for tier in books.problem.tiers if not charge.tiers or tier.code in charge.tiers]
    kits: Mapping[str, int] = {tier.code: tier.boxes for tier in own}
    weights = kits if any(kits.values()) else dict.fromkeys(kits, 1) or {ONE_OFF: 1}
    amount = round_money(charge.once, books.exponent)
    yield from books.spread(HEADINGS[charge.kind], charge.name, amount, weights, "once a month, by kits")
