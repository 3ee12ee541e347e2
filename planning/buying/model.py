"""The question and the answer of the buying step."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from kits.catalogue import Offer, OpenOrder, Supplier, Terms
from kits.measures import MOST_DECIMALS, round_money
from planning.calendar import WorkingCalendar


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """Units wanted of one material by a date: whole into boxes, as overs, and into cutting.

    on_hand: on the shelf. cut: cut by the club from larger sheets instead of being bought. used_a_year: bought for the year
    when not None. split: may come from several suppliers at once. keeps: what is left over is of use later. extra: wanted
    on the shelf beyond what the month uses, as where more boxes may come or a later month needs it.
    """

    material: str
    name: str
    unit: str
    in_boxes: int = 0
    overs: int = 0
    in_cutting: int = 0
    on_hand: int = 0
    cut: int = 0
    need_by: date
    used_a_year: int | None = None
    split: bool = False
    keeps: bool = True
    extra: int = 0

    @property
    def total(self) -> int:
        """Units the month uses."""
        return self.in_boxes + self.overs + self.in_cutting

    @property
    def wanted(self) -> int:
        """Units to have: what the month uses, and what is wanted beyond."""
        return self.total + self.extra

    @property
    def there(self) -> int:
        """Units that need no order: on the shelf, or cut."""
        return self.on_hand + self.cut


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyingProblem:
    """Needs, terms, what is on its way, and the days suppliers work, in which their lead times are counted.

    exponent: decimals of the club's money. order_cost: of placing an order of goods bought for the year. holding_percent:
    what money tied up in stock costs a year. leftover_percent: worth of a usable unit left over, of the lowest price it is
    offered at; leftover_months: how long it lies.
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
    leftover_percent: Decimal = Decimal(0)
    leftover_months: Decimal = Decimal(1)


def price_each(bands: tuple[tuple[int, Decimal], ...], goods: Decimal) -> Decimal:
    """Return the price of units in bands, or their average to the finest a price may be."""
    if len({price for _, price in bands}) == 1:
        return bands[0][1]
    return round_money(Fraction(goods) / sum(units for units, _ in bands), MOST_DECIMALS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Purchase:
    """What one supplier is asked for of one material.

    bands: how many units have which price; one band but for incremental breaks. plain: what the smallest order that does
    as well would have cost. order_by: the last day; arrives: ordered then, or on the day of the plan where that is past.
    """

    need: Need
    offer: Offer
    quantity: int
    bands: tuple[tuple[int, Decimal], ...]
    goods: Decimal
    setup: Decimal
    plain: Decimal
    order_by: date
    arrives: date
    late: bool
    reason: str = ""

    @property
    def price(self) -> Decimal:
        """Price of one, the average where not all units cost the same."""
        return price_each(self.bands, self.goods)

    @property
    def cost(self) -> Decimal:
        """What the line costs, set-up included."""
        return self.goods + self.setup


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyLine:
    """The decision for one material.

    coming: open orders that are counted on: all that are due in time, and the first of later ones that the need waits for.
    net: still to be ordered. bought: what is ordered, mostly of one supplier; less than net where that is all there is.
    a_year: what a year of such orders costs, of goods bought for the year. worth: of all units left over that are of use.
    waits: which open orders come late and what would be sooner, in words.
    """

    need: Need
    coming: tuple[OpenOrder, ...] = ()
    net: int = 0
    bought: tuple[Purchase, ...] = ()
    a_year: Decimal | None = None
    worth: Decimal = Decimal(0)
    reason: str = ""
    waits: str = ""

    @property
    def offer(self) -> Offer | None:
        """The offer most is ordered of; None where nothing is ordered."""
        return max(self.bought, key=lambda one: one.quantity).offer if self.bought else None

    @property
    def quantity(self) -> int:
        """Units ordered."""
        return sum(one.quantity for one in self.bought)

    @property
    def price(self) -> Decimal:
        """Price paid for one, the average where not all cost the same; 0 where nothing is ordered."""
        bands = tuple(band for one in self.bought for band in one.bands)
        return price_each(bands, self.goods) if bands else Decimal(0)

    @property
    def goods(self) -> Decimal:
        """What the goods cost."""
        return sum((one.goods for one in self.bought), Decimal(0))

    @property
    def setup(self) -> Decimal:
        """What the suppliers charge for setting up."""
        return sum((one.setup for one in self.bought), Decimal(0))

    @property
    def cost(self) -> Decimal:
        """What is ordered costs, set-up included."""
        return self.goods + self.setup

    @property
    def plain(self) -> Decimal:
        """What the smallest orders of the same offers would have cost."""
        return sum((one.plain for one in self.bought), Decimal(0))

    @property
    def order_by(self) -> date | None:
        """The first day by which something must be ordered."""
        return min((one.order_by for one in self.bought), default=None)

    @property
    def arrives(self) -> date | None:
        """The day on which all that is ordered is in."""
        return max((one.arrives for one in self.bought), default=None)

    @property
    def late(self) -> bool:
        """Whether some of what is ordered cannot come in time."""
        return any(one.late for one in self.bought)

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
        days += [one.arrives for one in self.bought if one.late]
        return max(days, default=None)

    @property
    def short(self) -> int:
        """Units the month uses that nobody offers."""
        return max(0, self.need.total - self.need.there - self.on_order - self.quantity)

    @property
    def left_over(self) -> int:
        """Units on the shelf when the month is packed."""
        return self.need.there + self.on_order + self.quantity + self.short - self.need.total


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplierOrder:
    """All lines that go to one supplier, ordered together by the earliest of their days."""

    supplier: Supplier
    lines: tuple[Purchase, ...]
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
class Unmet:
    """A need that cannot be met in full by its day. lacking: units then; by: when all of it could be in, None: never."""

    material: str
    name: str
    need_by: date
    lacking: int
    by: date | None

    @property
    def words(self) -> str:
        """What cannot be met, and by when it could."""
        when = f"all could be in by {self.by:%-d %b %Y}" if self.by else "nobody offers as many"
        return f"{self.lacking:,} of {self.name} cannot be had by {self.need_by:%-d %b %Y}; {when}"


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyingResult:
    """A line for every material the month needs, the orders they make, and what is proved.

    Costs that are compared have the worth of what is left over taken off. bound: no choice of orders costs less. apart:
    what they would cost if each material were bought by itself at its cheapest; just_enough: if each line were the smallest
    that does. unmet: the fewest needs that must wait or go without. rises: prices of what is to be ordered that rise where
    more is bought.
    """

    lines: tuple[BuyLine, ...]
    orders: tuple[SupplierOrder, ...]
    ended: str
    bound: Decimal = Decimal(0)
    apart: Decimal = Decimal(0)
    just_enough: Decimal = Decimal(0)
    unmet: tuple[Unmet, ...] = ()
    rises: tuple[PriceRise, ...] = ()

    @property
    def total(self) -> Decimal:
        """What all orders cost."""
        return sum((order.total for order in self.orders), Decimal(0))

    @property
    def worth(self) -> Decimal:
        """What the units left over are worth."""
        return sum((line.worth for line in self.lines), Decimal(0))

    @property
    def counted(self) -> Decimal:
        """What was made least: all orders, less the worth of what they leave over."""
        return self.total - self.worth

    @property
    def gap(self) -> Decimal:
        """How much less a better choice could cost at most."""
        return self.counted - self.bound

    @property
    def saved(self) -> Decimal:
        """What buying more than enough saves the month, freight included; a year's lot saves over the year."""
        return self.just_enough - self.counted

    @property
    def saved_together(self) -> Decimal:
        """What deciding all materials together saves against buying each at its own cheapest."""
        return self.apart - self.counted

    @property
    def short(self) -> tuple[BuyLine, ...]:
        """Materials nobody offers enough of."""
        return tuple(line for line in self.lines if line.short)

    @property
    def late(self) -> tuple[BuyLine, ...]:
        """Materials that are not all in by the day they are needed."""
        return tuple(line for line in self.lines if line.late_day)
