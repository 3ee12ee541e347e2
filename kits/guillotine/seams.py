"""The same pieces in the same places, cut in an order in which no cut is longer than the knife.

A part that is too high for an upright cut is first parted by level cuts, along seams: lines that cross no piece.
"""

from collections.abc import Iterator
from itertools import pairwise

from kits.guillotine.tree import Cut, Direction, Offcut, Part, Piece, divide, pieces, walk
from kits.measures import Length

LEVEL, UPRIGHT = Direction.LEVEL, Direction.UPRIGHT


def longest_cut(tree: Part) -> Length:
    """Return the longest line the knife cuts: through the part in hand, from edge to edge. 0 without a cut."""
    cuts = (placed.part for placed in walk(tree) if isinstance(placed.part, Cut))
    return max((cut.height if cut.direction is UPRIGHT else cut.width for cut in cuts), default=0)


def within(tree: Part, opening: Length) -> Part | None:
    """Return the sheet cut so that no cut is longer than the opening; None where its pieces leave no such order."""
    if longest_cut(tree) <= opening:
        return tree
    direction = LEVEL if tree.height > opening else UPRIGHT
    if min(tree.width, tree.height) > opening:
        return None
    ends = _seams(tree, direction, opening)
    if ends is None or not isinstance(tree, Cut):
        return None
    strips = [within(_between(tree, direction, one, other), opening) for one, other in pairwise(ends)]
    whole = [strip for strip in strips if strip is not None]
    if len(whole) < len(strips):
        return None
    return divide(direction, whole) if len(whole) > 1 else whole[0]


def _seams(tree: Part, direction: Direction, opening: Length) -> list[Length] | None:
    """Return the fewest seams that leave no part longer than the opening, with both ends; None if there are none."""
    length = tree.height if direction is LEVEL else tree.width
    spans = [
        (placed.y, placed.y + placed.part.height)
        if direction is LEVEL
        else (placed.x, placed.x + placed.part.width)
        for placed in pieces(tree)
    ]
    places = {0, length} | {end for span in spans for end in span}
    free = sorted(place for place in places if not any(start < place < end for start, end in spans))
    chosen = [0]
    while length - chosen[-1] > opening:
        reached = [place for place in free if chosen[-1] < place <= chosen[-1] + opening]
        if not reached:
            return None
        chosen.append(reached[-1])
    return [*chosen, length]


def _between(part: Part, direction: Direction, start: Length, end: Length) -> Part:
    """Return what lies between two lines across a part; no piece crosses them."""
    if isinstance(part, Piece):
        return part
    if isinstance(part, Offcut):
        return _offcut(part, direction, end - start)
    if part.direction is direction:
        parts = list(_along(part, direction, start, end))
    else:
        parts = [_between(one, direction, start, end) for one in part.parts]
    return divide(part.direction, parts) if len(parts) > 1 else parts[0]


def _along(cut: Cut, direction: Direction, start: Length, end: Length) -> Iterator[Part]:
    whole = cut.height if direction is LEVEL else cut.width
    for part, (first, last) in zip(cut.parts, pairwise((0, *cut.marks, whole)), strict=True):
        if first < end and last > start:
            yield _between(part, direction, max(start, first) - first, min(end, last) - first)


def _offcut(part: Offcut, direction: Direction, length: Length) -> Offcut:
    if direction is LEVEL:
        return Offcut(part.width, length, part.cause)
    return Offcut(length, part.height, part.cause)
