"""Lay a selection of pieces in a room, with few offcuts and few turns.

A part that is cut leaves one more than before, so the cuts of a sheet are its pieces and offcuts less one: few cuts
means few offcuts.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from kits.guillotine import Cut, Direction, Offcut, Part, divide
from kits.measures import Length
from kits.recipe.arrange.lattice import Lattice, State
from kits.recipe.arrange.sides import Whole

EFFORT = 4_000  # ways of parting a selection to look into


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
        laid = self._best(state, width, height, direction, 2**30)
        if laid is None:
            raise ValueError("the room does not hold the selection")
        return laid

    def _best(
        self, state: State, width: Length, height: Length, direction: Direction, limit: int
    ) -> Laid | None:
        """Return the best way if its cost is below the limit, else None."""
        key = (state, width, height, direction)
        least, known = self._known.get(key, (0, None))
        if known and known.cost == least:
            return known if known.cost < limit else None
        if least >= limit:
            return None
        found = self._search(key, known, limit)
        is_best = self._left > 0 or (found is not None and found.cost == least)
        least = (found.cost if found else limit) if is_best else least
        self._known[key] = (least, found)
        return found if found and found.cost < limit else None

    def _search(
        self, key: tuple[State, Length, Length, Direction], found: Laid | None, limit: int
    ) -> Laid | None:
        state, width, height, direction = key
        if not state:
            return Laid(Offcut(width, height), 1)
        if unit := self._lattice.unit(state):
            part = unit.lay(width, height, direction)
            return Laid(part, cost_of(part, direction))
        best = min(limit, found.cost) if found else limit
        least = int(width * height > self._lattice.area[state])
        for split in self._splits(state, width, height, direction):
            if best <= least or split.least >= best or (self._left <= 0 and found):
                break
            self._left -= 1
            laid = self._laid(split, key, best)
            if laid:
                found, best = laid, laid.cost
        return found

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
        lattice = self._lattice
        ways: list[tuple[int, int, Direction, State, Length]] = []
        for along in (direction, direction.across):
            upright = along is Direction.UPRIGHT
            least: Whole = (
                lattice.narrow[:, lattice.sides.row(height)]
                if upright
                else lattice.low[:, lattice.sides.column(width)]
            )
            room, across = (width, height) if upright else (height, width)
            first = lattice.inside[state][1:]
            at, rest = least[first].astype(np.int64), least[state - first]
            fits = at + rest <= room
            fits &= (at < room) & ~(
                (at + rest == room) & (first > state - first)
            )  # the same seen from the other side
            first, at = first[fits], at[fits]
            near = at * across - lattice.area[first]
            far = (room - at) * across - lattice.area[state - first]
            offcuts = (near > 0).astype(np.int64) + (far > 0) + int(along is not direction)
            ways += zip(
                offcuts.tolist(),
                near.tolist(),
                (along,) * len(first),
                first.tolist(),
                at.tolist(),
                strict=True,
            )
        ways.sort(key=lambda way: (way[0], way[1]))
        return (_Split(along, first, at, least_cost) for least_cost, _, along, first, at in ways)


def in_strips(direction: Direction, parts: Iterable[Part]) -> Cut:
    """Return the parts side by side as one cut, whose parallel cuts are in one list."""
    strips: list[Part] = []
    for part in parts:
        strips += part.parts if isinstance(part, Cut) and part.direction is direction else [part]
    return divide(direction, strips)


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
