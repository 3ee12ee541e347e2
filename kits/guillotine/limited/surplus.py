"""Leave the pieces that are too many in a plan uncut."""

from collections.abc import Mapping, Sequence
from itertools import groupby

from kits.guillotine.tree import Cut, Direction, Offcut, Part, Piece, divide


def without_surplus(tree: Part, limits: Mapping[str, int | None]) -> Part:
    """Return the tree with an offcut for each piece beyond the limit of its name. No cut is added or moved."""
    left = {name: limit for name, limit in limits.items() if limit is not None}
    order: list[Part] = [tree]
    for part in order:  # grows on the way: each part before those inside it
        order.extend(part.parts if isinstance(part, Cut) else ())
    kept = [_kept(part, left) for part in order]
    end = len(order)
    for at in range(len(order) - 1, -1, -1):
        part = order[at]
        if isinstance(part, Cut):
            end -= len(part.parts)
            kept[at] = _joined(part.direction, kept[end : end + len(part.parts)])
    return kept[0]


def _kept(part: Part, left: dict[str, int]) -> Part:
    if not isinstance(part, Piece) or part.name not in left:
        return part
    left[part.name] -= 1
    return part if left[part.name] >= 0 else Offcut(part.width, part.height)


def _joined(direction: Direction, parts: Sequence[Part]) -> Part:
    """Return the part that these came from, neighbouring offcuts as one where one of them is left over."""
    whole: list[Part] = []
    for are_offcuts, group in groupby(parts, lambda part: isinstance(part, Offcut)):
        some = list(group)
        is_one = are_offcuts and any(part == Offcut(part.width, part.height) for part in some)
        if is_one:
            together = divide(direction, some)
            some = [Offcut(together.width, together.height)]
        whole.extend(some)
    return divide(direction, whole) if len(whole) > 1 else whole[0]
