"""Suppliers' offers and what is already on the shelf or on its way."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum
from itertools import pairwise
from math import lcm

from kits.measures import round_money

NO_MAXIMUM = 10**12  # units; nobody counts as many


@dataclass(frozen=True, slots=True, kw_only=True)
class Supplier:
    """Someone the club orders from. Freight is paid once an order; from `free_freight_from` of goods, not at all."""

    code: str
    name: str
    email: str = ""
    address: str = ""
    freight: Decimal = Decimal(0)
    free_freight_from: Decimal | None = None


class Breaks(StrEnum):
    """What a price break reprices."""

    ALL_UNITS = "all units"  # the whole order has the price of the break it reaches
    INCREMENTAL = "incremental"  # only the units from the break on have its price


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """One supplier's terms for one material; every quantity is in the material's own units.

    An order is a multiple of `pack` and of `multiple`, at least `minimum` and at most `maximum`, and takes `lead_days`
    working days. even_late: the buyer wants it weighed even where it cannot come in time. order_until: the last day it
    can be ordered.
    """

    code: str
    supplier: str
    material: str
    pack: int = 1
    minimum: int = 0
    multiple: int = 1
    lead_days: int = 0
    setup_charge: Decimal = Decimal(0)
    maximum: int | None = None
    breaks: Breaks = Breaks.ALL_UNITS
    even_late: bool = False
    order_until: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceBreak:
    """Price each once an order reaches `from_quantity`: of the whole order, or of the units from there on."""

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
    def most(self) -> int:
        """The largest order the supplier takes, in whole lots."""
        return NO_MAXIMUM if self.offer.maximum is None else self.offer.maximum // self.grid * self.grid

    @property
    def rises(self) -> tuple[PriceBreak, ...]:
        """Breaks that cost more each than the one before, which no buyer expects."""
        return tuple(after for before, after in pairwise(self.breaks) if after.price > before.price)

    def at_least(self, quantity: int) -> int:
        """Return the smallest quantity in whole lots that is not below `quantity`; it may be above the maximum."""
        floor = max(quantity, self.offer.minimum, self.breaks[0].from_quantity, 1)
        return -(-floor // self.grid) * self.grid

    def worth_weighing(self, quantity: int) -> tuple[int, ...]:
        """Return the quantities that may cost least: just enough, and each price break above; none above the maximum."""
        least = self.at_least(quantity)
        breaks = {self.at_least(one.from_quantity) for one in self.breaks if one.from_quantity > least}
        return tuple(one for one in sorted(breaks | {least}) if one <= self.most)

    def price(self, quantity: int) -> Decimal:
        """Price each at the break that `quantity` reaches: of all units, or with incremental breaks of the last ones."""
        return next(one.price for one in reversed(self.breaks) if one.from_quantity <= quantity)

    def goods(self, quantity: int, exponent: int) -> Decimal:
        """What `quantity` costs without set-up, in money of so many decimals."""
        return round_money(self.exact_goods(quantity), exponent)

    def exact_goods(self, quantity: int) -> Decimal:
        """What `quantity` costs without set-up, before rounding."""
        if self.offer.breaks is Breaks.ALL_UNITS:
            return quantity * self.price(quantity)
        return sum((units * price for units, price in self.bands(quantity)), Decimal(0))

    def bands(self, quantity: int) -> Iterator[tuple[int, Decimal]]:
        """Yield how many units of an order have which price. A band ends one unit before the next break.

        The first break may start above 1: units below it have its price too, as nothing less is sold.
        """
        if self.offer.breaks is Breaks.ALL_UNITS:
            yield quantity, self.price(quantity)
            return
        starts = [0, *(one.from_quantity - 1 for one in self.breaks[1:]), quantity]
        for one, (low, high) in zip(self.breaks, pairwise(starts), strict=True):
            if quantity > low:
                yield min(high, quantity) - low, one.price


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
