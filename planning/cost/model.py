"""The question and the answer of the cost step."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from kits.measures import round_money
from planning.buying import BuyingResult
from planning.cutting import CuttingResult
from planning.packing import PackingResult
from planning.requirements import RequirementsResult
from planning.shipping import ShippingResult

ONE_OFF = "one-off orders"  # the column that pays for what no tier asked for


class Heading(StrEnum):
    """What money goes on."""

    PAPER = "Paper"
    CUTTING = "Cutting"
    EXTRAS = "Extras"
    PACKAGING = "Packaging"
    PACKING = "Packing"
    POSTAGE = "Postage"
    SPOILAGE = "Spoilage"
    FREIGHT = "Freight and set-up"


@dataclass(frozen=True, slots=True, kw_only=True)
class TierBoxes:
    """A tier, its price, and how many of its kits the month sends."""

    code: str
    name: str
    price: Decimal
    boxes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialFacts:
    """What costing must know of an item: heading, value of one on the shelf, cost of open orders that arrive in time.

    written_off: what is left over is of no use later, so the month pays for it.
    """

    item: str
    name: str
    heading: Heading
    value_each: Decimal = Decimal(0)
    due_in_cost: Decimal = Decimal(0)
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
    exponent: int = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class CostEntry:
    """One amount in the table: what it is for, which heading and which column it stands in."""

    heading: Heading
    what: str
    column: str
    amount: Decimal


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
class CostResult:
    """Every entry, and the table they add up to.

    opening: value of the shelf before; bought: goods of this month's orders and of open orders that arrive in time;
    closing: value of what is kept on the shelf after. opening + bought = goods in the entries + closing.
    notes: what the cost leaves out, in words.
    """

    entries: tuple[CostEntry, ...]
    columns: tuple[ColumnCost, ...]
    opening: Decimal
    bought: Decimal
    closing: Decimal
    notes: tuple[str, ...] = ()

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
