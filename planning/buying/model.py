"""The question and the answer of the buying step."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from kits.catalogue import Offer, OpenOrder, Supplier, Terms
from planning.calendar import WorkingCalendar


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """Units wanted of one material by a date: whole into boxes, as overs, and into cutting.

    on_hand: on the shelf. used_a_year: bought for the year when not None.
    """

    material: str
    name: str
    unit: str
    in_boxes: int = 0
    overs: int = 0
    in_cutting: int = 0
    on_hand: int = 0
    need_by: date
    used_a_year: int | None = None

    @property
    def total(self) -> int:
        """Units the month uses."""
        return self.in_boxes + self.overs + self.in_cutting


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyingProblem:
    """Needs, terms, what is on its way, and the days on which orders can be placed.

    exponent: decimals of the club's money. order_cost, holding_percent: for goods bought for the year.
    """

    needs: tuple[Need, ...]
    terms: tuple[Terms, ...]
    suppliers: tuple[Supplier, ...]
    open_orders: tuple[OpenOrder, ...] = ()
    calendar: WorkingCalendar
    planned_on: date
    exponent: int = 2
    order_cost: Decimal = Decimal(0)
    holding_percent: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyLine:
    """The decision for one material.

    due_in: units of open orders that arrive in time; due_late: those that do not, and are not counted on.
    net: still to be ordered. offer None: nothing is ordered; with net above 0 the material is short.
    plain: what the smallest order that meets the need would have cost, to show what the decision saves.
    a_year: what a year of such orders costs, of goods bought for the year.
    """

    need: Need
    due_in: int = 0
    due_late: int = 0
    net: int = 0
    offer: Offer | None = None
    quantity: int = 0
    price: Decimal = Decimal(0)
    goods: Decimal = Decimal(0)
    setup: Decimal = Decimal(0)
    plain: Decimal = Decimal(0)
    a_year: Decimal | None = None
    order_by: date | None = None
    arrives: date | None = None
    late: bool = False
    reason: str = ""

    @property
    def short(self) -> int:
        """Units wanted that nobody offers."""
        return self.net if self.offer is None else 0

    @property
    def left_over(self) -> int:
        """Units on the shelf when the month is packed."""
        return self.need.on_hand + self.due_in + self.quantity + self.short - self.need.total

    @property
    def cost(self) -> Decimal:
        """What the order line costs, set-up included."""
        return self.goods + self.setup


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplierOrder:
    """All lines that go to one supplier, ordered together by the earliest of their days."""

    supplier: Supplier
    lines: tuple[BuyLine, ...]
    goods: Decimal
    setup: Decimal
    freight: Decimal
    order_by: date
    late: bool

    @property
    def total(self) -> Decimal:
        """What the order costs."""
        return self.goods + self.setup + self.freight


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyingResult:
    """A line for every material the month needs, the orders they make, and what is proved."""

    lines: tuple[BuyLine, ...]
    orders: tuple[SupplierOrder, ...]
    ended: str

    @property
    def total(self) -> Decimal:
        """What all orders cost."""
        return sum((order.total for order in self.orders), Decimal(0))

    @property
    def saved(self) -> Decimal:
        """What the price breaks save the month against ordering just enough; a year's lot saves over the year."""
        return sum((line.plain - line.cost for line in self.lines if line.a_year is None), Decimal(0))

    @property
    def short(self) -> tuple[BuyLine, ...]:
        """Materials nobody offers enough of."""
        return tuple(line for line in self.lines if line.short)

    @property
    def late(self) -> tuple[BuyLine, ...]:
        """Orders that should have been placed before today."""
        return tuple(line for line in self.lines if line.late)
