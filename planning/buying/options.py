"""What lacks of each need, which offers may answer it, and by when."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_FLOOR, Decimal
from functools import cached_property

from kits.catalogue import OpenOrder, Terms
from planning.buying.model import BuyingProblem, Need

FINEST = Decimal("0.000001")  # of a worth each, as of a price each


@dataclass(frozen=True, slots=True)
class Option:
    """An offer that may meet a need. arrives: ordered by the last day, or on the day of the plan where that is past."""

    terms: Terms
    order_by: date
    arrives: date
    late: bool

    @property
    def rank(self) -> date:
        """What comes in time is equally good, what is late is worse by its day."""
        return self.arrives if self.late else date.min

    def sells(self, quantity: int) -> bool:
        """Tell whether one order can be of so many or more."""
        return self.terms.at_least(quantity) <= self.terms.most


@dataclass(frozen=True, slots=True)
class Lack:
    """What must be ordered of one need.

    coming: open orders counted on. net: units wanted. target: units to be had of the options, less than net where nobody
    has more. options: the offers weighed. by: the day by which net could all be in; None where never. worth: of one unit
    more than net.
    """

    need: Need
    coming: tuple[OpenOrder, ...]
    net: int
    target: int = 0
    options: tuple[Option, ...] = ()
    by: date | None = None
    worth: Decimal = Decimal(0)

    def counted(self, quantity: int) -> Decimal:
        """Return what units more than are wanted are worth."""
        return self.worth * max(0, quantity - self.net)


class Offers:
    """The offers of a problem, by material, with the days they run to."""

    def __init__(self, problem: BuyingProblem) -> None:
        self.problem = problem
        self.days: dict[tuple[date, int], tuple[date, date]] = {}
        self.of: defaultdict[str, list[Terms]] = defaultdict(list)
        for terms in problem.terms:
            self.of[terms.offer.material].append(terms)

    @cached_property
    def first_day(self) -> date:
        """The first day on which something can be ordered."""
        return self.problem.calendar.on_or_after(self.problem.planned_on)

    def lack(self, need: Need, coming: tuple[OpenOrder, ...]) -> Lack:
        """Return what shelf and open orders leave to be ordered, and from whom it can be had soonest.

        Offers that come in time are weighed; where they do not do, all that come by the first day on which everything
        could be in; and those the buyer wants weighed even if late.
        """
        net = max(0, need.wanted - need.there - sum(order.quantity for order in coming))
        if net == 0:
            return Lack(need, coming, 0)
        options = sorted(self.options(need), key=lambda one: one.rank)
        by, target = reach(net, options, need.split)
        late_as = by or date.max
        kept = (one for one in options if one.rank <= late_as or one.terms.offer.even_late)
        if not need.split:
            kept = (one for one in kept if one.sells(target))
        day = None if by is None else need.need_by if by == date.min else by
        worth = self.worth(need) if target >= net else Decimal(0)
        return Lack(need, coming, net, target, tuple(kept), day, worth)

    def options(self, need: Need) -> Iterator[Option]:
        """Yield the offers of a need's material that can still be ordered, in their own order."""
        for terms in self.of[need.material]:
            last = terms.offer.order_until
            if not (last is not None and last < self.first_day) and terms.at_least(1) <= terms.most:
                yield self.option(need, terms)

    def option(self, need: Need, terms: Terms) -> Option:
        """Return an offer with its days for a need."""
        offer, calendar = terms.offer, self.problem.calendar
        order_by = self.dated(need.need_by, offer.lead_days)[0]
        late = order_by < self.problem.planned_on
        if offer.order_until is not None and offer.order_until < order_by:
            order_by = calendar.on_or_before(offer.order_until)
            arrives = calendar.after(max(order_by, self.first_day), offer.lead_days)
            return Option(terms, order_by, arrives, late)
        return Option(terms, *self.dated(need.need_by, offer.lead_days), late)

    def dated(self, need_by: date, lead_days: int) -> tuple[date, date]:
        """Return the order-by day of a lead time and the day the goods then arrive."""
        if (need_by, lead_days) not in self.days:
            calendar = self.problem.calendar
            order_by = calendar.before(need_by, lead_days)
            begins = calendar.on_or_after(max(order_by, self.problem.planned_on))
            self.days[need_by, lead_days] = order_by, calendar.after(begins, lead_days)
        return self.days[need_by, lead_days]

    def worth(self, need: Need) -> Decimal:
        """Return what one unit left over is worth, less what the money in it costs while it lies.

        Of the lowest price it is offered at; goods bought for the year are weighed by their year instead.
        """
        asked = self.problem
        if not need.keeps or need.used_a_year or not asked.leftover_percent:
            return Decimal(0)
        lowest = min(one.price for terms in self.of[need.material] for one in terms.breaks)
        lies = 1 - asked.holding_percent / 100 * asked.leftover_months / 12
        worth = lowest * asked.leftover_percent / 100 * max(lies, Decimal(0))
        return worth.quantize(FINEST, ROUND_FLOOR)


def reach(net: int, options: Sequence[Option], split: bool) -> tuple[date | None, int]:
    """Return the rank by which options, soonest first, hold so many units, and how many of them are to be had.

    None where they never do; then as many as there are.
    """
    if not split:
        rank = next((one.rank for one in options if one.sells(net)), None)
        most = max((one.terms.most for one in options), default=0)
        return rank, net if rank is not None else most
    held = 0
    for one in options:
        held += one.terms.most
        if held >= net:
            return one.rank, net
    return None, held


def in_time(options: Iterable[Option], split: bool) -> int:
    """Return how many units can be in by the day they are needed."""
    most = [one.terms.most for one in options if not one.late]
    return sum(most) if split else max(most, default=0)
