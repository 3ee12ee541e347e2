"""Where something can be seen under what lies on it."""

from collections.abc import Sequence
from itertools import pairwise

from kits.recipe.check.faults import Box


def largest_visible(box: Box, above: Sequence[Box]) -> Box | None:
    """Return the largest rectangle of a box that nothing above covers; None where all of it is covered.

    It can be chosen so that each of its edges is an edge of the box or of something above it.
    """
    across = sorted(
        {box.x, box.right, *(x for each in above for x in (each.x, each.right) if box.x < x < box.right)}
    )
    down = sorted(
        {box.y, box.bottom, *(y for each in above for y in (each.y, each.bottom) if box.y < y < box.bottom)}
    )
    heights = [0] * (len(across) - 1)  # how far up each column is free, in length
    best: Box | None = None
    for top, bottom in pairwise(down):
        for index, x in enumerate(across[:-1]):
            covered = any(each.x <= x < each.right and each.y <= top < each.bottom for each in above)
            heights[index] = 0 if covered else heights[index] + bottom - top
        found = _widest(heights, across, bottom)
        best = max((each for each in (best, found) if each), key=_use, default=None)
    return best


def _widest(heights: Sequence[int], across: Sequence[int], bottom: int) -> Box | None:
    """Return the best rectangle that stands on a line, under columns that are free so far up."""
    best: Box | None = None
    for first in range(len(heights)):
        height = heights[first]
        for last in range(first, len(heights)):
            height = min(height, heights[last])
            if not height:
                break
            box = Box(across[first], bottom - height, across[last + 1] - across[first], height)
            best = max((each for each in (best, box) if each), key=_use)
    return best


def _use(box: Box) -> tuple[int, int]:
    """How much can be written on it."""
    return box.width * box.height, box.width
