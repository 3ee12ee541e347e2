"""Where cuts are worth making: the discretisation points of one side of a sheet.

A part may be taken to be as long as the longest row of pieces that fits it (a normal point), and what it
leaves of the sheet likewise, so that few lengths remain (raster points). After P. C. Gilmore and
R. E. Gomory, Oper. Res. 13 (1965); the raster points after J. Terno and G. Scheithauer, from memory.
"""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Whole: TypeAlias = NDArray[np.int64]

LONGEST_SIDE = 2**26  # in units: the totals are found as bits of one number
MOST_SUMS = 2**18  # more than that leave far more points than any table can hold


@dataclass(frozen=True, slots=True, eq=False)
class Sums:
    """Of which sums of two rows some rows of a table are the best.

    rows: the rows, none of which is in a sum of another. first, second: the two rows of each sum.
    heads: where in these the sums for each row begin.
    """

    rows: Whole
    heads: Whole
    first: Whole
    second: Whole


@dataclass(frozen=True, slots=True, eq=False)
class Side:
    """One side of the sheet.

    lengths: the lengths a part may have along this side, rising from 0 to the longest.
    splits: for each of them the two parts that one cut may leave, as two arrays of indices into `lengths`;
    the first part is never the longer one.
    shortest: parts that differ in length by less than this cannot be cut from each other.
    bands: the indices of the lengths in bands so narrow that no part is cut from another of its band.
    cuts: the splits once more, band by band, to work them out at once.
    narrow: how many of the lengths after 0 are too narrow to be cut, so that only a piece just as long has
    that length. waste: how long an offcut of theirs must be. For both see `kits.guillotine.held`.
    """

    lengths: Whole
    splits: tuple[tuple[Whole, Whole], ...]
    shortest: int
    bands: tuple[range, ...]
    cuts: tuple[Sums, ...]
    narrow: int = 0
    waste: int = 0

    @property
    def pairs(self) -> int:
        """How many splits there are in all."""
        return sum(len(first) for first, _ in self.splits)


def points(sizes: tuple[int, ...], limit: int, step: int = 1) -> Whole | None:
    """Return the raster points of a side `limit` long, rising from 0; None where they are too many to list.

    With a step above 1 each size is first rounded up to a whole number of steps: fewer points, and every plan
    that uses them can still be cut, but better plans may be missed.
    """
    sums = totals({-(-size // step) for size in sizes}, limit // step)
    if sums is None:
        return None
    rests = sums[floor(sums, limit // step - sums)][::-1]
    lengths: Whole = rests[np.append(True, rests[1:] != rests[:-1])] * step
    if step == 1:
        return lengths
    whole: Whole = np.append(lengths[lengths < limit], limit)  # so that no row of one size is missed
    return whole


@lru_cache(maxsize=32)  # one sheet is planned many times with other values for its pieces
def side(sizes: tuple[int, ...], limit: int, step: int = 1) -> Side:
    """Return the points of a side and the cuts between them."""
    lengths = points(sizes, limit, step)
    if lengths is None:
        raise ValueError("take a larger step: this side has too many points")
    return with_cuts(lengths, [splits_of(lengths, length) for length in lengths], min(sizes))


def with_cuts(
    lengths: Whole, splits: Sequence[tuple[Whole, Whole]], shortest: int, narrow: int = 0, waste: int = 0
) -> Side:
    """Return a side with these lengths and splits."""
    bands = tuple(range(*ends) for ends in pairwise(_bands(lengths, shortest)))
    cuts = tuple(_sums_of(band, splits) for band in bands)
    return Side(lengths, tuple(splits), shortest, bands, cuts, narrow, waste)


def _bands(lengths: Whole, shortest: int) -> Iterator[int]:
    index, count = 0, len(lengths)
    while index < count:
        yield index
        index = int(np.searchsorted(lengths, lengths[index] + shortest))
    yield count


def _sums_of(band: range, splits: Sequence[tuple[Whole, Whole]]) -> Sums:
    rows = [row for row in band if len(splits[row][0])]
    counts = [len(splits[row][0]) for row in rows]
    none = np.zeros(0, np.int64)
    first = np.concatenate([none, *(splits[row][0] for row in rows)])
    second = np.concatenate([none, *(splits[row][1] for row in rows)])
    heads = np.cumsum([0, *counts], dtype=np.int64)[:-1]
    return Sums(np.array(rows, np.int64), heads, first, second)


def totals(sizes: Collection[int], limit: int) -> Whole | None:
    """Return every total up to the limit, sizes used any number of times; None if there are too many."""
    reached = 1  # bit n: the length n is such a total
    within = (1 << limit + 1) - 1
    for size in sorted(sizes):
        shift = size
        while shift <= limit:
            reached |= reached << shift & within
            shift *= 2
    if reached.bit_count() > MOST_SUMS:
        return None
    bits = np.frombuffer(reached.to_bytes(limit // 8 + 1, "little"), np.uint8)
    return np.flatnonzero(np.unpackbits(bits, bitorder="little"))


def floor(lengths: Whole, wanted: Whole) -> Whole:
    """Return the index of the longest of the lengths that fits each wanted one."""
    return np.searchsorted(lengths, wanted, side="right") - 1


def splits_of(lengths: Whole, length: int) -> tuple[Whole, Whole]:
    """Return the two parts that one cut may leave of one so long, as indices; the first never the longer."""
    first = np.arange(1, np.searchsorted(lengths, length // 2, side="right"))
    second = floor(lengths, length - lengths[first])
    # Of several first parts that leave the same second one, the longest can hold what the others hold.
    useful = np.append(second[1:] != second[:-1], True)[: len(first)]
    return first[useful], second[useful]
