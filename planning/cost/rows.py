"""What the club knows of its money in rows: other costs, budget, aims, price points, promotions, what really happened."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from planning.cost.headings import Heading

NOTHING = Decimal(0)


class ChargeKind(StrEnum):
    """What a cost is for that neither goods nor work explain."""

    PAYMENT = "payment fee"
    DAMAGE = "damage in the post"
    DESIGN = "design"
    FIXED = "fixed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Charge:
    """A cost besides goods, work and postage. tiers: who bears it, empty for all.

    percent: of the price, for a payment fee; of the boxes, for damage: so many are made and sent again. each: for every kit
    sent, for damage for every box sent again. once: a month, shared by the kits.
    """

    kind: ChargeKind
    name: str
    tiers: tuple[str, ...] = ()
    percent: Decimal = NOTHING
    each: Decimal = NOTHING
    once: Decimal = NOTHING


@dataclass(frozen=True, slots=True, kw_only=True)
class TierAim:
    """What the club aims at with a tier.

    boxes: in the budget. margin, single_margin: what should be left of the price after all cost, in percent of it, from a
    member and from somebody who orders one box alone; None where nothing is aimed at.
    """

    tier: str
    boxes: int = 0
    margin: Decimal | None = None
    single_margin: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BudgetLine:
    """What the budget allows a tier under one heading, for all its budgeted boxes. tier: empty for what no tier bears."""

    tier: str = ""
    heading: Heading
    amount: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class PricePoint:
    """The prices the club likes: from `start` on whole steps, each `less` below a multiple (0.05 below makes 9.95)."""

    start: Decimal
    step: Decimal
    less: Decimal = NOTHING


@dataclass(frozen=True, slots=True, kw_only=True)
class Promotion:
    """A price made lower for a while. tier: empty for all. percent, off: taken off the price of each kit.

    boxes: kits that get it, None for every one; extra: kits it is hoped to sell besides, which get it too.
    """

    name: str
    tier: str = ""
    percent: Decimal = NOTHING
    off: Decimal = NOTHING
    boxes: int | None = None
    extra: int = 0


class ActualKind(StrEnum):
    """What was counted after the month."""

    BOUGHT = "bought"
    SPOILED = "spoiled"
    CUTTING = "cutting minutes"
    PACKING = "packing minutes"
    POSTAGE = "postage"


@dataclass(frozen=True, slots=True, kw_only=True)
class Actual:
    """What really happened. item: a material or piece that was bought or spoiled; a service for postage; empty for minutes.

    quantity: units, minutes or boxes. amount: what was paid; None where nothing was paid for it or nobody knows.
    """

    kind: ActualKind
    item: str = ""
    quantity: Decimal = NOTHING
    amount: Decimal | None = None


class ChangeKind(StrEnum):
    """What a variant of the month changes."""

    BOXES = "boxes"
    PRICE = "price of a tier"
    OFFER = "price of an offer"
    SUPPLIER = "only this supplier"
    MATERIAL = "another material"
    DAYS = "packing starts later by days"
    CREW = "crew minutes in percent"


@dataclass(frozen=True, slots=True, kw_only=True)
class VariantLine:
    """One change of a named variant. item: of what (tier, offer, material); value: a number, or a code."""

    variant: str
    change: ChangeKind
    item: str = ""
    value: str
