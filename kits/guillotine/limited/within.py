"""Plans within limits where there are other rules too: from plans without limits, at prices for what is wanted."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from math import gcd

import numpy as np

from kits.guillotine.lay import trimmed
from kits.guillotine.limited.bound import PARTS, Descent, Relaxed
from kits.guillotine.limited.strips import Strips
from kits.guillotine.limited.surplus import without_surplus
from kits.guillotine.points import Whole
from kits.guillotine.sheet import PieceSize, SheetProblem, SheetResult
from kits.guillotine.tree import Direction, Part, count_pieces

STEPS = 20


@dataclass(frozen=True, slots=True)
class Within:
    """Plans within the limits, and the worth that none can exceed."""

    plans: tuple[Part, ...]
    bound: int


def within_limits(problem: SheetProblem, best_free: Callable[[SheetProblem], SheetResult]) -> Within:
    """Return plans within limits and all other rules of a problem, and a bound.

    best_free: how to find the best plan without limits for any worths of the pieces. Time and again the worth of
    a piece falls by a price for having it in the plan, which rises while there are too many; these plans bound
    all plans within the limits (J. E. Beasley, Oper. Res. 33 (1985) 49-64), and what is left of each without
    its surplus pieces is one.
    """
    unit = gcd(*(piece.worth for piece in problem.pieces)) or 1
    problem = replace(
        problem, pieces=tuple(replace(each, value=each.worth // unit) for each in problem.pieces)
    )
    worth = np.array([piece.worth for piece in problem.pieces], np.int64)
    limits = np.array([_limit(problem, piece) for piece in problem.pieces], np.int64)
    search = Descent(partial(_at_prices, problem, limits, best_free), worth, limits, np.zeros_like(worth))
    value = _value(problem, _within(problem, search.now.plan))
    found = [search.now, *search.steps(STEPS, value)]
    plans = [_within(problem, each.plan) for each in found]
    bound = min(each.bound for each in found) // PARTS
    if max(_value(problem, plan) for plan in plans) < bound:
        plans.extend(_in_strips(problem, search.best.prices, best_free))
    return Within(tuple(plans), bound * unit)


def _in_strips(
    problem: SheetProblem, prices: Whole, best_free: Callable[[SheetProblem], SheetResult]
) -> Iterator[Part]:
    """Yield plans strip by strip, the pieces in them at their full worth and less their prices."""
    worth = {piece.name: piece.worth for piece in problem.pieces}
    less = {
        piece.name: piece.worth * PARTS - int(price)
        for piece, price in zip(problem.pieces, prices, strict=True)
    }
    for direction in [problem.first] if problem.first else Direction:
        strips = Strips(problem, direction, worth, best_free)
        for values in (worth, less):
            yield trimmed(strips.plan(values), problem.edge_trim)


def _at_prices(
    problem: SheetProblem, limits: Whole, best_free: Callable[[SheetProblem], SheetResult], prices: Whole
) -> Relaxed[Part]:
    priced = tuple(
        replace(piece, value=piece.worth * PARTS - int(price), limit=None)
        for piece, price in zip(problem.pieces, prices, strict=True)
    )
    result = best_free(replace(problem, pieces=priced))
    counts = count_pieces(result.tree)
    counted = np.array([counts.get(piece.name, 0) for piece in problem.pieces], np.int64)
    return Relaxed(prices, result.tree, counted, result.bound + int(prices @ limits))


def _limit(problem: SheetProblem, piece: PieceSize) -> int:
    """Return the most of a piece that a sheet may or can hold."""
    room = problem.usable_width * problem.usable_height // (piece.width * piece.height)
    return room if piece.limit is None else min(piece.limit, room)


def _within(problem: SheetProblem, plan: Part) -> Part:
    return without_surplus(plan, {piece.name: piece.limit for piece in problem.pieces})


def _value(problem: SheetProblem, plan: Part) -> int:
    worth = {piece.name: piece.worth for piece in problem.pieces}
    return sum(count * worth[name] for name, count in count_pieces(plan).items())
