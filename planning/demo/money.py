"""The invented club's money: what a month costs besides goods and work, what it aims at, and its budget of May 2027."""

from decimal import Decimal

from planning.cost.headings import Heading
from planning.cost.rows import BudgetLine, Charge, ChargeKind, PricePoint, Promotion, TierAim
from planning.demo.kit import BRANCH, LEAF, ORCHARD

D = Decimal
USUAL = 1_200  # boxes of the month that the amounts below are for

CHARGES = (
    Charge(kind=ChargeKind.PAYMENT, name="Card payments", percent=D("1.4"), each=D("0.20")),
    Charge(kind=ChargeKind.DAMAGE, name="Boxes sent again", percent=D("0.6"), each=D("1.50")),
)
BUDGETED = (  # heading, then what a kit of Orchard, Branch and Leaf may cost under it
    (Heading.PAPER, "3.10", "2.30", "1.60"),
    (Heading.CUTTING, "0.24", "0.18", "0.10"),
    (Heading.EXTRAS, "6.00", "3.60", "2.20"),
    (Heading.PACKAGING, "1.15", "1.05", "0.90"),
    (Heading.PACKING, "1.30", "1.10", "0.85"),
    (Heading.POSTAGE, "4.90", "4.10", "3.40"),
    (Heading.FEES, "0.62", "0.50", "0.40"),
    (Heading.SPOILAGE, "0.25", "0.18", "0.10"),
    (Heading.DAMAGE, "0.12", "0.10", "0.07"),
    (Heading.FREIGHT, "0.20", "0.15", "0.10"),
    (Heading.DESIGN, "0.55", "0.55", "0.55"),
    (Heading.FIXED, "0.40", "0.40", "0.40"),
)
SHARES = {ORCHARD: 53, BRANCH: 31, LEAF: 16}  # of a hundred boxes

PRICE_POINTS = (
    PricePoint(start=D(0), step=D("0.50")),
    PricePoint(start=D(20), step=D(1), less=D("0.50")),
)
PROMOTIONS = (Promotion(name="Leaf for a friend", tier=LEAF, off=D(2), boxes=40, extra=60),)


def charges(boxes: int) -> tuple[Charge, ...]:
    """Return what a club of so many boxes pays besides goods, work and postage."""
    once = (
        (ChargeKind.DESIGN, "Designer's fee", 640),
        (ChargeKind.FIXED, "Packing room, share of the month", 420),
        (ChargeKind.FIXED, "Website and letters", 85),
    )
    return (
        *CHARGES,
        *(
            Charge(kind=kind, name=name, once=D(amount * boxes // USUAL).quantize(D("0.01")))
            for kind, name, amount in once
        ),
    )


def aims(boxes: int) -> tuple[TierAim, ...]:
    """Return what the club aims at."""
    margins = {ORCHARD: (D(32), D(40)), BRANCH: (D(30), D(38)), LEAF: (D(22), D(30))}
    return tuple(
        TierAim(tier=tier, boxes=boxes * SHARES[tier] // 100, margin=margin, single_margin=single)
        for tier, (margin, single) in margins.items()
    )


def budget(boxes: int) -> tuple[BudgetLine, ...]:
    """Return the budget of a club of so many boxes."""
    return tuple(
        BudgetLine(tier=tier, heading=heading, amount=D(each) * (boxes * SHARES[tier] // 100))
        for heading, *amounts in BUDGETED
        for tier, each in zip((ORCHARD, BRANCH, LEAF), amounts, strict=True)
    )
