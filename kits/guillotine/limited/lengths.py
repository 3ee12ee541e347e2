"""Where cuts are worth making where only so many of a piece are wanted.

A part may be taken to be as long as a row of pieces within their limits. Of these lengths only those are kept
that cuts worth making leave, from the whole side down: few, as what is left beside a row is rounded down again.
"""

from collections.abc import Sequence
from heapq import heappop, heappush
from typing import TypeAlias

import numpy as np

from kits.guillotine.points import Side, Whole, floor, splits_of, with_cuts

MOST_BITS = 2**18
MOST_TOTALS = 2**13

Splits: TypeAlias = tuple[Whole, Whole]


def limited_side(sizes: Sequence[tuple[tuple[int, ...], int]], limit: int) -> Side | None:
    """Return the points of a side; None where there are too many.

    sizes: for each piece the lengths it may have along this side, and how many are wanted.
    """
    if limit > MOST_BITS:
        return None
    totals = limited_totals(sizes, limit)
    if len(totals) > MOST_TOTALS:
        return None
    # Two rows within their limits may be longer together than any one row, so the side counts as it is.
    splits = _reached(totals if totals[-1] == limit else np.append(totals, limit))
    lengths = np.array(sorted(splits))
    in_order = [splits[length] for length in lengths.tolist()]
    places = [(np.searchsorted(lengths, one), np.searchsorted(lengths, other)) for one, other in in_order]
    return with_cuts(lengths, places, min(min(each) for each, _ in sizes))


def limited_totals(sizes: Sequence[tuple[tuple[int, ...], int]], limit: int) -> Whole:
    """Return every total up to the limit in which no piece is used more often than it is wanted."""
    reached = 1  # bit n: the length n is such a total
    within = (1 << limit + 1) - 1
    for lengths, wanted in sizes:
        for _ in range(wanted):
            before = reached
            for length in lengths:
                reached |= before << length & within
            if reached == before:
                break
    bits = np.frombuffer(reached.to_bytes(limit // 8 + 1, "little"), np.uint8)
    return np.flatnonzero(np.unpackbits(bits, bitorder="little"))


def _reached(totals: Whole) -> dict[int, Splits]:
    """Return the two lengths that each useful cut leaves, for the whole side and every length so left."""
    splits: dict[int, Splits] = {}
    waiting = [-int(totals[-1])]
    seen = {0, int(totals[-1])}
    while waiting:
        length = -heappop(waiting)
        one, other = splits_of(totals, length)
        splits[length] = totals[one], totals[other]
        for part in np.concatenate(splits[length]).tolist():
            if part not in seen:
                seen.add(part)
                heappush(waiting, -part)
    splits[0] = np.zeros(0, np.int64), np.zeros(0, np.int64)
    return splits


def floors(lengths: Whole, limit: int) -> Whole:
    """Return for every whole length up to the limit the index of the longest one that fits it."""
    return floor(lengths, np.arange(limit + 1))
