"""From which wave on there is too little of something, when waves are picked in their order."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from planning.packing import PackingResult
from planning.roster import Contents
from planning.shipping.model import Wave, WavePart


@dataclass(frozen=True, slots=True, kw_only=True)
class ShortPick:
    """An item of which waves take more than there is: from which wave on, and when that one is packed."""

    item: str
    wanted: int
    there: int
    wave: int
    day: date

    @property
    def lacking(self) -> int:
        """Units that are not there."""
        return self.wanted - self.there


def short_picks(
    waves: Sequence[Wave], packing: PackingResult, there: Mapping[str, int]
) -> Iterator[ShortPick]:
    """Yield what runs short when waves are picked in their order, in the order in which it does.

    there: units by item; an item that is not among them is not looked at.
    """
    boxes = boxes_of(part for wave in waves for part in wave.parts)
    each = {contents: packing.of(contents).held for contents in boxes}
    wanted: Counter[str] = Counter()
    for contents, number in boxes.items():
        for item, count in each[contents].items():
            wanted[item] += count * number
    left = {item: units for item, units in there.items() if wanted[item] > units}
    for wave in waves if left else ():
        for contents, number in boxes_of(wave.parts).items():
            for item in left.keys() & each[contents].keys():
                left[item] -= each[contents][item] * number
        for item in sorted(item for item, units in left.items() if units < 0):
            del left[item]
            yield ShortPick(item=item, wanted=wanted[item], there=there[item], wave=wave.number, day=wave.day)


def boxes_of(parts: Iterable[WavePart]) -> Counter[Contents]:
    """Count boxes by what they hold."""
    boxes: Counter[Contents] = Counter()
    for part in parts:
        boxes[part.box_class.contents] += part.boxes
    return boxes
