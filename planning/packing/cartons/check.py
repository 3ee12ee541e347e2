"""The checker of cartons. It shares no code with the choice: it opens each parcel and measures it again."""

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil

from planning.packing.cartons.model import (
    Carton,
    CartonsProblem,
    CartonsResult,
    Cure,
    PackedBox,
    PackedParcel,
    PostLimit,
    Remedy,
    ToPack,
)
from planning.packing.items import PackItem, PackLine

Piece = tuple[PackItem, Fraction, Fraction]  # an item, its thickness and its nominal grams


def cartons_faults(problem: CartonsProblem, result: CartonsResult) -> tuple[str, ...]:
    """Return every way in which the packing is not what the contents, the cartons and the limits allow."""
    if [box.name for box in problem.boxes] != [box.name for box in result.boxes]:
        return ("the boxes packed are not the boxes asked for",)
    pairs = zip(problem.boxes, result.boxes, strict=True)
    return tuple(
        f"{asked.name}: {fault}" for asked, box in pairs for fault in box_faults(asked, box, problem)
    )


def box_faults(asked: ToPack, box: PackedBox, problem: CartonsProblem) -> Iterator[str]:
    """Yield the faults of one box."""
    wrapping = Counter({name: count * len(box.parcels) for name, count in counted(asked.wrapping).items()})
    if counted(asked.lines) + wrapping != counted(box.left) + sum(
        (counted(one.lines) for one in box.parcels), Counter()
    ):
        yield "what is packed and left is not what was asked for"
    for line in box.left:
        alone = [piece(line.item), *opened(asked.wrapping)]
        if any(takes(alone, carton, problem) for carton in problem.cartons):
            yield f"{line.item.name} was left, and fits a carton"
    if len(box.left) != len(box.faults) or box.least > len(box.parcels):
        yield "what is said of it is not so"
    kept = [line for line in asked.lines if line not in box.left]
    everything = opened([*kept, *asked.wrapping])
    if len(box.parcels) > 1 and any(takes(everything, carton, problem) for carton in problem.cartons):
        yield "one carton takes all of it"
    for number, parcel in enumerate(box.parcels, 1):
        yield from (f"parcel {number} {fault}" for fault in parcel_faults(parcel, problem))


def parcel_faults(parcel: PackedParcel, problem: CartonsProblem) -> Iterator[str]:
    """Yield the faults of one parcel."""
    pieces = opened(parcel.lines)
    if parcel.carton not in problem.cartons or not takes(pieces, parcel.carton, problem):
        yield "does not fit its carton"
    if any(takes(pieces, one, problem) and one.price < parcel.carton.price for one in problem.cartons):
        yield "fits a cheaper carton"
    nominal = parcel.carton.container.weight + sum(grams for _, _, grams in pieces)
    measured = nominal, scale(pieces, parcel.carton, problem), height(pieces), size(pieces, parcel.carton)
    if measured != (parcel.weight, parcel.heaviest, parcel.stack, parcel.outside):
        yield "is not as heavy or as large as is said"
    told = {one.limit: one for one in parcel.just_over}
    for limit in problem.limits:
        over = over_it(pieces, parcel.carton, problem, limit)
        if not over and limit in told:
            yield f"is not over {limit.name}"
        if over and near(parcel, problem, limit) != (limit in told):
            yield f"is wrongly told of {limit.name}"
        for cure in told[limit].cures if limit in told else ():
            if over_it(cured(parcel, cure), carton_of(cure, problem), problem, limit):
                yield f"stays over {limit.name} if one does: {cure.words}"


def near(parcel: PackedParcel, problem: CartonsProblem, limit: PostLimit) -> bool:
    """Tell whether everything measured is at most a little beyond a limit."""
    share = 1 + Fraction(problem.near) / 100
    thick = limit.thickness is None or min(parcel.outside) <= limit.thickness * share
    return thick and (limit.weight is None or parcel.heaviest <= limit.weight * share)


def over_it(pieces: Sequence[Piece], carton: Carton, problem: CartonsProblem, limit: PostLimit) -> bool:
    """Tell whether pieces in a carton are beyond a limit, or do not fit it."""
    thick = limit.thickness is not None and min(size(pieces, carton)) > limit.thickness
    heavy = limit.weight is not None and scale(pieces, carton, problem) > limit.weight
    return thick or heavy or not takes(pieces, carton, problem)


def cured(parcel: PackedParcel, cure: Cure) -> list[Piece]:
    """Open a parcel and do what a cure says."""
    pieces = opened(parcel.lines)
    mine = [one for one in pieces if one[0].item == cure.item]
    rest = [one for one in pieces if one[0].item != cure.item]
    if cure.remedy is Remedy.FEWER:
        return rest + mine[int(cure.amount) :]
    if cure.remedy is Remedy.THINNER:
        return rest + [(item, cure.amount, grams) for item, _, grams in mine]
    if cure.remedy is Remedy.LIGHTER:
        return rest + [(item, thick, cure.amount) for item, thick, _ in mine]
    return pieces


def carton_of(cure: Cure, problem: CartonsProblem) -> Carton:
    """Return the carton a cure names."""
    return next(one for one in problem.cartons if one.container.item == cure.carton)


def piece(item: PackItem) -> Piece:
    """Take one item in hand."""
    return item, item.thickness, item.weight


def opened(lines: Sequence[PackLine]) -> list[Piece]:
    """Lay out every single item."""
    return [piece(line.item) for line in lines for _ in range(line.count)]


def counted(lines: Sequence[PackLine]) -> Counter[str]:
    """Count items."""
    return Counter(item.item for item, _, _ in opened(lines))


def height(pieces: Sequence[Piece]) -> Fraction:
    """Stack everything."""
    return sum((thick for _, thick, _ in pieces), Fraction(0))


def scale(pieces: Sequence[Piece], carton: Carton, problem: CartonsProblem) -> Fraction:
    """Weigh a packed carton with its paper as heavy as it may be."""
    return carton.container.weight + load(pieces, problem)


def load(pieces: Sequence[Piece], problem: CartonsProblem) -> Fraction:
    """Weigh the contents with their paper as heavy as it may be."""
    more = Fraction(problem.weight_tolerance) / 100
    return sum((grams + (grams * more if item.paper else 0) for item, _, grams in pieces), Fraction(0))


def size(pieces: Sequence[Piece], carton: Carton) -> tuple[int, int, int]:
    """Measure a packed carton."""
    a, b, c = carton.container.outside
    return (a, b, c - carton.container.inside[2] + ceil(height(pieces))) if carton.soft else (a, b, c)


def takes(pieces: Sequence[Piece], carton: Carton, problem: CartonsProblem) -> bool:
    """Try every item both ways round, then the lid and the scales."""
    a, b, depth = carton.container.inside
    room = a - problem.clearance, b - problem.clearance
    for item, _, _ in pieces:
        w, h = item.width or 0, item.height or 0
        if not ((w <= room[0] and h <= room[1]) or (h <= room[0] and w <= room[1])):
            return False
    return height(pieces) <= depth and (carton.most is None or load(pieces, problem) <= carton.most)
