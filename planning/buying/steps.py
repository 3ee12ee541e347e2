"""The orders worth weighing for one lack, price by price, and which of them others always replace."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from itertools import product
from math import ceil, prod

from kits.catalogue import Terms
from planning.buying.options import Lack, Option
from planning.buying.orders import Part, Parts, Prices
from planning.buying.split import cheapest_split

FEW = 3_000  # ways to split a need that are all weighed


@dataclass(frozen=True, slots=True)
class Step:
    """Parts that meet a lack, of which the only one may grow by up to `lots` lots at `price` each.

    cost: of the parts, with set-up; goods: of the parts by supplier.
    """

    lack: int
    parts: Parts
    cost: Decimal
    goods: tuple[tuple[str, Decimal], ...]
    lots: int = 0
    price: Decimal = Decimal(0)

    @property
    def units(self) -> int:
        """Units of all parts."""
        return sum(part.quantity for part in self.parts)

    @property
    def first(self) -> Part:
        """The only part of a step that may grow."""
        return self.parts[0]

    @property
    def lot(self) -> int:
        """Units in a lot."""
        return self.first.option.terms.grid

    @property
    def suppliers(self) -> tuple[str, ...]:
        """Who is ordered from."""
        return tuple(supplier for supplier, _ in self.goods)

    def with_more(self, lots: int) -> Parts:
        """Return the parts, the only one so many lots larger."""
        if not lots:
            return self.parts
        return (Part(self.first.option, self.first.quantity + lots * self.lot),)


def steps(index: int, lack: Lack, lot: Part | None, prices: Prices) -> list[Step]:
    """Return what is worth weighing for one lack. lot: what is ordered of goods bought for the year."""
    if lot is not None:
        return [whole(index, (lot,), prices)]
    found = [step for option in lack.options for step in option_steps(index, lack, option, prices)]
    if not lack.need.split:
        return undominated(found, lack, prices)
    if can_be_listed(lack, prices):
        return list(every_split(index, lack, prices))
    return [*found, *split_steps(index, lack, prices)]


def can_be_listed(lack: Lack, prices: Prices) -> bool:
    """Tell whether every way to split a need can be weighed."""
    return prod(most_units(one.terms, lack, prices) // one.terms.grid + 1 for one in lack.options) <= FEW


def most_units(terms: Terms, lack: Lack, prices: Prices) -> int:
    """Return how many units of an offer may be worth ordering: for the last break, and more for free freight."""
    least = terms.at_least(max(lack.target, terms.breaks[-1].from_quantity))
    lowest = min(one.price for one in terms.breaks)
    return min(least + topping(terms, lowest - lack.worth, lowest, prices), terms.most)


def every_split(index: int, lack: Lack, prices: Prices) -> Iterator[Step]:
    """Yield every way to split a need, but for those that cost more than others with the same goods of each supplier."""
    best: dict[tuple[tuple[str, Decimal], ...], Step] = {}
    for quantities in product(*(quantities_of(one.terms, lack, prices) for one in lack.options)):
        if sum(quantities) < lack.target:
            continue
        parts = (Part(one, count) for one, count in zip(lack.options, quantities, strict=True) if count)
        step = whole(index, tuple(parts), prices)
        known = best.setdefault(step.goods, step)
        if net(step, lack) < net(known, lack):
            best[step.goods] = step
    yield from best.values()


def quantities_of(terms: Terms, lack: Lack, prices: Prices) -> list[int]:
    """Return nothing, and every quantity of an offer that may be worth ordering."""
    return [0, *range(terms.at_least(1), most_units(terms, lack, prices) + 1, terms.grid)]


def split_steps(index: int, lack: Lack, prices: Prices) -> Iterator[Step]:
    """Yield the cheapest ways to split a need: over all suppliers, and over all but one."""
    everyone = dict.fromkeys(option.terms.offer.supplier for option in lack.options)
    ways = [frozenset[str](), *(frozenset({supplier}) for supplier in everyone)]
    found = (cheapest_split(lack, prices.exponent, without, roughly=True) for without in ways)
    for parts in dict.fromkeys(one.parts for one in found if one is not None):
        if len(parts) > 1:
            yield whole(index, parts, prices)


def whole(index: int, parts: Parts, prices: Prices) -> Step:
    """Return parts as they are."""
    goods: defaultdict[str, Decimal] = defaultdict(Decimal)
    for part in parts:
        goods[part.option.terms.offer.supplier] += prices.goods(part)
    return Step(index, parts, sum((prices.part(part) for part in parts), Decimal(0)), tuple(goods.items()))


def option_steps(index: int, lack: Lack, option: Option, prices: Prices) -> Iterator[Step]:
    """Yield one option's orders that meet a lack, price by price."""
    terms = option.terms
    for number, one in enumerate(terms.breaks):
        least = terms.at_least(max(lack.target, one.from_quantity))
        ends = terms.breaks[number + 1].from_quantity - 1 if number + 1 < len(terms.breaks) else terms.most
        most = min(ends // terms.grid * terms.grid, terms.most)
        if least > most:
            continue
        more = topping(terms, one.price - lack.worth, one.price, prices)
        lots = (min(most, least + more) - least) // terms.grid
        yield replace(whole(index, (Part(option, least),), prices), lots=lots, price=one.price)


def topping(terms: Terms, net_price: Decimal, price: Decimal, prices: Prices) -> int:
    """Return how many units more than enough may pay for themselves by carrying an order to free freight."""
    supplier = prices.suppliers.get(terms.offer.supplier)
    if supplier is None or not supplier.free_freight_from or not supplier.freight or not price:
        return 0
    units = Fraction(supplier.free_freight_from) / Fraction(price)
    if net_price > 0:
        units = min(units, Fraction(supplier.freight) / Fraction(net_price))
    return ceil(units / terms.grid) * terms.grid


def undominated(found: Sequence[Step], lack: Lack, prices: Prices) -> list[Step]:
    """Leave out orders that another replaces for less, whatever freight it adds and theirs saves.

    The other adds its supplier's freight at most. What is replaced may have carried its own order to free freight, which
    is then paid; of the same supplier it loses nothing if its goods are for no less.
    """
    kept: list[Step] = []
    for one in sorted(found, key=lambda step: (net(step, lack), -step.goods[0][1])):
        if not any(replaces(other, one, lack, prices) for other in kept):
            kept.append(one)
    return sorted(kept, key=found.index)


def net(step: Step, lack: Lack) -> Decimal:
    """Return what a step costs, less the worth of what it leaves over."""
    return step.cost - lack.counted(step.units)


def replaces(other: Step, one: Step, lack: Lack, prices: Prices) -> bool:
    """Tell whether an order of one supplier is never worse than another, whatever else is ordered."""
    saved = net(one, lack) - net(other, lack)
    (supplier, goods), (others, others_goods) = one.goods[0], other.goods[0]
    own = prices.suppliers.get(supplier)
    lost = own.freight if own is not None and own.free_freight_from else Decimal(0)
    if supplier == others:
        return saved >= (Decimal(0) if others_goods >= goods and not one.lots else lost)
    return saved >= lost + prices.freight(others, Decimal(0))
