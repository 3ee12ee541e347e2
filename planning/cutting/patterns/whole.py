"""From a plan in fractions of sheets to one in whole sheets."""

from dataclasses import replace

from planning.cutting.patterns.column import Column
from planning.cutting.patterns.generate import EASE, price_of, worth_of
from planning.cutting.patterns.known import Known
from planning.cutting.patterns.programme import Floats, Needs, Solved, whole_plan

IN_REACH = 500  # patterns in one programme
BESIDE = 0.5  # of the gap, that such a plan may cost more
LOOSE = 2  # sheets of each pattern that are planned anew, and some more from round to round


def whole(known: Known, number: int, nodes: int) -> bool:
    """Look for a plan in whole sheets; return whether it is better than the best so far.

    Most of the plan in fractions is kept as it is: all but some sheets of each pattern.
    """
    solved = known.linear.solve()
    if number:
        solved = replace(solved, uses=_beside(known, solved))
    columns, uses = _in_reach(known, solved)
    kept = [max(0, int(use + EASE) - LOOSE - number % 3) for use in uses]
    used = list(zip(columns, kept, strict=True))
    left = [need - made for need, made in zip(known.demands, known.made(used), strict=True)]
    spent = [0] * len(known.prices)
    for one, count in used:
        spent[one.sheet] += count
    limits = [
        None if limit is None else limit - own for limit, own in zip(known.available, spent, strict=True)
    ]
    paid = sum(price * own for price, own in zip(known.prices, spent, strict=True))
    more = whole_plan(
        Needs([max(0, need) for need in left], known.prices, limits, known.penalties),
        columns,
        target=float(known.goal / known.dear) - paid + EASE,
        nodes=nodes,
    )
    return more is not None and known.offer([(one, a + b) for (one, a), b in zip(used, more, strict=True)])


def _beside(known: Known, solved: Solved) -> Floats:
    """Return a plan in fractions that is nearly as cheap, so that other sheets are left to plan."""
    spread = BESIDE * known.gap / solved.cost
    return known.linear.solve_beside([1 + spread * known.random.random() for _ in known.pool])


def _in_reach(known: Known, solved: Solved) -> tuple[list[Column], list[float]]:
    """Return the patterns in use, and those that cost least more than they are worth."""
    ranked = []
    for index, (one, use) in enumerate(zip(known.pool.values(), solved.uses.tolist(), strict=True)):
        excess = round(price_of(known, one, solved) - worth_of(one, solved.values), 9)
        ranked.append(((use < EASE, excess, index), one, use))
    ranked.sort(key=lambda entry: entry[0])
    return [one for _, one, _ in ranked[:IN_REACH]], [use for *_, use in ranked[:IN_REACH]]
