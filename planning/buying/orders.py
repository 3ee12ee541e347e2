"""What a choice of offers and quantities costs to the cent, freight by supplier included."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from typing import NamedTuple, TypeAlias

from kits.catalogue import Supplier
from kits.measures import round_money
from planning.buying.model import BuyingProblem, Purchase, SupplierOrder
from planning.buying.options import Lack, Option


class Part(NamedTuple):
    """How many units are ordered of one option."""

    option: Option
    quantity: int


Parts: TypeAlias = tuple[Part, ...]
Choice: TypeAlias = tuple[Parts, ...]
"""What is ordered for each lack, in the order of the lacks."""


class Prices:
    """The prices of a problem: what lines and orders come to."""

    def __init__(self, problem: BuyingProblem) -> None:
        self.exponent = problem.exponent
        self.suppliers = {one.code: one for one in problem.suppliers}
        self.known: dict[tuple[str, int], Decimal] = {}  # the same few orders are weighed again and again

    def goods(self, part: Part) -> Decimal:
        """Return what the goods of a part cost."""
        key = part.option.terms.offer.code, part.quantity
        if key not in self.known:
            self.known[key] = part.option.terms.goods(part.quantity, self.exponent)
        return self.known[key]

    def part(self, part: Part) -> Decimal:
        """Return what a part costs, set-up included."""
        return self.goods(part) + part.option.terms.offer.setup_charge

    def parts(self, lack: Lack, parts: Parts) -> Decimal:
        """Return what is ordered for a lack, less the worth of what it leaves over."""
        cost = sum((self.part(one) for one in parts), Decimal(0))
        return cost - lack.counted(sum(one.quantity for one in parts))

    def freight(self, supplier: str, goods: Decimal) -> Decimal:
        """Return the freight of an order of goods for so much."""
        one = self.suppliers.get(supplier)
        return Decimal(0) if one is None else freight(one, goods, self.exponent)

    def total(self, lacks: Sequence[Lack], choice: Choice) -> Decimal:
        """Return what a choice costs in all, less the worth of what it leaves over."""
        lines = sum((self.parts(lack, parts) for lack, parts in zip(lacks, choice, strict=True)), Decimal(0))
        return lines + self.freights(choice)

    def freights(self, choice: Choice) -> Decimal:
        """Return the freight of all orders."""
        billed: defaultdict[str, Decimal] = defaultdict(Decimal)
        for parts in choice:
            for one in parts:
                billed[one.option.terms.offer.supplier] += self.goods(one)
        return self.billed(billed)

    def billed(self, goods: Mapping[str, Decimal]) -> Decimal:
        """Return the freight of orders, given each supplier's goods."""
        return sum((self.freight(supplier, amount) for supplier, amount in goods.items()), Decimal(0))


def freight(supplier: Supplier, goods: Decimal, exponent: int) -> Decimal:
    """Return the freight of one order: none from the supplier's free-freight amount on."""
    free = supplier.free_freight_from is not None and goods >= supplier.free_freight_from
    return Decimal(0) if free else round_money(supplier.freight, exponent)


def order_from(supplier: Supplier, lines: Iterable[Purchase], exponent: int) -> SupplierOrder | None:
    """Gather a supplier's lines into one order; no lines, no order."""
    own = tuple(line for line in lines if line.offer.supplier == supplier.code)
    if not own:
        return None
    goods = sum((line.goods for line in own), Decimal(0))
    return SupplierOrder(
        supplier=supplier,
        lines=own,
        goods=goods,
        setup=sum((line.setup for line in own), Decimal(0)),
        freight=freight(supplier, goods, exponent),
        order_by=min(line.order_by for line in own),
        late=any(line.late for line in own),
    )
