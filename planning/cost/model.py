"""The question and the answer of the cost step."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from kits.measures import format_amount, round_money
from planning.buying import BuyingResult
from planning.cost.headings import Heading
from planning.cost.rows import Charge
from planning.cutting import CuttingResult
from planning.packing import PackingResult
from planning.requirements import RequirementsResult
from planning.shipping import ShippingResult

ONE_OFF = "one-off orders"  # the column that pays for what no tier asked for


@dataclass(frozen=True, slots=True, kw_only=True)
class TierBoxes:
    """A tier, its price, and how many of its kits the month sends."""

    code: str
    name: str
    price: Decimal
    boxes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialFacts:
    """What costing must know of an item: heading, value of one on the shelf, cost of open orders that are counted on.

    last_price: of one, as far as shelf or open orders tell, for what is short. written_off: what is left over is of no
    use later, so the month pays for it.
    """

    item: str
    name: str
    heading: Heading
    value_each: Decimal = Decimal(0)
    due_in_cost: Decimal = Decimal(0)
    last_price: Decimal | None = None
    written_off: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CostProblem:
    """The month's earlier answers, and the figures only costing asks for.

    columns: (demand, column) pairs: which column of the table pays for a demand of the requirements step.
    """

    tiers: tuple[TierBoxes, ...]
    columns: tuple[tuple[str, str], ...]
    facts: tuple[MaterialFacts, ...]
    requirements: RequirementsResult
    cutting: CuttingResult
    buying: BuyingResult
    packing: PackingResult
    shipping: ShippingResult
    crew_cost_per_hour: Decimal = Decimal(0)
    charges: tuple[Charge, ...] = ()
    exponent: int = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class CostEntry:
    """One amount in the table: what it is for, which heading and which column it stands in; sum: how it was worked out."""

    heading: Heading
    what: str
    column: str
    amount: Decimal
    sum: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LandedLot:
    """Units of a material that came together, and what they cost on the shelf: price, set-up and share of the freight."""

    material: str
    name: str
    lot: str
    units: int
    goods: Decimal
    setup: Decimal = Decimal(0)
    freight: Decimal = Decimal(0)

    @property
    def landed(self) -> Decimal:
        """All of it."""
        return self.goods + self.setup + self.freight

    @property
    def each(self) -> Decimal | None:
        """Cost of one on the shelf, to a hundredth of a coin of two decimals; None where there is none."""
        return round_money(self.landed / self.units, 4) if self.units else None


@dataclass(frozen=True, slots=True, kw_only=True)
class ColumnCost:
    """A column of the table. boxes: kits sent (none for one-off orders); each: cost of one kit, rounded."""

    code: str
    name: str
    boxes: int
    price: Decimal
    by_heading: tuple[tuple[Heading, Decimal], ...]
    total: Decimal
    exponent: int

    @property
    def each(self) -> Decimal | None:
        """Cost of one kit, rounded to the smallest coin; None where there is none."""
        return round_money(self.total / self.boxes, self.exponent) if self.boxes else None

    @property
    def margin(self) -> Decimal | None:
        """Price of one kit less its cost."""
        return None if self.each is None else self.price - self.each


@dataclass(frozen=True, slots=True, kw_only=True)
class ShortGoods:
    """A material nobody sells enough of, left out of the cost.

    units: short. price: the last known of one, None if there is none; missing: what the units would cost at that price.
    each: what that comes to for one kit, by tier. boxes: of how many kinds, and of which tiers, hold it or pieces of it.
    """

    material: str
    name: str
    units: int
    price: Decimal | None
    missing: Decimal | None
    each: tuple[tuple[str, Decimal], ...]
    boxes: int
    kinds: int
    tiers: tuple[str, ...]
    exponent: int

    @property
    def left_out(self) -> str:
        """What the cost lacks, in words."""
        if self.price is None or self.missing is None:
            return f"{self.units:,} short, at a price nobody knows"
        kits = ", ".join(f"{format_amount(each, self.exponent)} a kit of {tier}" for tier, each in self.each)
        more = f"{format_amount(self.missing, self.exponent)} more{f', {kits}' if kits else ''}"
        return f"{self.units:,} short; at {self.price:f} each, the last price known, {more}"

    @property
    def held(self) -> str:
        """Which boxes hold it, in words."""
        if self.boxes == 0:
            return "no box holds it"
        if self.boxes == 1:
            return f"1 box holds it, {self.tiers[0]}"
        kinds = f" of {self.kinds:,} kinds" if self.kinds > 1 else ""
        return f"{self.boxes:,} boxes{kinds} hold it, {' and '.join(self.tiers)}"


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptGoods:
    """What a material, or pieces from the shelf, cost before freight, and what of it is kept for later months.

    passed: what larger sheets pass on to those cut from them, below zero at the larger ones.
    """

    name: str
    units: int
    cost: Decimal
    passed: Decimal = Decimal(0)
    left: int = 0
    value: Decimal = Decimal(0)

    @property
    def used(self) -> Decimal:
        """What the month pays for."""
        return self.cost + self.passed - self.value


@dataclass(frozen=True, slots=True, kw_only=True)
class CostResult:
    """Every entry, and the table they add up to.

    opening: value of the shelf before; bought: goods of this month's orders and of open orders it counts on;
    closing: value of what is kept on the shelf after. opening + bought = goods in the entries + closing.
    short: what the cost leaves out. lots: what each lot of each material cost on the shelf. kept: what of all goods is left.
    """

    entries: tuple[CostEntry, ...]
    columns: tuple[ColumnCost, ...]
    opening: Decimal
    bought: Decimal
    closing: Decimal
    short: tuple[ShortGoods, ...] = ()
    lots: tuple[LandedLot, ...] = ()
    kept: tuple[KeptGoods, ...] = ()

    @property
    def notes(self) -> tuple[str, ...]:
        """What the cost leaves out, in words."""
        return tuple(f"Not in the cost: {one.name}, {one.left_out}" for one in self.short)

    @property
    def total(self) -> Decimal:
        """Cost of the month."""
        return amount_of(self.entries)

    def heading_total(self, heading: Heading) -> Decimal:
        """Cost of the month under one heading."""
        return amount_of(entry for entry in self.entries if entry.heading is heading)


def amount_of(entries: Iterable[CostEntry]) -> Decimal:
    """Add entries up."""
    return sum((entry.amount for entry in entries), Decimal(0))
