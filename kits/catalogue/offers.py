"""Suppliers' offers and what is already on the shelf or on its way."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import pairwise
from math import lcm

from kits.measures import round_money


@dataclass(frozen=True, slots=True, kw_only=True)
class Supplier:
    """Someone the club orders from. Freight is paid once an order; from `free_freight_from` of goods, not at all."""

    code: str
    name: str
    email: str = ""
    address: str = ""
    freight: Decimal = Decimal(0)
    free_freight_from: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """One supplier's terms for one material; every quantity is in the material's own units.

    An order is a multiple of `pack` and of `multiple`, at least `minimum`, and takes `lead_days` working days.
    """

    code: str
    supplier: str
    material: str
    pack: int = 1
    minimum: int = 0
    multiple: int = 1
    lead_days: int = 0
    setup_charge: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceBreak:
    """Price each for the *whole* order once it reaches `from_quantity` (an all-units break)."""

    offer: str
    from_quantity: int
    price: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """An offer with its price breaks, rising."""

    offer: Offer
    breaks: tuple[PriceBreak, ...]

    @property
    def grid(self) -> int:
        """Every order is a multiple of this: whole packs, whole multiples."""
        return lcm(self.offer.pack, self.offer.multiple)

    @property
    def rises(self) -> tuple[PriceBreak, ...]:
        """Breaks that cost more each than the one before, which no buyer expects."""
        return tuple(after for before, after in pairwise(self.breaks) if after.price > before.price)

    def at_least(self, quantity: int) -> int:
        """Return the smallest quantity the supplier sells that is not below `quantity`."""
        floor = max(quantity, self.offer.minimum, self.breaks[0].from_quantity, 1)
        return -(-floor // self.grid) * self.grid

    def worth_weighing(self, quantity: int) -> tuple[int, ...]:
        """Return the quantities that may cost least: just enough, and each price break above."""
        least = self.at_least(quantity)
        breaks = {self.at_least(one.from_quantity) for one in self.breaks if one.from_quantity > least}
        return tuple(sorted(breaks | {least}))

    def price(self, quantity: int) -> Decimal:
        """Price each when `quantity` is ordered (all-units: the break reached prices the whole order)."""
        return next(one.price for one in reversed(self.breaks) if one.from_quantity <= quantity)

    def goods(self, quantity: int, exponent: int) -> Decimal:
        """What `quantity` costs without set-up, in money of so many decimals."""
        return round_money(quantity * self.price(quantity), exponent)


@dataclass(frozen=True, slots=True, kw_only=True)
class StockLine:
    """Units of a material, or pieces of a pre-cut, on the shelf, at what each cost."""

    item: str
    on_hand: int
    value_each: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenOrder:
    """Units already ordered and not yet received."""

    reference: str
    supplier: str
    material: str
    quantity: int
    price: Decimal = Decimal(0)
    due: date
