"""The checker of the waves: counts their boxes again against what leaves each day, and shares nothing with the rule."""

from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date
from itertools import pairwise

from planning.roster import BoxClass
from planning.shipping.model import Load, Wave

Places = Counter[tuple[date, str, BoxClass]]


def waves_faults(loads: Sequence[Load], waves: Sequence[Wave], size: int) -> list[str]:
    """Return what is wrong with waves of at most `size` boxes, none where each box of the loads stands in one of them."""
    faults = list(differences(loads, waves))
    if [wave.number for wave in waves] != list(range(1, len(waves) + 1)):
        faults.append("the waves are not numbered one after the other")
    if any(wave.boxes > size for wave in waves):
        faults.append(f"a wave has more boxes than {size}")
    faults += [f"wave {wave.number} parts alike boxes" for wave in waves if parts_alike(wave)]
    return faults + list(gaps(waves))


def differences(loads: Sequence[Load], waves: Sequence[Wave]) -> Iterator[str]:
    """Yield each day and service whose waves hold other boxes than leave."""
    leave, stand = Places(), Places()
    for load in loads:
        leave[load.day, load.service.code, load.box_class] += load.boxes
    for wave in waves:
        for part in wave.parts:
            stand[wave.day, wave.service.code, part.box_class] += part.boxes
    wrong = dict.fromkeys(key[:2] for key in (*leave, *stand) if leave[key] != stand[key])
    for day, service in wrong:
        yield f"other boxes stand in the waves of {day:%-d %b %Y} by {service} than leave then"


def parts_alike(wave: Wave) -> bool:
    """Tell whether boxes of the same contents stand in two places of a wave."""
    contents = [part.box_class.contents for part in wave.parts]
    ends = sum(before != after for before, after in pairwise(contents))
    return ends + 1 > len(set(contents))


def gaps(waves: Sequence[Wave]) -> Iterator[str]:
    """Yield each wave that does not go on where the ones before it ended, class by class."""
    reached: Counter[BoxClass] = Counter()
    for wave in waves:
        for part in wave.parts:
            if part.first != reached[part.box_class]:
                yield f"wave {wave.number} begins at another box of its class than those before end"
            reached[part.box_class] = part.first + part.boxes
