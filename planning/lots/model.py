"""The question and the answer of the lots step."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise
from typing import TypeVar

Each = TypeVar("Each")


class LotsError(ValueError):
    """A question that cannot be planned; the message says what and where."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LotMaterial:
    """What the periods use of one material, in units.

    needed: one count a period. due: what comes of open orders, one count a period, or empty. storage: of one unit kept to
    the end of a period; storages where that differs, one a period. space: room one unit takes, in the problem's own unit.
    """

    code: str
    name: str
    needed: tuple[int, ...]
    on_hand: int = 0
    due: tuple[int, ...] = ()
    storage: Decimal = Decimal(0)
    storages: tuple[Decimal, ...] = ()
    space: Decimal = Decimal(0)

    def storage_in(self, period: int) -> Fraction:
        """Return what it costs to keep one unit to the end of a period."""
        return Fraction(self.storages[period] if self.storages else self.storage)

    def due_in(self, period: int) -> int:
        """Return what comes of open orders in a period."""
        return self.due[period] if self.due else 0


@dataclass(frozen=True, slots=True, kw_only=True)
class LotPrice:
    """Price each once an order reaches `from_quantity`: of all its units, or of those from there on."""

    from_quantity: int
    price: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class LotOffer:
    """One supplier's terms for one material.

    setup: paid for each order of it; setups where that differs, one a period. pack: orders are a multiple of it.
    first: the first period in which an order can be in the house, 0 for the first of all. most: units in one period.
    is_incremental: a price holds for the units from its quantity on only, and not for the whole order.
    """

    code: str
    supplier: str
    material: str
    prices: tuple[LotPrice, ...] = (LotPrice(from_quantity=1, price=Decimal(0)),)
    setup: Decimal = Decimal(0)
    setups: tuple[Decimal, ...] = ()
    pack: int = 1
    minimum: int = 0
    first: int = 0
    most: int | None = None
    is_incremental: bool = False

    def setup_in(self, period: int) -> Fraction:
        """Return what an order costs besides its goods in a period."""
        return Fraction(self.setups[period] if self.setups else self.setup)

    def price(self, quantity: int) -> Decimal:
        """Return the price each of an order of so many."""
        return next(one.price for one in reversed(self.prices) if one.from_quantity <= quantity)

    def goods(self, quantity: int) -> Decimal:
        """Return what an order of so many costs."""
        return quantity * self.price(quantity) + self.ahead(quantity)

    def ahead(self, quantity: int) -> Decimal:
        """Return what the dearer units of an order with incremental prices cost above its last price."""
        steps = pairwise(self.prices) if self.is_incremental else ()
        return sum(
            (
                (after.from_quantity - 1) * (before.price - after.price)
                for before, after in steps
                if after.from_quantity <= quantity
            ),
            Decimal(0),
        )

    def at_least(self, quantity: int) -> int:
        """Return the smallest order that is not below `quantity`."""
        floor = max(quantity, self.minimum, self.prices[0].from_quantity, 1)
        return -(-floor // self.pack) * self.pack


@dataclass(frozen=True, slots=True, kw_only=True)
class LotSupplier:
    """Freight of an order with any of the supplier's goods in it; free from an amount of goods, where there is one."""

    code: str
    name: str
    freight: Decimal = Decimal(0)
    free_freight_from: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LotsProblem:
    """Periods by name, and what is needed, offered and paid in them.

    room: what all stock at the end of a period may take, where that is limited. nodes: most effort of the search, counted.
    Raises LotsError for a question that does not hold together.
    """

    periods: tuple[str, ...]
    materials: tuple[LotMaterial, ...]
    offers: tuple[LotOffer, ...]
    suppliers: tuple[LotSupplier, ...] = ()
    room: Decimal | None = None
    nodes: int = 2_000

    def __post_init__(self) -> None:
        if not self.periods:
            raise LotsError("name at least one period")
        for what, codes in (
            ("materials", [one.code for one in self.materials]),
            ("offers", [one.code for one in self.offers]),
            ("suppliers", [one.code for one in self.suppliers]),
        ):
            if twice := sorted({code for code in codes if codes.count(code) > 1}):
                raise LotsError(f"two {what} with one code: {', '.join(twice)}. Give each its own.")
        for material in self.materials:
            self._check_material(material)
        for offer in self.offers:
            self._check_offer(offer)
        for supplier in self.suppliers:
            if supplier.freight < 0 or (supplier.free_freight_from or 0) < 0:
                raise LotsError(f"supplier {supplier.code}: freight is never negative")
        if self.room is not None and self.room < 0:
            raise LotsError("the room for stock is never negative")

    def _check_material(self, one: LotMaterial) -> None:
        self._check_length(f"material {one.code}: needed", one.needed, may_be_empty=False)
        self._check_length(f"material {one.code}: due", one.due)
        self._check_length(f"material {one.code}: storages", one.storages)
        counts, amounts = (*one.needed, *one.due, one.on_hand), (*one.storages, one.storage, one.space)
        if min(counts) < 0 or min(amounts) < 0:
            raise LotsError(f"material {one.code}: no count, storage or space is negative")

    def _check_offer(self, one: LotOffer) -> None:
        if one.material not in {each.code for each in self.materials}:
            raise LotsError(f"offer {one.code} is for {one.material}, which is no material here")
        if self.suppliers and one.supplier not in {each.code for each in self.suppliers}:
            raise LotsError(f"offer {one.code} is from {one.supplier}, who is no supplier here")
        self._check_length(f"offer {one.code}: setups", one.setups)
        if one.pack < 1:
            raise LotsError(f"offer {one.code}: a pack holds {one.pack:,}. Write at least 1.")
        numbers: tuple[int | Decimal, ...] = (one.minimum, one.first, one.most or 0, one.setup, *one.setups)
        if min(map(Decimal, numbers)) < 0:
            raise LotsError(f"offer {one.code}: no count, period or charge is negative")
        quantities = [each.from_quantity for each in one.prices]
        if not quantities or quantities != sorted(set(quantities)) or quantities[0] < 1:
            raise LotsError(f"offer {one.code}: write its prices from the smallest quantity up, from 1 on")
        if min(each.price for each in one.prices) < 0:
            raise LotsError(f"offer {one.code}: a price is never negative")

    def _check_length(self, what: str, given: Sequence[object], *, may_be_empty: bool = True) -> None:
        if len(given) != len(self.periods) and not (may_be_empty and not given):
            raise LotsError(
                f"{what} has {len(given)} values for {len(self.periods)} periods. Write one a period."
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class LotLine:
    """Units of one material in an order. covers: the last period whose need it meets in part. why: in plain words."""

    material: str
    name: str
    offer: str
    quantity: int
    price: Decimal
    goods: Decimal
    setup: Decimal
    covers: int
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LotOrder:
    """One supplier's goods that come in one period (its number, from 0)."""

    period: int
    supplier: str
    name: str
    lines: tuple[LotLine, ...]
    freight: Decimal

    @property
    def goods(self) -> Decimal:
        """What the goods cost."""
        return sum((line.goods for line in self.lines), Decimal(0))

    @property
    def setup(self) -> Decimal:
        """What is paid for setting up."""
        return sum((line.setup for line in self.lines), Decimal(0))

    @property
    def total(self) -> Decimal:
        """What the order costs."""
        return self.goods + self.setup + self.freight


@dataclass(frozen=True, slots=True, kw_only=True)
class LotStock:
    """Units of a material needed in each period and left at the end of it, and what keeping them costs in all."""

    material: str
    name: str
    needed: tuple[int, ...]
    left: tuple[int, ...]
    storage: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class LateNeed:
    """Units a period needs that cannot be there in it. met_in: the first period they can; None where nobody offers any."""

    material: str
    period: int
    units: int
    met_in: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class LotsResult:
    """The orders of every period.

    periods: their names. bound: no plan that meets the same needs costs less. each_period: what ordering in each period just
    what it needs costs.
    """

    periods: tuple[str, ...]
    orders: tuple[LotOrder, ...]
    stock: tuple[LotStock, ...]
    late: tuple[LateNeed, ...]
    total: Decimal
    bound: Decimal
    each_period: Decimal
    ended: str

    @property
    def storage(self) -> Decimal:
        """What keeping stock costs in all."""
        return sum((one.storage for one in self.stock), Decimal(0))

    @property
    def saved(self) -> Decimal:
        """What the plan saves against ordering in each period just what it needs."""
        return self.each_period - self.total

    @property
    def is_proved(self) -> bool:
        """Whether no plan costs less."""
        return self.total <= self.bound
