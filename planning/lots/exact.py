"""One material that is sold plainly, planned exactly: at one price, in packs of one size, with freight of its own."""

from collections.abc import Sequence
from fractions import Fraction

from planning.lots.costs import Pick
from planning.lots.model import LotOffer, LotSupplier
from planning.lots.net import Net
from planning.lots.wagner_whitin import Way, cheapest_lots


def is_plain(one: Net, suppliers: Sequence[LotSupplier]) -> bool:
    """Tell whether an order of a material costs so much a unit and a charge, whatever its size."""
    free = {
        supplier.code for supplier in suppliers if supplier.freight and supplier.free_freight_from is not None
    }
    paid = [offer.supplier for offer in one.offers if freight_of(offer, suppliers)]
    return (
        len({offer.pack for offer in one.offers}) <= 1
        and len(set(paid)) == len(paid)
        and all(
            len(offer.prices) == 1
            and offer.most is None
            and offer.at_least(1) == offer.pack
            and offer.supplier not in free
            for offer in one.offers
        )
    )


def freight_of(offer: LotOffer, suppliers: Sequence[LotSupplier]) -> Fraction:
    """Return what the offer's supplier asks for an order."""
    return next((Fraction(one.freight) for one in suppliers if one.code == offer.supplier), Fraction(0))


def exact_picks(one: Net, suppliers: Sequence[LotSupplier]) -> list[Pick]:
    """Return the orders of least cost of a plain material, counted in whole packs."""
    if not any(one.orders):
        return []
    pack = one.offers[0].pack
    offers = {offer.code: offer for offer in one.offers}
    lots = cheapest_lots(
        in_packs(one.orders, pack),
        [ways(one, period, suppliers) for period in range(len(one.orders))],
        [one.material.storage_in(period) * pack for period in range(len(one.orders))],
    )
    return [Pick(lot.period, offers[lot.way.name], lot.quantity * pack) for lot in lots]


def ways(one: Net, period: int, suppliers: Sequence[LotSupplier]) -> list[Way]:
    """Return the ways to order packs of a material in a period."""
    return [
        Way(
            offer.setup_in(period) + freight_of(offer, suppliers),
            Fraction(offer.prices[0].price) * offer.pack,
            offer.code,
        )
        for offer in one.offers
        if offer.first <= period
    ]


def in_packs(orders: Sequence[int], pack: int) -> list[int]:
    """Return how many more packs must be there in each period: what is left of one meets needs of later ones."""
    packs: list[int] = []
    needed = had = 0
    for units in orders:
        needed += units
        packs.append(-(-needed // pack) - had)
        had += packs[-1]
    return packs
