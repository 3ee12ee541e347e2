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
    """Needs, terms, what is on its way, and the days suppliers work, in which their lead times are counted.

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

    coming: open orders that are counted on: all that are due in time, and the first of later ones that the need waits for.
    net: still to be ordered. offer None: nothing is ordered; with net above 0 the material is short.
    plain: what the smallest order that meets the need would have cost, to show what the decision saves.
    a_year: what a year of such orders costs, of goods bought for the year.
    order_by, arrives, late: of what is ordered now. waits: which open orders come late and what would be sooner, in words.
    """

    need: Need
    coming: tuple[OpenOrder, ...] = ()
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
    waits: str = ""

    @property
    def due_in(self) -> int:
        """Units of open orders that arrive in time."""
        return sum(order.quantity for order in self.coming if order.due <= self.need.need_by)

    @property
    def due_late(self) -> int:
        """Units of open orders that arrive later and are waited for."""
        return self.on_order - self.due_in

    @property
    def on_order(self) -> int:
        """Units of all open orders counted on."""
        return sum(order.quantity for order in self.coming)

    @property
    def late_day(self) -> date | None:
        """The day on which the last of it is in, where not all is in by the day it is needed; else None."""
        days = [order.due for order in self.coming if order.due > self.need.need_by]
        if self.late and self.arrives is not None:
            days.append(self.arrives)
        return max(days, default=None)

    @property
    def short(self) -> int:
        """Units wanted that nobody offers."""
        return self.net if self.offer is None else 0

    @property
    def left_over(self) -> int:
        """Units on the shelf when the month is packed."""
        return self.need.on_hand + self.on_order + self.quantity + self.short - self.need.total

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
class PriceRise:
    """A price that is higher where more is bought. material, supplier: by name."""

    material: str
    supplier: str
    from_quantity: int
    price: Decimal

    @property
    def words(self) -> str:
        """What is odd, and what to do about it."""
        rise = f"the price of {self.supplier} rises at {self.from_quantity:,}, to {self.price:f}"
        return f"{rise}: a slip in the list, or two orders are cheaper"


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyingResult:
    """A line for every material the month needs, the orders they make, and what is proved.

    rises: prices of what is to be ordered that rise with the quantity.
    """

    lines: tuple[BuyLine, ...]
    orders: tuple[SupplierOrder, ...]
    ended: str
    rises: tuple[PriceRise, ...] = ()

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
        """Materials that are not all in by the day they are needed."""
        return tuple(line for line in self.lines if line.late_day)
