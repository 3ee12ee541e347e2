"""What orders cost over the periods, exactly: goods, charges, freight, and keeping what is left."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from planning.lots.model import LotOffer, LotSupplier
from planning.lots.net import Net


@dataclass(frozen=True, slots=True)
class Pick:
    """So many units by an offer, in a period."""

    period: int
    offer: LotOffer
    quantity: int

    @property
    def cost(self) -> Fraction:
        """Goods and set-up charge."""
        return Fraction(self.offer.goods(self.quantity)) + self.offer.setup_in(self.period)


def cost_of(picks: Iterable[Pick], nets: Iterable[Net], suppliers: Sequence[LotSupplier]) -> Fraction:
    """Return what orders for some materials cost in all."""
    picks = tuple(picks)
    kept = sum((storage_of(one, picks) for one in nets), Fraction(0))
    freight = sum(map(Fraction, freights(picks, suppliers).values()), Fraction(0))
    return sum((pick.cost for pick in picks), kept + freight)


def left_of(one: Net, picks: Iterable[Pick]) -> tuple[int, ...]:
    """Return what is left of a material at the end of each period."""
    ordered = Counter[int]()
    for pick in picks:
        if pick.offer.material == one.material.code:
            ordered[pick.period] += pick.quantity
    return one.left(ordered[period] for period in range(len(one.orders)))


def storage_of(one: Net, picks: Iterable[Pick]) -> Fraction:
    """Return what keeping a material costs over all periods."""
    left = enumerate(left_of(one, picks))
    return sum((units * one.material.storage_in(period) for period, units in left), Fraction(0))


def freights(picks: Iterable[Pick], suppliers: Sequence[LotSupplier]) -> dict[tuple[int, str], Decimal]:
    """Return the freight of each order, by period and supplier."""
    goods: defaultdict[tuple[int, str], Fraction] = defaultdict(Fraction)
    for pick in picks:
        goods[pick.period, pick.offer.supplier] += Fraction(pick.offer.goods(pick.quantity))
    terms = {one.code: one for one in suppliers}
    return {key: freight_on(amount, terms.get(key[1])) for key, amount in goods.items()}


def freight_on(goods: Fraction, supplier: LotSupplier | None) -> Decimal:
    """Return the freight of an order with goods of some worth."""
    if supplier is None:
        return Decimal(0)
    free = supplier.free_freight_from is not None and goods >= supplier.free_freight_from
    return Decimal(0) if free else supplier.freight


def as_decimal(amount: Fraction) -> Decimal:
    """Return an amount made of decimals as a decimal."""
    return Decimal(amount.numerator) / Decimal(amount.denominator)
