"""Suppliers' offers and what is already on the shelf or on its way."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal


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
