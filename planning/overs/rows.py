"""What the club knows of spoilage and of a count that is not known yet, in rows."""

from dataclasses import dataclass
from decimal import Decimal

from planning.overs.spoilage import Base


@dataclass(frozen=True, slots=True, kw_only=True)
class Spoilage:
    """What one operation spoils of a material, a pre-cut or a piece; the operations of an item stand in their order."""

    item: str
    operation: str
    make_ready: int = 0
    percent: Decimal = Decimal(0)
    base: Base = Base.GOOD


@dataclass(frozen=True, slots=True, kw_only=True)
class Outlook:
    """How many boxes of a tier the month may send, and what a box that goes short costs.

    low, likely, high: None where the tier has rows of quantiles instead.
    """

    tier: str
    low: int | None = None
    likely: int | None = None
    high: int | None = None
    short_cost: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class CountQuantile:
    """A number of boxes of a tier, and the chance in percent that it is no more."""

    tier: str
    percent: Decimal
    boxes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyFor:
    """What the buyer has decided to have: boxes of a tier, or units of a material."""

    item: str
    quantity: int
