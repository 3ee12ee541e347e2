"""Which needs cannot be met by their day, and by when they could.

Needs do not take from each other here, so the smallest set that must go without is those that nobody can meet.
"""

from collections.abc import Iterator, Sequence
from datetime import date

from planning.buying.alone import Alone, all_in
from planning.buying.model import BuyingProblem, Unmet
from planning.buying.options import Offers, in_time


def unmet_needs(problem: BuyingProblem, found: Sequence[Alone], offers: Offers) -> Iterator[Unmet]:
    """Yield the needs that no orders can meet in full by their day, whatever they cost."""
    for one in found:
        need = one.lack.need
        coming = [order for order in problem.open_orders if order.material == need.material]
        due = sum(order.quantity for order in coming if order.due <= need.need_by)
        wanted = need.total - need.there - due
        if wanted <= 0:
            continue
        options = tuple(offers.options(need))
        held = in_time(options, need.split)
        fits = held >= wanted and (
            need.split or any(option.sells(wanted) for option in options if not option.late)
        )
        if not fits:
            yield Unmet(
                material=need.material,
                name=need.name,
                need_by=need.need_by,
                lacking=wanted - min(wanted, held),
                by=soonest(one),
            )


def soonest(one: Alone) -> date | None:
    """Return the first day on which all of a need could be in."""
    days = [all_in(one.lack, one.parts)]
    if one.again is not None:
        days.append(all_in(one.again.lack, one.again.parts))
    return None if min(days) == date.max else min(days)
