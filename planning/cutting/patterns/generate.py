"""Find patterns: each where it saves at the current values, then others that are nearly as good."""

from collections.abc import Sequence

from planning.cutting.patterns.column import Column
from planning.cutting.patterns.known import Known
from planning.cutting.patterns.programme import Solved

EASE = 1e-7  # of the price of the dearest sheet: less is rounding
AT_ONCE = 15  # patterns taken from one table
KEPT = 0.02  # of the dearest sheet: patterns that fall short by less are kept on the way
NEAR = 150  # patterns read out of one table whose worth is near the best
SETTLED = 0.1  # of the way from the bound to the same rounded up: how near it the plan in fractions must be
REACH = 0.5  # of the gap, within which patterns are drawn by lot
DUST = 100  # in whole numbers of worth: no difference
VARIED = 8  # sets of values tried at a time


def worth_of(one: Column, values: Sequence[float]) -> float:
    """Return what the pieces of a pattern are worth."""
    return sum(value * count for value, count in zip(values, one.counts, strict=True) if count)


def price_of(known: Known, one: Column, solved: Solved) -> float:
    """Return what the sheet of a pattern costs, and what it is worth besides that there are few of them."""
    return known.prices[one.sheet] + solved.premiums[one.sheet]


def generate(known: Known) -> None:
    """Add patterns until none saves anything, or little of what lies between the bound and the same rounded up.

    Where the effort does not suffice, some are missing; the bound is then that of the values reached.
    """
    small = any(pricing.has_small for pricing in known.pricings)
    solved = known.linear.solve()
    while known.sums > 0:
        saving = look(known, solved.values, solved, small=small)
        solved = known.linear.solve()
        if not small and (not saving or _is_settled(known, solved)):
            break
        small = small and saving > 0
    if not known.at_bound:
        _bound_once(known, solved)


def _bound_once(known: Known, solved: Solved) -> None:
    whole = known.in_whole_numbers(solved.values)
    known.raise_bound(
        whole,
        [
            pricing.price(whole).bound if pricing.full.is_exact or pricing.is_ruled else pricing.bound(whole)
            for pricing in known.pricings
        ],
    )


def _is_settled(known: Known, solved: Solved) -> bool:
    if known.penalties:
        return False
    bound, target = float(known.priced_bound / known.dear), float(known.target / known.dear)
    return solved.cost <= bound + SETTLED * (target - bound) + EASE


def look(
    known: Known, values: Sequence[float], solved: Solved, *, small: bool = False, keep: float = KEPT
) -> int:
    """Add the patterns worth most at these values; return how many of the new ones save.

    small: take the smaller tables. keep: add patterns that cost less than that more than they are worth.
    """
    whole = known.in_whole_numbers(values)
    priced = [pricing.price(whole, small=small, most=AT_ONCE) for pricing in known.pricings]
    known.sums -= sum(pricing.work(small=small) for pricing in known.pricings)
    known.raise_bound(whole, [found.bound for found in priced])
    saving = 0
    for one in (one for found in priced for one in found.columns):
        saves = worth_of(one, solved.values) - price_of(known, one, solved)
        if saves > -keep and known.add([one]) and saves > EASE:
            saving += 1
    return saving


def vary(known: Known, number: int) -> None:
    """Add the patterns worth most at values near the right ones, the further away the higher the number."""
    solved = known.linear.solve()
    spread, bonus = 0.02 * (number + 1), 0.01 * (number + 1)
    area = max(pricing.sheet.width * pricing.sheet.height for pricing in known.pricings)
    small = any(pricing.has_small for pricing in known.pricings)
    for _ in range(VARIED if known.sums > 0 else 1):
        by_chance = known.random.random
        values = [
            value * (1 + spread * (2 * by_chance() - 1)) + bonus * by_chance() * piece / area
            for value, piece in zip(solved.values, known.areas, strict=True)
        ]
        look(known, values, solved, small=small, keep=max(KEPT, known.gap))


def list_near(known: Known) -> None:
    """Add patterns whose worth is near their price; nearer where there are too many to list, then further away.

    The shortfalls of all sheets of a plan add up to no more than what it costs above the bound: a plan that
    is good enough has no patterns that fall short by more.
    """
    if not known.at_bound:
        return
    whole, scale = at_bound(known)
    for pricing in known.pricings:
        slack, reach = (
            int(known.gap * share * scale) + DUST for share in (known.shares[pricing.number], REACH)
        )
        near = pricing.near(whole, slack, NEAR)
        if near:
            known.add(pricing.listed(near))
            is_all = near.left >= 0
            if not is_all:
                known.add(pricing.drawn(near, max(slack, reach), NEAR, known.random))
            share = known.shares[pricing.number] * (3 if is_all else 0.1)
            known.shares[pricing.number] = min(1.0, share)


def at_bound(known: Known) -> tuple[list[int], float]:
    """Return the values that prove the bound in whole numbers, and by what they are multiplied."""
    whole = known.in_whole_numbers(known.at_bound)
    return whole, sum(whole) / sum(known.at_bound)
