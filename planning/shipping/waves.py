"""Waves: a day's boxes for one service, cut into lots the bench can lay out at once."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import groupby

from planning.roster import BoxClass
from planning.shipping.model import Load, Wave, WavePart


def make_waves(loads: Sequence[Load], size: int) -> tuple[Wave, ...]:
    """Cut loads, in their order, into waves of at most `size` boxes; a wave has one day and one service."""
    seen: defaultdict[BoxClass, int] = defaultdict(int)
    waves: list[Wave] = []
    for _, together in groupby(loads, key=lambda load: (load.day, load.service.code)):
        group = list(together)
        for parts in cut(group, size, seen):
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


def cut(loads: Sequence[Load], size: int, seen: defaultdict[BoxClass, int]) -> Iterator[tuple[WavePart, ...]]:
    """Yield the parts of one wave after the other; `seen` counts how far each class has been handed out."""
    parts: list[WavePart] = []
    for load in loads:
        rest = load.boxes
        while rest:
            boxes = min(rest, size - sum(part.boxes for part in parts))
            parts.append(WavePart(box_class=load.box_class, boxes=boxes, first=seen[load.box_class]))
            seen[load.box_class] += boxes
            rest -= boxes
            if sum(part.boxes for part in parts) == size:
                yield tuple(parts)
                parts = []
    if parts:
        yield tuple(parts)
