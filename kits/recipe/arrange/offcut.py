"""The largest single offcut that a sheet can leave, by best-first search.

Where a sheet is to leave one large rectangle, some pieces come off beside it in as narrow a strip as holds them, then
some below it, and so on, until nothing but the offcut is left. What is left in hand less the pieces it must still
hold bounds the offcut; looking at the largest bound first, the first finished way is the best one.
"""

from collections.abc import Callable
from dataclasses import dataclass
from heapq import heappop, heappush
from itertools import count

import numpy as np

from kits.guillotine import Direction
from kits.measures import Area, Length
from kits.recipe.arrange.lattice import Lattice, State, States

EFFORT = 1_500  # rooms to look into
TIES = 200  # rooms that can only lead to an offcut as large as the best one, but perhaps of better shape
MOST_FOUND = 10


@dataclass(frozen=True, slots=True)
class Strip:
    """Pieces taken off in one strip, `at` wide (upright) or high (level)."""

    direction: Direction
    state: State
    at: Length


@dataclass(frozen=True, slots=True)
class Way:
    """Strips that come off a sheet one after the other, and the offcut that they leave."""

    strips: tuple[Strip, ...]
    width: Length
    height: Length

    @property
    def area(self) -> Area:
        """Area of the offcut."""
        return self.width * self.height


@dataclass(frozen=True, slots=True)
class Largest:
    """The best ways found and a bound that no way exceeds.

    All leave an offcut as large; those whose offcut has a longer shorter side come first, then those of few strips.
    """

    ways: tuple[Way, ...]
    bound: Area


@dataclass(frozen=True, slots=True)
class _Room:
    """What is left in hand, and what it must still hold."""

    state: State
    width: Length
    height: Length
    strips: tuple[Strip, ...] = ()


@dataclass(frozen=True, slots=True)
class _Options:
    """Ways to go on, the largest bound first. room: what the way of an index leaves."""

    bounds: tuple[Area, ...]
    room: Callable[[int], _Room]


def largest_offcut(lattice: Lattice, states: States, effort: int = EFFORT) -> Largest:
    """Return how a sheet leaves the largest offcut if it holds one of these selections, each of which it does.

    A room is never made smaller only for a cut to be short enough for the trimmer: where one may be too long, the
    bound holds for what was searched, not for all ways.
    """
    search = _Search(lattice)
    search.begin(states)
    return search.run(effort)


class _Search:
    def __init__(self, lattice: Lattice) -> None:
        self._lattice = lattice
        self._heap: list[tuple[Area, int, _Options, int]] = []
        self._number = count()
        self._seen: set[tuple[State, Length, Length, Direction | None]] = set()
        self._found: list[Way] = []
        self._best = -1

    def begin(self, states: States) -> None:
        """Let the sheet hold any one of these selections."""
        width, height = self._lattice.sides.width, self._lattice.sides.height
        bounds = width * height - self._lattice.area[states]
        order = np.argsort(-bounds, kind="stable")
        self._wait(
            _Options(
                tuple(bounds[order].tolist()), lambda index: _Room(int(states[order[index]]), width, height)
            )
        )

    def run(self, effort: int) -> Largest:
        """Search until nothing larger can come, or the effort is used up."""
        ties = TIES
        while self._heap and effort and ties:
            bound, _, options, index = self._heap[0]
            if -bound < self._best:
                break
            heappop(self._heap)
            self._wait(options, index + 1)
            self._enter(options.room(index))
            effort, ties = effort - 1, ties - (-bound == self._best)
        bound = max(self._best, -self._heap[0][0] if self._heap else 0)
        best = [way for way in self._found if way.area == self._best]
        best.sort(key=lambda way: (-min(way.width, way.height), len(way.strips)))
        return Largest(tuple(best[:MOST_FOUND]), bound)

    def _enter(self, room: _Room) -> None:
        """Look at a room: finish it if nothing is to be cut from it any more, else list the ways to go on."""
        before = room.strips[-1].direction if room.strips else None
        key = (room.state, room.width, room.height, before)
        if key in self._seen:
            return
        self._seen.add(key)
        if not room.state:
            self._keep(room)
            return
        for direction in Direction:
            if direction is not before:  # two strips the same way are one wider strip
                can_cut = self._lattice.sides.can_cut(direction, room.width, room.height)
                self._finish(room, direction, can_cut)
                if can_cut:
                    self._wait(self._options(room, direction))

    def _keep(self, room: _Room) -> None:
        way = Way(room.strips, room.width, room.height)
        self._best = max(self._best, way.area)
        self._found.append(way)

    def _finish(self, room: _Room, direction: Direction, can_cut: bool) -> None:
        """Keep the way that takes all pieces off in one strip, so that there is soon something to compare with."""
        at = int(self._least(room, direction)[room.state])
        along = room.width if direction is Direction.UPRIGHT else room.height
        if at == along or (at < along and can_cut):
            self._keep(_after(room, Strip(direction, room.state, at)))

    def _least(self, room: _Room, direction: Direction) -> States:
        """Return for every selection the least strip of that direction that holds it."""
        lattice = self._lattice
        if direction is Direction.UPRIGHT:
            return lattice.narrow[:, lattice.sides.row(room.height)].astype(np.int64)
        return lattice.low[:, lattice.sides.column(room.width)].astype(np.int64)

    def _options(self, room: _Room, direction: Direction) -> _Options:
        upright = direction is Direction.UPRIGHT
        along, across = (room.width, room.height) if upright else (room.height, room.width)
        least, first = self._least(room, direction), self._lattice.inside[room.state][1:-1]
        at, rest = least[first], room.state - first
        bounds = (along - at) * across - self._lattice.area[rest]
        kept = (at + least[rest] <= along) & (bounds >= self._best)
        first, at, bounds = first[kept], at[kept], bounds[kept]
        order = np.argsort(-bounds, kind="stable")
        states, places = first[order].tolist(), at[order].tolist()
        return _Options(
            tuple(bounds[order].tolist()),
            lambda index: _after(room, Strip(direction, states[index], places[index])),
        )

    def _wait(self, options: _Options, index: int = 0) -> None:
        if index < len(options.bounds):
            heappush(self._heap, (-options.bounds[index], next(self._number), options, index))


def _after(room: _Room, strip: Strip) -> _Room:
    """Return what is left of a room once a strip has come off."""
    upright = strip.direction is Direction.UPRIGHT
    width, height = (room.width - strip.at, room.height) if upright else (room.width, room.height - strip.at)
    return _Room(room.state - strip.state, width, height, (*room.strips, strip))
