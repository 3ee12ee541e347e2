"""What sheets cost that are still to be bought: the real order for the quantity, not a price each."""

from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple

from kits.catalogue import Terms


class Outlay(NamedTuple):
    """What using more sheets leads to, worst first: sheets nobody sells, sheets that come late, money."""

    short: bool
    late: bool
    cost: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """Where the sheets of one material come from.

    whole: sheets that go uncut into boxes. in_time: on the shelf, or on order and due by the day cutting begins; coming:
    on order for later. terms: the offers that come in time, or where none does, is_late, those that come soonest.
    value_each: of a sheet that is there or on order. exponent: decimals of the money.
    """

    material: str
    whole: int = 0
    in_time: int = 0
    coming: int = 0
    terms: tuple[Terms, ...] = ()
    is_late: bool = False
    value_each: Decimal = Decimal(0)
    exponent: int = 2

    def outlay(self, before: int, sheets: int) -> Outlay:
        """Return what cutting so many sheets leads to, when earlier jobs cut `before` of them already.

        Sheets on the shelf or on order cost what they are worth: another month would cut them. Freight is left out: which
        goods share it is not yet known.
        """
        short, late, cost = self.order(before + sheets)
        there = max(0, self.in_time + self.coming - self.whole)
        taken = min(before + sheets, there) - min(before, there)
        return Outlay(short, late, cost - self.order(before).cost + taken * self.value_each)

    def order(self, cut: int) -> Outlay:
        """Return what must be ordered for all that is cut: the cheapest order, more than is needed where that is cheaper."""
        wanted = self.whole + cut
        net = max(0, wanted - self.in_time - self.coming)
        waits = self.coming > 0 and wanted > self.in_time
        if net == 0:
            return Outlay(short=False, late=waits, cost=Decimal(0))
        costs = [
            terms.goods(quantity, self.exponent) + terms.offer.setup_charge
            for terms in self.terms
            for quantity in terms.worth_weighing(net)
        ]
        return Outlay(short=not costs, late=waits or self.is_late, cost=min(costs, default=Decimal(0)))
