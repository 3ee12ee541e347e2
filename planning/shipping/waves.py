"""Waves: a day's boxes for one service, alike contents side by side, cut into lots that one cart or shelf takes.

Waves are full but for the last of a day and service; where what is left would fill less than half of one, the last two
share their boxes, so that nobody lays out a cart for a handful.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import groupby

from planning.roster import BoxClass
from planning.shipping.model import Load, Wave, WavePart


def make_waves(loads: Sequence[Load], size: int) -> tuple[Wave, ...]:
    """Cut loads into waves of at most `size` boxes, day by day and service by service in the order of the loads.

    The order of boxes within a wave is fixed: by contents as first met, then by destination, then by roster.
    """
    seen: defaultdict[BoxClass, int] = defaultdict(int)
    waves: list[Wave] = []
    for _, together in groupby(loads, key=lambda load: (load.day, load.service.code, load.collected)):
        group = side_by_side(list(together))
        for parts in cut(group, sizes(sum(load.boxes for load in group), size), seen):
            waves.append(
                Wave(
                    number=len(waves) + 1,
                    day=group[0].day,
                    service=group[0].service,
                    collected=group[0].collected,
                    parts=parts,
                )
            )
    return tuple(waves)


def side_by_side(loads: Sequence[Load]) -> list[Load]:
    """Return the loads with alike contents next to each other, in the order in which each is first met."""
    order = {one: at for at, one in enumerate(dict.fromkeys(load.box_class.contents for load in loads))}
    return sorted(loads, key=lambda load: order[load.box_class.contents])


def sizes(boxes: int, size: int) -> Iterator[int]:
    """Yield how many boxes each wave has: full ones, and no last one of less than half where two can share."""
    full, rest = divmod(boxes, size)
    shares = 2 * rest < size and full > 0 and rest > 0
    yield from [size] * (full - shares)
    if shares:
        yield from ((size + rest + 1) // 2, (size + rest) // 2)
    elif rest:
        yield rest


def cut(
    loads: Sequence[Load], each: Iterator[int], seen: defaultdict[BoxClass, int]
) -> Iterator[tuple[WavePart, ...]]:
    """Yield the parts of one wave after the other; `seen` counts how far each class has been handed out."""
    parts: list[WavePart] = []
    room = next(each, 0)
    for load in loads:
        rest = load.boxes
        while rest:
            boxes = min(rest, room)
            parts.append(WavePart(box_class=load.box_class, boxes=boxes, first=seen[load.box_class]))
            seen[load.box_class] += boxes
            rest, room = rest - boxes, room - boxes
            if room == 0:
                yield tuple(parts)
                parts, room = [], next(each, 0)
