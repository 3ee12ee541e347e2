"""Plans for more pieces than there are selections to look at, each good but not proved."""

from collections.abc import Iterator

import numpy as np

from kits.guillotine import Part, piece_area
from kits.measures import Area, Length
from kits.recipe.arrange.bundles import Units, bundled, selections
from kits.recipe.arrange.even import Evenly
from kits.recipe.arrange.lattice import Lattice
from kits.recipe.arrange.lay import Layer
from kits.recipe.arrange.plan import Plan, best_plan, is_small, offcut_area
from kits.recipe.arrange.sides import Sides
from kits.recipe.arrange.units import Hole, PieceUnit
from kits.recipe.hand import FIRST_WAY

TASTES = (0.0, -0.1)  # ways to bundle
BUNDLED_SELECTIONS = 1_024
HELD_SELECTIONS = 128  # of the few units that are looked at for one sheet where even bundles are too many
MOST_SHAPES = 4
SHAPE_EFFORT = 600  # rectangles
PIECES_IN_ALL_TASTES = 50

Pieces = tuple[tuple[PieceUnit, int], ...]


def plans(pieces: Pieces, sides: Sides, step: Length) -> Iterator[Plan]:
    """Yield plans, those that may come out even first."""
    yield from even_plans(pieces, sides, step)
    many = sum(count for _, count in pieces) > PIECES_IN_ALL_TASTES
    for taste in TASTES[:1] if many else TASTES:
        yield bundled_plan(pieces, sides, taste)


# --- Sheets that come out even ---


def even_plans(pieces: Pieces, sides: Sides, step: Length) -> Iterator[Plan]:
    """Yield plans in which one sheet is used up, or nothing but one rectangle of it."""
    wanted, sheet = sum(unit.area * count for unit, count in pieces), sides.width * sides.height
    if wanted > sheet:
        yield from _after_a_full_sheet(pieces, sides)
        return
    for shape in _shapes(sheet - wanted, sides, step):
        hole = [(Hole(*shape), 1)] if shape else []
        found = next(Evenly((*pieces, *hole), sides, 0, SHAPE_EFFORT).full_sheets(), None)
        if found:
            yield Plan(
                (found.part(sides.width, sides.height),), sheet - wanted, sheet - wanted, sheet - wanted
            )
            return


def _shapes(area: Area, sides: Sides, step: Length) -> list[tuple[Length, Length] | None]:
    """Return rectangles of exactly this area, the squarest first."""
    if not area:
        return [None]
    widths = [width for width in range(step, sides.width + 1, step) if area % width == 0]
    shapes = [(width, area // width) for width in widths]
    on_marks = [each for each in shapes if each[1] == sides.height or each[1] % step == 0]
    fitting = [each for each in on_marks if each[1] <= sides.height]
    return [*sorted(fitting, key=lambda each: -min(each))[:MOST_SHAPES]]


def _after_a_full_sheet(pieces: Pieces, sides: Sides) -> Iterator[Plan]:
    full = next(Evenly(pieces, sides, 0, SHAPE_EFFORT).full_sheets(), None)
    if full is None:
        return
    left = zip(pieces, full.counts.tolist(), strict=True)
    rest: Pieces = tuple((unit, count - used) for (unit, count), used in left if count > used)
    plan = bundled_plan(rest, sides, TASTES[0]) if rest else Plan((), 0, 0, 0)
    yield Plan(
        (full.part(sides.width, sides.height), *plan.sheets), plan.offcut, plan.offcut_bound, plan.waste
    )


# --- Pieces kept together ---


def bundled_plan(units: Units, sides: Sides, taste: float) -> Plan:
    """Return a plan that keeps some pieces together; where that is not enough some sheets are filled one by one."""
    units = bundled(units, sides, BUNDLED_SELECTIONS, taste)
    filled: list[Part] = []
    while not is_small(units, sides, BUNDLED_SELECTIONS):
        part, units = _one_sheet(units, sides)
        filled.append(part)
    plan = best_plan(units, sides) if units else Plan((), 0, 0, 0)
    sheets = (*filled, *plan.sheets)
    waste = plan.waste + sum(part.width * part.height - piece_area(part) for part in filled)
    return Plan(sheets, max(map(offcut_area, sheets)), waste, waste)


def _one_sheet(units: Units, sides: Sides) -> tuple[Part, Units]:
    """Fill a sheet with the largest unit and what fits best beside it; return it and the units that are left."""
    ordered = sorted(units, key=lambda each: -each[0].area)
    held: Units = ()
    for each in ordered:
        held = (*held, each) if selections((*held, each)) <= HELD_SELECTIONS else held
    held = held or ((ordered[0][0], 1),)
    lattice = Lattice(held, sides)
    states = np.flatnonzero(lattice.fits & (np.arange(lattice.full + 1) % (held[0][1] + 1) > 0))
    state = int(states[np.argmax(lattice.area[states])])
    used = {id(unit): copies for (unit, _), copies in zip(held, lattice.copies(state), strict=True)}
    left = [(unit, count - used.get(id(unit), 0)) for unit, count in units]
    part = Layer(lattice).lay(state, sides.width, sides.height, FIRST_WAY).part
    return part, tuple((unit, count) for unit, count in left if count)
