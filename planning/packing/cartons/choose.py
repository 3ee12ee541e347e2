"""The rule of cartons: the cheapest that takes all; else as few parcels as can be, each in its cheapest carton."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from kits.measures import MM, format_length, format_weight
from planning.packing.cartons.cures import just_over
from planning.packing.cartons.model import (
    Carton,
    CartonError,
    CartonsProblem,
    CartonsResult,
    PackedBox,
    PackedParcel,
    ToPack,
)
from planning.packing.cartons.room import Need, best_carton, need, needed, outside
from planning.packing.cartons.split import Units, at_least, fewest
from planning.packing.items import PackItem, PackLine, merged


def plan_cartons(problem: CartonsProblem) -> CartonsResult:
    """Choose cartons for every box. Raises CartonError where two cartons have one code."""
    codes = [carton.container.item for carton in problem.cartons]
    if len(set(codes)) < len(codes):
        raise CartonError("two cartons have the same code: rename one")
    return CartonsResult(boxes=tuple(pack(box, problem) for box in problem.boxes))


def pack(box: ToPack, problem: CartonsProblem) -> PackedBox:
    """Pack one box: what fits no carton by itself is left and told."""
    wrapping = needed(box.wrapping, problem.weight_tolerance)
    alone = {line: best(one_of(line, problem) + wrapping, problem) is not None for line in box.lines}
    lines = [line for line in box.lines if alone[line]]
    left = tuple(line for line in box.lines if not alone[line])
    parcels, least = into_parcels(lines, wrapping, problem) if lines else ([], 0)
    return PackedBox(
        name=box.name,
        parcels=tuple(packed(merged(parcel + box.wrapping), problem) for parcel in parcels),
        left=left,
        least=least,
        faults=tuple(why_left(line.item, wrapping, problem) for line in left),
    )


def into_parcels(
    lines: Sequence[PackLine], wrapping: Need, problem: CartonsProblem
) -> tuple[list[tuple[PackLine, ...]], int]:
    """Return the lines of each parcel and how few parcels they are proved to need."""
    counts, least = fewest(
        [Units(one_of(line, problem), line.count) for line in lines],
        lambda wanted: best(wanted + wrapping, problem) is not None,
        at_least(needed(lines, problem.weight_tolerance), *room_beside(wrapping, problem.cartons)),
    )
    parcels = [
        tuple(replace(line, count=count) for line, count in zip(lines, row, strict=True) if count)
        for row in counts
    ]
    return [parcel for parcel in parcels if parcel], least


def room_beside(wrapping: Need, cartons: Sequence[Carton]) -> tuple[Fraction, Fraction | None]:
    """Return the greatest depth and weight that a carton has beside the wrapping (None without limit)."""
    limits = [carton.most for carton in cartons]
    known = [most for most in limits if most is not None]
    depth = max(carton.container.inside[2] for carton in cartons)
    most = max(known) - wrapping.grams if len(known) == len(limits) else None
    return depth - wrapping.stack, most


def packed(lines: tuple[PackLine, ...], problem: CartonsProblem) -> PackedParcel:
    """Put lines that fit into their best carton, and look at the limits."""
    wanted = needed(lines, problem.weight_tolerance)
    carton = best(wanted, problem)
    if carton is None:
        raise ValueError("a parcel of the packing fits no carton")
    parcel = put_into(carton, lines, problem)
    return replace(parcel, just_over=tuple(just_over(parcel, problem)))


def put_into(carton: Carton, lines: tuple[PackLine, ...], problem: CartonsProblem) -> PackedParcel:
    """Return a parcel of a carton, whether it has the room or not."""
    wanted = needed(lines, problem.weight_tolerance)
    return PackedParcel(
        lines=lines,
        carton=carton,
        weight=carton.container.weight + sum((one.item.weight * one.count for one in lines), Fraction(0)),
        heaviest=carton.container.weight + wanted.grams,
        stack=wanted.stack,
        outside=outside(carton, wanted.stack),
    )


def best(wanted: Need, problem: CartonsProblem) -> Carton | None:
    """Return the cheapest carton with the room, None where none has it."""
    return best_carton(wanted, problem.cartons, problem.clearance)


def one_of(line: PackLine, problem: CartonsProblem) -> Need:
    """Return what a single item of a line needs."""
    return need(line.item, 1, problem.weight_tolerance)


def why_left(item: PackItem, wrapping: Need, problem: CartonsProblem) -> str:
    """Say why an item fits no carton by itself."""
    if not problem.cartons:
        return f"{item.name}: there is no carton to choose from; add one"
    wanted = need(item, 1, problem.weight_tolerance) + wrapping
    reasons = "; ".join(
        f"{one.container.name}: {' and '.join(misfits(wanted, one, problem.clearance))}"
        for one in problem.cartons
    )
    return f"{item.name} fits no carton by itself ({reasons}): add a larger one"


def misfits(wanted: Need, carton: Carton, clearance: int) -> Iterator[str]:
    """Yield what a carton lacks."""
    short, long = sorted(side - clearance for side in carton.container.inside[:2])
    if wanted.short > short or wanted.long > long:
        flat = f"{format_length(wanted.short)} x {format_length(wanted.long)}"
        yield f"{flat} does not lie flat with {format_length(clearance)} to spare"
    if wanted.stack > carton.container.inside[2]:
        over = Fraction(wanted.stack - carton.container.inside[2], MM)
        yield f"{float(over):.1f} mm too high"
    if carton.most is not None and wanted.grams > carton.most:
        yield f"{format_weight(wanted.grams - carton.most)} too heavy"
