"""Plans within limits where there are other rules too: from plans without limits, at prices for what is wanted."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from itertools import chain

import numpy as np

from kits.guillotine.limited.bound import PARTS, Descent, Relaxed
from kits.guillotine.limited.surplus import without_surplus
from kits.guillotine.points import Whole
from kits.guillotine.sheet import Ended, PieceSize, SheetProblem, SheetResult
from kits.guillotine.tree import Part, count_pieces

STEPS = 20


def within_limits(
    problem: SheetProblem, free: SheetResult, best_free: Callable[[SheetProblem], SheetResult]
) -> SheetResult:
    """Return the best plan that is left of any when its surplus pieces are left uncut, and a bound.

    free: the best plan without limits. best_free: how to find that for other worths of the pieces. Each time
    the worth of a piece falls by a price for having it in the plan, which rises while there are too many; these
    plans bound all plans within the limits (J. E. Beasley, Oper. Res. 33 (1985) 49-64).
    """
    worth = np.array([piece.worth for piece in problem.pieces], np.int64)
    limits = np.array([_limit(problem, piece) for piece in problem.pieces], np.int64)
    search = Descent(partial(_at_prices, problem, limits, best_free), worth, limits, np.zeros_like(worth))
    best, value, bound = _within(problem, free.tree), 0, free.bound
    value = _value(problem, best)
    for found in chain([search.now], search.steps(STEPS, value)):
        kept = _within(problem, found.plan)
        if _value(problem, kept) > value:
            best, value = kept, _value(problem, kept)
        bound = max(value, min(bound, found.bound // PARTS))
    return SheetResult(best, value, bound, Ended.PROVED if value == bound else Ended.EFFORT)


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
