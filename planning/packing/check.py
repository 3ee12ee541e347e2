"""The checker of packing: the boxes are those asked for, their cartons pass `cartons/check.py`, minutes are counted anew."""

from collections import Counter
from collections.abc import Iterable, Iterator

from planning.packing.cartons import CartonsProblem, CartonsResult, PackedBox, ToPack, cartons_faults
from planning.packing.items import PackLine
from planning.packing.model import BoxProblem, BoxSpec, PackingProblem, PackingResult


def packing_faults(problem: PackingProblem, result: PackingResult) -> tuple[str, ...]:
    """Return every way in which the boxes are not packed as asked."""
    asked = [(box.contents, box.boxes) for box in problem.boxes]
    if asked != [(spec.contents, spec.boxes) for spec in result.boxes]:
        return ("the boxes packed are not the boxes asked for",)
    return tuple(
        f"{box.contents.name}: {fault}"
        for box, spec in zip(problem.boxes, result.boxes, strict=True)
        for fault in box_faults(box, spec, problem)
    )


def box_faults(box: BoxProblem, spec: BoxSpec, problem: PackingProblem) -> Iterator[str]:
    """Yield the faults of one box."""
    parcels = len(spec.parcels)
    kinds = {line.item.item for line in (*box.lines, *box.wrapping)}
    minutes = problem.minutes_per_box + problem.minutes_per_line * len(kinds)
    minutes += problem.minutes_per_parcel * (parcels - 1 if parcels else 0)
    if spec.minutes != minutes:
        yield f"packing one takes {minutes} minutes, not {spec.minutes}"
    if spec.parcels and counted(spec.lines) != sum((counted(one.lines) for one in spec.parcels), Counter()):
        yield "its lines are not what lies in its parcels"
    if not spec.faults:
        yield from cartons_faults(question(box, problem), answer(spec))
    elif box.cartons and parcels != 1:
        yield "what does not fit is not in one carton"


def question(box: BoxProblem, problem: PackingProblem) -> CartonsProblem:
    """Ask for the cartons of a box again."""
    return CartonsProblem(
        boxes=(ToPack(name="box", lines=box.lines, wrapping=box.wrapping),),
        cartons=box.cartons,
        clearance=problem.flat_clearance,
        weight_tolerance=problem.weight_tolerance,
        limits=problem.limits,
        near=problem.near,
    )


def answer(spec: BoxSpec) -> CartonsResult:
    """Return the parcels of a box in which everything fits."""
    packed = PackedBox(name="box", parcels=spec.parcels, left=(), least=spec.least, faults=())
    return CartonsResult(boxes=(packed,))


def counted(lines: Iterable[PackLine]) -> Counter[str]:
    """Count items."""
    found: Counter[str] = Counter()
    for line in lines:
        found[line.item.item] += line.count
    return found
