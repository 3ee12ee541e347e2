"""What an order is made of. A sent order is a version that never changes; a change is another version, an amended order."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum

from kits.measures import Currency


class LineKind(StrEnum):
    """What a line charges for."""

    GOODS = "goods"
    SETUP = "set-up"
    FREIGHT = "freight"


class State(StrEnum):
    """Where an order stands."""

    DRAFT = "draft"
    SENT = "sent"
    PART_RECEIVED = "part received"
    CLOSED = "closed"


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderLine:
    """One line. key: tells it from the others through all versions of the order, and what is received is booked to it.

    quantity: in the material's own units; 1 for a charge. amount: in money without tax. tax_rate: percent.
    recovered: the club gets the tax back; tax it does not get back is part of the cost. about: size, weight, grain.
    expected: the day the supplier brings it, as last heard.
    """

    key: int
    kind: LineKind = LineKind.GOODS
    material: str = ""
    name: str
    about: str = ""
    offer: str = ""
    unit: str = ""
    pack: int = 1
    quantity: int = 1
    price: Decimal
    amount: Decimal
    tax_rate: Decimal = Decimal(0)
    recovered: bool = True
    need_by: date | None = None
    expected: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """One version of an order to one supplier.

    supplier: by code; its name, email and address as they were when the order was made. month: for which it is bought,
    written 2027-04. order_by: latest day to send it.
    """

    number: str
    version: int = 1
    month: str
    supplier: str
    supplier_name: str
    email: str = ""
    address: str = ""
    currency: str
    order_by: date | None = None
    lines: tuple[OrderLine, ...] = ()

    @property
    def exponent(self) -> int:
        """Decimals of the order's money."""
        return Currency(self.currency).exponent

    @property
    def goods(self) -> tuple[OrderLine, ...]:
        """Lines that something is received of."""
        return tuple(self.of_kind(LineKind.GOODS))

    @property
    def net(self) -> Decimal:
        """What all lines come to without tax."""
        return sum((one.amount for one in self.lines), Decimal(0))

    def of_kind(self, kind: LineKind) -> Iterator[OrderLine]:
        """Yield the lines of one kind."""
        return (one for one in self.lines if one.kind is kind)

    def amount_of(self, kind: LineKind) -> Decimal:
        """Return what the lines of one kind come to without tax."""
        return sum((one.amount for one in self.of_kind(kind)), Decimal(0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Received:
    """What came of a line so far, damaged units apart. value: what the good ones cost, landed, by the stock book."""

    good: int = 0
    damaged: int = 0
    value: Decimal = Decimal(0)


NOTHING = Received()
