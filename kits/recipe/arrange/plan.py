"""The best plan where all selections can be looked at: the fewest sheets, the largest offcut, few cuts and turns."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from kits.guillotine import Offcut, Part, count_cuts
from kits.guillotine import largest_offcut as largest_of
from kits.measures import Area, Length
from kits.recipe.arrange.bundles import Units, pairs, selections
from kits.recipe.arrange.lattice import Lattice, State, States, fewest_sheets
from kits.recipe.arrange.lay import Layer, count_turns, in_strips
from kits.recipe.arrange.offcut import Largest, Strip, Way, largest_offcut
from kits.recipe.arrange.sides import Sides
from kits.recipe.hand import FIRST_WAY

MOST_SUMS = 120_000_000  # pairs of selections times lengths they can have


@dataclass(frozen=True, slots=True)
class Plan:
    """Cut sheets, the area of their largest offcut with its bound, and of all offcuts."""

    sheets: tuple[Part, ...]
    offcut: Area
    offcut_bound: Area
    waste: Area

    @property
    def rank(self) -> tuple[int, int, int]:
        """By what plans are compared, the best one lowest."""
        return len(self.sheets), -self.offcut, handling(self.sheets)


def is_small(units: Units, sides: Sides, most: int) -> bool:
    """Whether all selections of some units can be looked at."""
    lengths = len(sides.widths) + len(sides.heights)
    return selections(units) <= most and pairs(units) * lengths <= MOST_SUMS


def handling(sheets: Sequence[Part]) -> int:
    """Return the cuts and turns that sheets take, each cut on its own."""
    return sum(map(count_cuts, sheets)) + count_turns(sheets, FIRST_WAY)


def offcut_area(part: Part) -> Area:
    """Return the area of the largest offcut, zero if there is none."""
    offcut = largest_of(part)
    return offcut.width * offcut.height if offcut else 0


@dataclass(frozen=True, slots=True)
class _Looked:
    """What is known of some units before anything is laid."""

    lattice: Lattice
    fewest: States
    largest: Largest


def best_plan(units: Units, sides: Sides) -> Plan:
    """Return the best plan for some units."""
    return _plan(_looked(units, sides), sides)


def better_plan(units: Units, sides: Sides, sheets: int, offcut: Area) -> Plan | None:
    """Return the best plan if it takes fewer sheets than so many or leaves a larger offcut."""
    looked = _looked(units, sides)
    is_better = looked.fewest[looked.lattice.full] < sheets or looked.largest.ways[0].area > offcut
    return _plan(looked, sides) if is_better else None


def _looked(units: Units, sides: Sides) -> _Looked:
    lattice = Lattice(units, sides)
    fewest = fewest_sheets(lattice)
    return _Looked(lattice, fewest, largest_offcut(lattice, _last_sheets(lattice, fewest)))


def _plan(looked: _Looked, sides: Sides) -> Plan:
    lattice, largest, layer = looked.lattice, looked.largest, Layer(looked.lattice)
    plans = [_cut(lattice, looked.fewest, layer, way) for way in largest.ways]
    sheets = min(plans, key=handling)
    waste = len(sheets) * sides.width * sides.height - int(lattice.area[lattice.full])
    offcut = max(map(offcut_area, sheets))
    most = largest.bound if sides.all_can_be_cut else min(waste, sides.width * sides.height)
    return Plan(sheets, offcut, max(offcut, most), waste)


def _last_sheets(lattice: Lattice, fewest: States) -> States:
    """Return the selections that one sheet holds while all others of the fewest hold the rest."""
    inside = lattice.inside[lattice.full]
    rest = fewest[lattice.full - inside]
    found: States = inside[lattice.fits[inside] & (rest < fewest[lattice.full])]
    return found


def _cut(lattice: Lattice, fewest: States, layer: Layer, way: Way) -> tuple[Part, ...]:
    """Return all sheets of a plan, the one with the offcut last."""
    rest = lattice.full - sum(strip.state for strip in way.strips)
    sides = lattice.sides
    filled = [
        layer.lay(state, sides.width, sides.height, FIRST_WAY).part
        for state in _filled(lattice, fewest, rest)
    ]
    last = _in_strips(layer, way.strips, sides.width, sides.height)
    return (*filled, last) if last else tuple(filled)


def _filled(lattice: Lattice, fewest: States, rest: State) -> Iterator[State]:
    """Yield for each of the fewest sheets what it holds, as much as it can."""
    while rest:
        inside = lattice.inside[rest]
        fits = inside[lattice.fits[inside] & (fewest[rest - inside] < fewest[rest])]
        state = int(fits[np.argmax(lattice.area[fits])])
        yield state
        rest -= state


def _in_strips(layer: Layer, strips: Sequence[Strip], width: Length, height: Length) -> Part | None:
    """Return a room from which strips come off one after the other; None if it is nothing."""
    if not strips:
        return Offcut(width, height) if width and height else None
    first, *others = strips
    direction = first.direction
    upright = direction is direction.UPRIGHT
    near, far = (
        ((first.at, height), (width - first.at, height))
        if upright
        else ((width, first.at), (width, height - first.at))
    )
    part = layer.lay(first.state, *near, direction).part
    rest = _in_strips(layer, others, *far)
    return in_strips(direction, (part, rest)) if rest else part
