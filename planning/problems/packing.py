"""The packing step's question: what lies in each different box."""

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction

from kits.catalogue import Material, MaterialKind
from kits.kit import PreCut
from kits.measures import format_length
from planning.cutting import CuttingResult
from planning.month import Month
from planning.packing import BoxProblem, Container, PackingProblem, PackItem, PackLine
from planning.problems.requirements import all_pre_cuts, bill_of, demands_of, length_code
from planning.requirements import BillLine, Kind, RequirementsProblem, item, kind_of, plan_requirements
from planning.roster import Contents, RosterResult

LEAVES = (Kind.PIECE, Kind.LENGTH, Kind.MATERIAL)


def packing_problem(month: Month, roster: RosterResult, cutting: CuttingResult) -> PackingProblem:
    """Ask about every different box of the roster."""
    boxes: Counter[Contents] = Counter()
    for one in roster.classes:
        boxes[one.contents] += one.boxes
    bill, items = bill_of(month), pack_items(month, cutting)
    cartons = {item(Kind.MATERIAL, one.code): carton(one) for one in month.materials if one.is_container}
    return PackingProblem(
        boxes=tuple(box_problem(one, boxes[one], bill, items, cartons) for one in sorted(boxes)),
        flat_clearance=month.club.flat_clearance,
        weight_tolerance=month.club.weight_tolerance,
        minutes_per_box=month.club.minutes_per_box,
        minutes_per_line=month.club.minutes_per_line,
    )


def box_problem(
    contents: Contents,
    boxes: int,
    bill: tuple[BillLine, ...],
    items: dict[str, PackItem],
    cartons: dict[str, Container],
) -> BoxProblem:
    """List what one box holds, its carton apart."""
    exploded = plan_requirements(RequirementsProblem(demands=tuple(demands_of(contents)), bill=bill))
    counts: Counter[str] = Counter()
    for use in exploded.uses:
        if kind_of(use.item) in LEAVES:
            counts[use.item] += use.count
    container = next((cartons[name] for name in counts if name in cartons), None)
    if container is not None:
        counts[container.item] -= 1
    lines = (PackLine(item=items[name], count=count) for name, count in counts.items() if count)
    return BoxProblem(
        contents=contents,
        boxes=boxes,
        lines=tuple(sorted(lines, key=lambda line: bench_order(line.item, items))),
        container=container,
    )


def bench_order(one: PackItem, items: dict[str, PackItem]) -> tuple[bool, int]:
    """Order a box's lines as the catalogue has them, wrapping last."""
    return one.packaging, list(items).index(one.item)


def pack_items(month: Month, cutting: CuttingResult) -> dict[str, PackItem]:
    """Return everything that may lie in a box, by the bill's name: sheets, pieces, lengths, other goods."""
    materials = {one.code: one for one in month.materials}
    cut_from = cutting.sources
    sheets = [whole(one) for one in month.materials if one.kind is MaterialKind.SHEET]
    pieces = [
        piece(one, [materials[code] for code in cut_from.get(item(Kind.PIECE, one.code), one.cut_from[:1])])
        for one in all_pre_cuts(month)
    ]
    lengths = [
        length_item(materials[line.item], line.length) for line in month.kit_lines if line.length is not None
    ]
    others = [whole(one) for one in month.materials if one.kind is not MaterialKind.SHEET]
    return {one.item: one for one in (*sheets, *pieces, *lengths, *others)}


def whole(one: Material) -> PackItem:
    """Return a material that goes in as it is bought."""
    return PackItem(
        item=item(Kind.MATERIAL, one.code),
        name=one.name,
        weight=one.weight_each(),
        paper=one.kind is MaterialKind.SHEET,
        width=one.width,
        height=one.height,
        thickness=one.thickness or Fraction(0),
        packaging=one.kind is MaterialKind.PACKAGING,
    )


def piece(pre_cut: PreCut, sheets: Sequence[Material]) -> PackItem:
    """Return a piece, as heavy and as thick as the heaviest and the thickest sheet it is cut from make it."""
    return PackItem(
        item=item(Kind.PIECE, pre_cut.code),
        name=pre_cut.name,
        weight=max(sheet.weight_of_piece(pre_cut.width, pre_cut.height) for sheet in sheets),
        paper=True,
        width=pre_cut.width,
        height=pre_cut.height,
        thickness=max(sheet.thickness or Fraction(0) for sheet in sheets),
    )


def length_item(roll: Material, length: int) -> PackItem:
    """Return a length cut from a roll; it lies wound up and adds what its thickness says."""
    return PackItem(
        item=item(Kind.LENGTH, length_code(roll.code, length)),
        name=f"{roll.name}, {format_length(length)}",
        weight=roll.weight_of_length(length),
        thickness=roll.thickness or Fraction(0),
    )


def carton(one: Material) -> Container:
    """Return a carton: room inside, size outside (as the inside where the outside is not known)."""
    inside = (one.inside_width or 0, one.inside_height or 0, one.inside_depth or 0)
    outside = (one.width or inside[0], one.height or inside[1], max(int(one.thickness or 0), inside[2]))
    return Container(
        item=item(Kind.MATERIAL, one.code),
        name=one.name,
        weight=one.weight_each(),
        inside=inside,
        outside=outside,
    )
