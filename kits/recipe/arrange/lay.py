"""Lay a selection of pieces in a room, with few offcuts and few turns.

A part that is cut leaves one more than before, so the cuts of a sheet are its pieces and offcuts less one: few cuts
means few offcuts.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from kits.guillotine import Cut, Direction, Offcut, Part, divide
from kits.measures import Length, Ruler
from kits.recipe.arrange.lattice import Lattice, State, States

EFFORT = 4_000  # ways of parting a selection to look into
ANY = 2**30  # any way costs less


@dataclass(frozen=True, slots=True)
class Laid:
    """A part, and its offcuts and turns together."""

    part: Part
    cost: int


@dataclass(frozen=True, slots=True)
class _Split:
    """A way to part a selection: the first part in its least room, the other in what that leaves."""

    direction: Direction
    first: State
    at: Length
    least: int


class Layer:
    """Lays selections of one lattice. Once the effort is used up it takes the first way that looks well."""

    def __init__(self, lattice: Lattice, effort: int = EFFORT) -> None:
        self._lattice = lattice
        self._left = effort
        self._known: dict[tuple[State, Length, Length, Direction], tuple[int, Laid | None]] = {}

    def lay(self, state: State, width: Length, height: Length, direction: Direction) -> Laid:
        """Return the selection in a room that holds it, as cut by one who would cut in that direction first."""
        laid = self._best(state, width, height, direction, 2 * ANY)
        if laid is None:
            raise ValueError("the room does not hold the selection")
        return laid

    def _best(
        self, state: State, width: Length, height: Length, direction: Direction, limit: int
    ) -> Laid | None:
        """Return the best way if its cost is below the limit, else None."""
        key = (state, width, height, direction)
        least, known = self._known.get(key, (0, None))
        is_best = known is not None and known.cost == least
        if not is_best and least < limit and (self._left > 0 or limit >= ANY):
            least, known = self._known[key] = self._search(key, least, known, limit)
        return known if known and known.cost < limit else None

    def _search(
        self, key: tuple[State, Length, Length, Direction], least: int, known: Laid | None, limit: int
    ) -> tuple[int, Laid | None]:
        """Return what the cost is at least, and the best way known."""
        state, width, height, direction = key
        if not state:
            return 1, Laid(Offcut(width, height), 1)
        if unit := self._lattice.unit(state):
            can = self._lattice.sides.can_cut(direction, width, height)
            part = unit.lay(width, height, direction if can else direction.across)
            return cost_of(part, direction), Laid(part, cost_of(part, direction))
        best = min(limit, known.cost) if known else limit
        least = max(least, int(width * height > self._lattice.area[state]))
        for split in self._splits(state, width, height, direction):
            if split.least >= best or best == least:
                return best, known
            if self._left <= 0 and known:
                return least, known
            self._left -= 1
            if laid := self._laid(split, key, best):
                known, best = laid, laid.cost
        return (best if self._left > 0 else least), known

    def _laid(self, split: _Split, key: tuple[State, Length, Length, Direction], limit: int) -> Laid | None:
        state, width, height, direction = key
        upright, turn = split.direction is Direction.UPRIGHT, int(split.direction is not direction)
        near, far = (split.at, height), (width - split.at, height)
        if not upright:
            near, far = (width, split.at), (width, height - split.at)
        rest = state - split.first
        first = self._best(split.first, *near, split.direction, limit - turn)
        other = first and self._best(rest, *far, split.direction, limit - turn - first.cost)
        if not first or not other:
            return None
        return Laid(in_strips(split.direction, (first.part, other.part)), turn + first.cost + other.cost)

    def _splits(self, state: State, width: Length, height: Length, direction: Direction) -> Iterator[_Split]:
        """Yield the ways to part a selection, those first that can do with the fewest offcuts and turns."""
        ways = [self._ways(state, width, height, along) for along in (direction, direction.across)]
        turn = np.concatenate([np.full(len(each[0]), number) for number, each in enumerate(ways)])
        first, at, near, far = (np.concatenate(each) for each in zip(*ways, strict=True))
        least = turn + (near > 0) + (far > 0)
        for index in np.lexsort((near, least)).tolist():
            along = direction.across if turn[index] else direction
            yield _Split(along, int(first[index]), int(at[index]), int(least[index]))

    def _ways(self, state: State, width: Length, height: Length, along: Direction) -> tuple[States, ...]:
        """Return by cuts of one direction: a first part, the mark, and what is wasted before and beyond it."""
        lattice, first = self._lattice, self._lattice.inside[state][1:]
        first = first if lattice.sides.can_cut(along, width, height) else first[:0]
        if along is Direction.UPRIGHT:
            least, room, across = lattice.narrow[:, lattice.sides.row(height)], width, height
        else:
            least, room, across = lattice.low[:, lattice.sides.column(width)], height, width
        at, rest = least[first].astype(np.int64), least[state - first]
        seen_from_other_side = (at + rest == room) & (first > state - first)
        kept = (at + rest <= room) & (at < room) & ~seen_from_other_side
        first, at = first[kept], at[kept]
        near = at * across - lattice.area[first]
        return first, at, near, (room - at) * across - lattice.area[state - first]


def in_strips(direction: Direction, parts: Iterable[Part]) -> Cut:
    """Return the parts side by side as one cut, whose parallel cuts are in one list."""
    strips: list[Part] = []
    for part in parts:
        strips += part.parts if isinstance(part, Cut) and part.direction is direction else [part]
    return divide(direction, strips)


def in_order(part: Part, ruler: Ruler) -> Part:
    """Return a part with its strips in the order that is handiest at the trimmer.

    What is cut on stays at the fence, the largest first; offcuts lie beyond it and come off first. A strip that ends
    between two marks must stay the last one.
    """
    if not isinstance(part, Cut):
        return part
    upright = part.direction is Direction.UPRIGHT
    strips = [in_order(each, ruler) for each in part.parts]
    along = [each.width if upright else each.height for each in strips]
    fixed = [] if ruler.holds(along[-1]) else [strips.pop()]
    strips.sort(key=lambda each: (isinstance(each, Offcut), -each.width * each.height))
    cut_on = max(
        (each for each in strips if isinstance(each, Cut)),
        key=lambda each: each.width * each.height,
        default=None,
    )
    if cut_on is not None:
        strips.remove(cut_on)
        strips.insert(0, cut_on)
    return divide(part.direction, [*strips, *fixed])


def cost_of(part: Part, direction: Direction) -> int:
    """Return the offcuts and turns of a part that is in hand to be cut in that direction."""
    if not isinstance(part, Cut):
        return int(isinstance(part, Offcut))
    return int(part.direction is not direction) + sum(cost_of(each, part.direction) for each in part.parts)


def count_turns(parts: Sequence[Part], direction: Direction) -> int:
    """Return how often something is turned while each of the parts is cut."""
    return sum(
        int(part.direction is not direction) + count_turns(part.parts, part.direction)
        for part in parts
        if isinstance(part, Cut)
    )
