"""The rule of the lots step: when to order how much over the periods, at least cost in all.

Cost is goods, set-up charges, freight of each supplier's order, and storage of what is left at the end of each period. A
material that shares nothing with others and is sold plainly is planned exactly by `wagner_whitin.py`; materials that share
a supplier's freight or the stock room, or are sold with price breaks and minimums, together by `programme.py`; many that
share freight one by one, by `apart.py`.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from decimal import ROUND_FLOOR, Decimal
from fractions import Fraction

from kits.measures import format_amount
from planning.lots.costs import Pick, as_decimal, cost_of, freights, left_of, storage_of
from planning.lots.exact import exact_picks, freight_of, is_plain
from planning.lots.explain import line_of
from planning.lots.model import (
    LotOrder,
    LotsError,
    LotsProblem,
    LotsResult,
    LotStock,
)
from planning.lots.net import Net, net

PROVED = "proved: no plan costs less"
CENT = Decimal("0.01")
LARGE = 400  # orders to decide on, up to which a programme of all takes a second or two


def plan_lots(problem: LotsProblem) -> LotsResult:
    """Plan the orders of all periods. Raises LotsError where suppliers or room do not suffice."""
    nets = net(problem)
    for one in nets:
        refuse_too_little(one, problem)
    picks: list[Pick] = []
    bound = Fraction(0)
    for group in groups(nets, problem):
        found, least = lots_of(group, problem)
        picks += found
        bound += least
    return result(picks, nets, bound, problem)


def refuse_too_little(one: Net, problem: LotsProblem) -> None:
    """Raise LotsError where all suppliers together cannot send by some period what is needed by then."""
    if any(offer.most is None for offer in one.offers):
        return
    needed = could = 0
    for period, units in enumerate(one.orders):
        needed += units
        could += sum(most_of(offer.most or 0, offer.pack) for offer in one.offers if offer.first <= period)
        if one.offers and needed > could:
            raise LotsError(
                f"{one.material.name}: {needed - could:,} more are needed by {problem.periods[period]} than the suppliers "
                "can send by then. Name another offer, or let one send more."
            )


def most_of(most: int, pack: int) -> int:
    """Return the most units in whole packs."""
    return most - most % pack


# --- What must be planned together ---


def groups(nets: Sequence[Net], problem: LotsProblem) -> Iterator[tuple[Net, ...]]:
    """Yield the materials that must be planned together: all where they share a room, else those that share freight."""
    if problem.room is not None:
        yield tuple(nets)
        return
    left = list(nets)
    while left:
        together = [left.pop(0)]
        while more := [one for one in left if charged(together, problem) & charged([one], problem)]:
            left = [one for one in left if one not in more]
            together += more
        yield tuple(together)


def charged(nets: Sequence[Net], problem: LotsProblem) -> set[str]:
    """Return the suppliers who charge freight for materials that are to be ordered."""
    wanted = [offer for one in nets if any(one.orders) for offer in one.offers]
    return {offer.supplier for offer in wanted if freight_of(offer, problem.suppliers)}


def lots_of(group: tuple[Net, ...], problem: LotsProblem) -> tuple[list[Pick], Fraction]:
    """Return the orders of materials that belong together, and what no orders of them cost less than."""
    if problem.room is None and len(group) == 1 and is_plain(group[0], problem.suppliers):
        picks = exact_picks(group[0], problem.suppliers)
        return picks, cost_of(picks, group, problem.suppliers)
    # HiGHS takes a fifth of a second to import, and many questions do without.
    from planning.lots.apart import found_apart
    from planning.lots.programme import searched

    is_large = len(group) > 1 and orders_possible(group) > LARGE and problem.room is None
    picks, bound = found_apart(group, problem) if is_large else searched(group, problem)
    simple = list(each_period(group))
    if is_limited(group, problem) or cost_of(simple, group, problem.suppliers) >= cost_of(
        picks, group, problem.suppliers
    ):
        return picks, bound
    return simple, bound


def orders_possible(group: Sequence[Net]) -> int:
    """Return how many orders there are to decide on: each material's prices in every period."""
    return sum(len(offer.prices) * len(one.orders) for one in group for offer in one.offers)


def is_limited(group: Sequence[Net], problem: LotsProblem) -> bool:
    """Tell whether room or suppliers limit how much can be ordered when."""
    return problem.room is not None or any(offer.most is not None for one in group for offer in one.offers)


# --- The answer ---


def result(picks: Sequence[Pick], nets: Sequence[Net], bound: Fraction, problem: LotsProblem) -> LotsResult:
    """Gather the orders and say what is proved of them."""
    total = as_decimal(cost_of(picks, nets, problem.suppliers))
    least = min(total, as_decimal(bound).quantize(CENT, ROUND_FLOOR)) if total > as_decimal(bound) else total
    gap = total - least
    return LotsResult(
        periods=problem.periods,
        orders=tuple(orders_of(picks, nets, problem)),
        stock=tuple(
            LotStock(
                material=one.material.code,
                name=one.material.name,
                needed=one.material.needed,
                left=left_of(one, picks),
                storage=as_decimal(storage_of(one, picks)),
            )
            for one in nets
        ),
        late=tuple(late for one in nets for late in one.late),
        total=total,
        bound=least,
        each_period=as_decimal(cost_of(each_period(nets), nets, problem.suppliers)),
        ended=f"stopped at the effort limit: at most {format_amount(gap)} above the least there can be"
        if gap
        else PROVED,
    )


def orders_of(picks: Sequence[Pick], nets: Sequence[Net], problem: LotsProblem) -> Iterator[LotOrder]:
    """Yield one order for each period and supplier, in that order."""
    paid = freights(picks, problem.suppliers)
    by_code = {one.material.code: one for one in nets}
    lines: defaultdict[tuple[int, str], list[Pick]] = defaultdict(list)
    for pick in picks:
        lines[pick.period, pick.offer.supplier].append(pick)
    for key in sorted(lines):
        ordered = sorted(
            lines[key], key=lambda pick: (list(by_code).index(pick.offer.material), pick.offer.code)
        )
        yield LotOrder(
            period=key[0],
            supplier=key[1],
            name=next((one.name for one in problem.suppliers if one.code == key[1]), key[1]),
            lines=tuple(
                line_of(pick, by_code[pick.offer.material], picks, problem.periods) for pick in ordered
            ),
            freight=paid[key],
        )


def each_period(nets: Sequence[Net]) -> Iterator[Pick]:
    """Yield what a buyer orders who buys in each period what it needs, by the offer that is cheapest for it."""
    for one in nets:
        had = 0
        for period, units in enumerate(one.orders):
            offers = [offer for offer in one.offers if offer.first <= period]
            if units > had and offers:
                least = (Pick(period, offer, offer.at_least(units - had)) for offer in offers)
                pick = min(least, key=lambda pick: (pick.cost, pick.quantity))
                yield pick
                had += pick.quantity
            had -= units
