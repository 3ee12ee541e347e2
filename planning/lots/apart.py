"""Many materials that share freight: each planned by itself, again and again, at what freight would cost it.

A programme of hundreds of orders takes minutes; one material's takes milliseconds. First freight is left out, which also
gives a bound for all of them, and then charged in full; then it costs nothing in the months in which a supplier sends
anyway. Last, one order after the other is tried without. Effort is counted in programmes, never timed.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from planning.lots.costs import Pick, as_decimal, cost_of, freights
from planning.lots.exact import exact_picks, freight_of, is_plain
from planning.lots.model import LotOffer, LotsProblem
from planning.lots.net import Net
from planning.lots.programme import searched

ROUNDS = 4
EFFORT = 600  # programmes of one material

Freight = Callable[[int, LotOffer], Fraction]  # what freight costs an offer in a period
Picks = dict[str, list[Pick]]  # by material


def found_apart(group: Sequence[Net], problem: LotsProblem) -> tuple[list[Pick], Fraction]:
    """Return the orders found for materials that share freight, and what no orders of them cost less than."""

    def full(period: int, offer: LotOffer) -> Fraction:
        return freight_of(offer, problem.suppliers)

    free, bounds = planned(group, problem, lambda period, offer: Fraction(0))
    best = min(free, planned(group, problem, full)[0], key=lambda picks: total(picks, group, problem))
    for _ in range(ROUNDS):
        again, _ = planned(group, problem, unless_sent(best, full))
        if total(again, group, problem) >= total(best, group, problem):
            break
        best = again
    best = with_fewer_orders(best, group, problem, full)
    return [pick for own in best.values() for pick in own], sum(bounds, Fraction(0))


def total(picks: Picks, group: Sequence[Net], problem: LotsProblem) -> Fraction:
    """Return what orders cost, freight included."""
    return cost_of([pick for own in picks.values() for pick in own], group, problem.suppliers)


def unless_sent(picks: Picks, full: Freight) -> Freight:
    """Return freight that costs nothing where a supplier sends something anyway."""
    sent = {(pick.period, pick.offer.supplier) for own in picks.values() for pick in own}

    def freight(period: int, offer: LotOffer) -> Fraction:
        return Fraction(0) if (period, offer.supplier) in sent else full(period, offer)

    return freight


def planned(group: Sequence[Net], problem: LotsProblem, freight: Freight) -> tuple[Picks, list[Fraction]]:
    """Plan each material by itself; return its orders, and what none of its own cost less than."""
    found = [(one.material.code, alone(one, problem, freight)) for one in group]
    return {code: picks for code, (picks, _) in found}, [bound for _, (_, bound) in found]


def alone(one: Net, problem: LotsProblem, freight: Freight) -> tuple[list[Pick], Fraction]:
    """Plan one material as if freight were part of each offer's charge."""
    offers = tuple(with_freight(offer, len(one.orders), freight) for offer in one.offers)
    own = replace(one, offers=offers)
    if is_plain(own, ()):
        picks = exact_picks(own, ())
        bound = cost_of(picks, (own,), ())
    else:
        picks, bound = searched(
            (own,), replace(problem, materials=(one.material,), offers=offers, suppliers=())
        )
    by_code = {offer.code: offer for offer in one.offers}
    return [replace(pick, offer=by_code[pick.offer.code]) for pick in picks], bound


def with_freight(offer: LotOffer, periods: int, freight: Freight) -> LotOffer:
    """Return an offer whose charge holds its freight."""
    charges = (as_decimal(offer.setup_in(at) + freight(at, offer)) for at in range(periods))
    return replace(offer, setups=tuple(charges))


def with_fewer_orders(best: Picks, group: Sequence[Net], problem: LotsProblem, full: Freight) -> Picks:
    """Return orders of which none can be left out for less, as far as the effort goes; small orders are tried first."""
    effort = EFFORT
    for period, supplier in smallest_first(best, problem):
        users = [one for one in group if any(offer.supplier == supplier for offer in one.offers)]
        effort -= len(users)
        if effort < 0:
            break
        others = {
            code: [pick for pick in own if (pick.period, pick.offer.supplier) != (period, supplier)]
            for code, own in best.items()
        }
        again = best | planned(users, problem, unless_sent(others, full))[0]
        if total(again, group, problem) < total(best, group, problem):
            best = again
    return best


def smallest_first(picks: Picks, problem: LotsProblem) -> Iterator[tuple[int, str]]:
    """Yield the orders that pay freight, by period and supplier, those worth least first."""
    whole = [pick for own in picks.values() for pick in own]
    worth: dict[tuple[int, str], Fraction] = {}
    for pick in whole:
        key = pick.period, pick.offer.supplier
        worth[key] = worth.get(key, Fraction(0)) + pick.cost
    paid = {key for key, freight in freights(whole, problem.suppliers).items() if freight}
    yield from sorted(paid, key=lambda key: (worth[key], key))
