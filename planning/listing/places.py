"""Where the boxes of a class stand, in few words: stretches of neighbouring places, through any number of waves."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from planning.roster import BoxClass
from planning.shipping import Wave


@dataclass(frozen=True, slots=True)
class Stretch:
    """Boxes of a class that stand one after the other.

    first: how many boxes of the class come before. at: the first one's place, counted through all waves as if each were
    full: (wave - 1) x size + place - 1.
    """

    box_class: int
    first: int
    boxes: int
    at: int


def size_of(waves: Sequence[Wave]) -> int:
    """Return how many places to count for a wave: as many as the largest has."""
    return max((wave.boxes for wave in waves), default=1)


def stretches(waves: Sequence[Wave], classes: Mapping[BoxClass, int]) -> Iterator[Stretch]:
    """Yield where the boxes of all waves stand, class by class. classes: each one's number."""
    size = size_of(waves)
    open_ones: dict[int, Stretch] = {}
    for wave in waves:
        at = (wave.number - 1) * size
        for part in wave.parts:
            number = classes[part.box_class]
            last = open_ones.get(number)
            new = Stretch(number, part.first, part.boxes, at)
            if last is not None and last.at + last.boxes == at and last.first + last.boxes == part.first:
                new = Stretch(number, last.first, last.boxes + part.boxes, last.at)
            elif last is not None:
                yield last
            open_ones[number] = new
            at += part.boxes
    yield from open_ones.values()
