"""The rule of the packing step."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from kits.measures import MM, format_length
from planning.packing.model import (
    BoxProblem,
    BoxSpec,
    Container,
    PackingProblem,
    PackingResult,
    PackItem,
    PackLine,
)


def plan_packing(problem: PackingProblem) -> PackingResult:
    """Work out weight, stack, fit and minutes of every different box."""
    return PackingResult(boxes=tuple(box_spec(box, problem) for box in problem.boxes))


def box_spec(box: BoxProblem, problem: PackingProblem) -> BoxSpec:
    """Work out one box."""
    carton = box.container.weight if box.container else Fraction(0)
    nominal = sum((line.item.weight * line.count for line in box.lines), carton)
    paper = sum((line.item.weight * line.count for line in box.lines if line.item.paper), Fraction(0))
    stack = sum((line.item.thickness * line.count for line in box.lines), Fraction(0))
    return BoxSpec(
        contents=box.contents,
        boxes=box.boxes,
        lines=box.lines,
        container=box.container,
        weight=nominal,
        heaviest=nominal + paper * Fraction(problem.weight_tolerance) / 100,
        stack=stack,
        minutes=problem.minutes_per_box + len(box.lines) * problem.minutes_per_line,
        faults=tuple(misfits(box, stack, problem.flat_clearance)),
        signature=box.signature,
        extras=box.extras,
        without=box.without,
    )


def misfits(box: BoxProblem, stack: Fraction, clearance: int) -> Iterator[str]:
    """Yield why the contents do not fit the carton."""
    if box.container is None:
        yield "no carton is named for it"
        return
    for item in too_wide(box.lines, box.container, clearance):
        inside = f"{format_length(box.container.inside[0])} x {format_length(box.container.inside[1])}"
        size = f"{format_length(item.width or 0)} x {format_length(item.height or 0)}"
        yield (
            f"{item.name}, {size}, does not lie flat in {box.container.name}, {inside} inside, with "
            f"{format_length(clearance)} to spare"
        )
    if stack > box.container.inside[2]:
        over = Fraction(stack - box.container.inside[2], MM)
        yield f"the stack is {float(over):.1f} mm higher than {box.container.name} is deep inside"


def too_wide(lines: Sequence[PackLine], container: Container, clearance: int) -> Iterator[PackItem]:
    """Yield the items that lie flat neither way round."""
    room = sorted(side - clearance for side in container.inside[:2])
    for line in lines:
        if line.item.width is None or line.item.height is None:
            continue
        short, long = sorted((line.item.width, line.item.height))
        if short > room[0] or long > room[1]:
            yield line.item
