"""The tree as the lines of a cutting ticket: parts that are cut alike lie side by side and are cut as one.

Parts of one cut that are equal are cut at the same gauges, so they go to the stop together as far as the knife is
long enough; what comes off them is equal again. `kits.guillotine.steps` follows each part alone.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from kits.guillotine.steps import Edge, Step, lots_of, parallel_cuts
from kits.guillotine.tree import Cut, Direction, Part
from kits.measures import Length


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a ticket: a cut, and all the parts that are cut so.

    step: the cut of one of them. part: what each was before its first cut. hands: their names. at_once: how many lie
    side by side under the knife.
    """

    step: Step
    part: Cut
    hands: tuple[str, ...]
    at_once: int

    @property
    def times(self) -> int:
        """How often the knife falls for this line."""
        return -(-len(self.hands) // self.at_once)

    @property
    def turns(self) -> int:
        """Quarter turns for this line, those side by side turned as one."""
        return self.step.turns * self.times


@dataclass(frozen=True, slots=True)
class _Hand:
    part: Cut
    names: tuple[str, ...]
    stop: Edge | None


def lines(tree: Part, smallest_strip: Length = 0, opening: Length | None = None) -> tuple[Line, ...]:
    """Return the lines of the ticket that cuts a sheet, in order.

    smallest_strip: as in `steps`. opening: how long a cut the knife makes; without it, all that is cut alike is
    cut at once.
    """
    made: list[Line] = []
    waiting = [_Hand(tree, ("sheet",), None)] if isinstance(tree, Cut) else []
    while waiting:
        hand = waiting.pop()
        at_once = _at_once(hand, opening)
        cuts = list(parallel_cuts(hand.names[0], hand.part, hand.stop, smallest_strip))
        made.extend(Line(step, hand.part, hand.names, at_once) for step in cuts)
        waiting.extend(reversed(list(_parts(hand, cuts[-1].stop))))
    return tuple(made)


def count_lines(made: tuple[Line, ...]) -> tuple[int, int]:
    """Return how often the knife falls and how many quarter turns are made."""
    return sum(line.times for line in made), sum(line.turns for line in made)


def _at_once(hand: _Hand, opening: Length | None) -> int:
    """Return how many equal parts lie side by side at the stop, all of them where no opening is set."""
    if opening is None:
        return len(hand.names)
    along_stop = hand.part.height if hand.part.direction is Direction.UPRIGHT else hand.part.width
    return min(len(hand.names), max(1, opening // along_stop))


def _parts(hand: _Hand, stop: Edge) -> Iterator[_Hand]:
    """Yield what is still to be cut of the parts in hand, equal parts together."""
    alike: dict[Cut, list[int]] = {}
    for number, lot in enumerate(lots_of(hand.names[0], hand.part)):
        if isinstance(lot.part, Cut):
            alike.setdefault(lot.part, []).append(number)
    for part, numbers in alike.items():
        names = tuple(lots_of(name, hand.part)[number].name for name in hand.names for number in numbers)
        yield _Hand(part, names, stop)
