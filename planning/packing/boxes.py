"""The rule of the packing step: cartons by `cartons/`, then each box's lines, weight and minutes."""

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from planning.packing.cartons import (
    Carton,
    CartonsProblem,
    PackedBox,
    PackedParcel,
    ToPack,
    plan_cartons,
    put_into,
)
from planning.packing.items import PackLine, merged
from planning.packing.model import BoxProblem, BoxSpec, PackingProblem, PackingResult


def plan_packing(problem: PackingProblem) -> PackingResult:
    """Work out cartons, parcels, weight and minutes of every different box. Raises CartonError."""
    return PackingResult(boxes=tuple(box_spec(box, problem) for box in problem.boxes))


def box_spec(box: BoxProblem, problem: PackingProblem) -> BoxSpec:
    """Work out one box. What fits no carton goes into the roomiest with all the rest, and is told."""
    asked = cartons_problem(box, problem)
    packed = packed_box(asked)
    parcels, faults = packed.parcels, packed.faults
    if packed.left and box.cartons:
        parcels = (put_into(roomiest(box.cartons), merged(box.lines + box.wrapping), asked),)
    if not box.cartons:
        faults = ("no carton is named for it",)
    lines = all_lines(box, parcels)
    more = max(len(parcels) - 1, 0)
    return BoxSpec(
        contents=box.contents,
        boxes=box.boxes,
        lines=lines,
        parcels=parcels,
        least=packed.least if parcels == packed.parcels else len(parcels),
        minutes=problem.minutes_per_box
        + len(lines) * problem.minutes_per_line
        + more * problem.minutes_per_parcel,
        faults=faults,
        signature=box.signature,
        extras=box.extras,
        without=box.without,
    )


@lru_cache(maxsize=4_096)  # other counts of the same boxes, as a cost curve asks for them, are packed alike
def packed_box(asked: CartonsProblem) -> PackedBox:
    """Return the parcels of one box."""
    return plan_cartons(asked).boxes[0]


def cartons_problem(box: BoxProblem, problem: PackingProblem) -> CartonsProblem:
    """Ask for the cartons of one box."""
    return CartonsProblem(
        boxes=(ToPack(name=box.contents.name, lines=box.lines, wrapping=box.wrapping),),
        cartons=box.cartons,
        clearance=problem.flat_clearance,
        weight_tolerance=problem.weight_tolerance,
        limits=problem.limits,
        near=problem.near,
    )


def roomiest(cartons: Sequence[Carton]) -> Carton:
    """Return the carton with the most room inside, of equal ones the first by code."""
    return min(cartons, key=lambda one: (-volume(one.container.inside), one.container.item))


def volume(sides: tuple[int, int, int]) -> int:
    """Return the volume of three sides."""
    return sides[0] * sides[1] * sides[2]


def all_lines(box: BoxProblem, parcels: Sequence[PackedParcel]) -> tuple[PackLine, ...]:
    """Return the lines of all parcels added up: the box's own, then the wrapping of each parcel."""
    times = max(len(parcels), 1)
    return merged((*box.lines, *(replace(one, count=one.count * times) for one in box.wrapping)))
