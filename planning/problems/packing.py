"""The packing step's question: what lies in each different box."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from functools import lru_cache

from kits.catalogue import Material, MaterialKind
from kits.kit import PreCut
from kits.measures import format_length
from planning.contents import Assortment, ContentsResult
from planning.cutting import CuttingResult
from planning.month import Month
from planning.names import names_of, thing
from planning.packing import BoxProblem, Carton, Extra, PackingProblem, PackItem, PackLine, Without
from planning.problems.cartons import cartons_by_tier, limits_of
from planning.problems.items import length_code
from planning.problems.requirements import all_pre_cuts, bill_of
from planning.requirements import (
    BillLine,
    Demand,
    Kind,
    RequirementsProblem,
    item,
    kind_of,
    plan_requirements,
)
from planning.roster import Contents, RosterResult

LEAVES = (Kind.PIECE, Kind.LENGTH, Kind.MATERIAL)


def packing_problem(
    month: Month, roster: RosterResult, contents: ContentsResult, cutting: CuttingResult
) -> PackingProblem:
    """Ask about every different box of the roster, filled as the contents step says."""
    boxes: Counter[Contents] = Counter()
    for one in roster.classes:
        boxes[one.contents] += one.boxes
    filled = {one.held: one.contents for one in contents.boxes}
    shelf = Shelf(month, cutting)
    cartons = cartons_by_tier(month, boxes.total())
    return PackingProblem(
        boxes=tuple(
            box_problem(one, filled[one], boxes[one], shelf, cartons[one.tier]) for one in sorted(boxes)
        ),
        flat_clearance=month.club.flat_clearance,
        weight_tolerance=month.club.weight_tolerance,
        minutes_per_box=month.club.minutes_per_box,
        minutes_per_line=month.club.minutes_per_line,
        minutes_per_parcel=month.club.minutes_per_parcel,
        limits=limits_of(month),
        near=month.club.just_over,
    )


class Shelf:
    """Everything that may lie in a box, by the bill's names, and how a box's goods come down to it."""

    def __init__(self, month: Month, cutting: CuttingResult) -> None:
        self.items = pack_items(month, cutting)
        self.names = names_of(month)
        self._bill = bill_of(month)
        self._order = {name: at for at, name in enumerate(self.items)}

    def leaves(self, goods: Iterable[tuple[str, int]]) -> Counter[str]:
        """Count what goods come down to: a recipe to its sheets and pieces, packaging to its parts."""
        counts: Counter[str] = Counter()
        demands = []
        for name, count in goods:
            if kind_of(name) in LEAVES:
                counts[name] += count
            else:
                demands.append(Demand(item=name, count=count))
        for name, count in leaves_of(tuple(demands), self._bill):
            counts[name] += count
        return counts

    def lines(self, goods: Iterable[tuple[str, int]]) -> tuple[PackLine, ...]:
        """Return goods as the bench sees them."""
        counts = self.leaves(goods)
        lines = [PackLine(item=self.items[name], count=count) for name, count in counts.items() if count]
        return tuple(sorted(lines, key=lambda line: self.bench_order(line.item)))

    def bench_order(self, one: PackItem) -> tuple[bool, int]:
        """Order a box's lines as the catalogue has them, wrapping last."""
        return one.packaging, self._order[one.item]


@lru_cache(maxsize=1024)  # boxes alike hold the same, however many they are
def leaves_of(demands: tuple[Demand, ...], bill: tuple[BillLine, ...]) -> tuple[tuple[str, int], ...]:
    """Return what demands come down to by the bill."""
    uses = plan_requirements(RequirementsProblem(demands=demands, bill=bill)).uses
    return tuple((use.item, use.count) for use in uses if kind_of(use.item) in LEAVES)


def box_problem(
    contents: Contents, goods: Assortment, boxes: int, shelf: Shelf, cartons: tuple[Carton, ...]
) -> BoxProblem:
    """List what one box holds, and what wraps each of its parcels."""
    wrapping = item(Kind.WRAPPING if contents.kit else Kind.ORDER_WRAPPING, contents.tier)
    return BoxProblem(
        contents=contents,
        boxes=boxes,
        lines=shelf.lines(goods.goods),
        wrapping=shelf.lines([(wrapping, 1)]),
        cartons=cartons,
        signature=goods.signature,
        extras=tuple(extras_of(contents, shelf)),
        without=tuple(without(contents, shelf)),
    )


def extras_of(contents: Contents, shelf: Shelf) -> Iterator[Extra]:
    """Yield what is in a box and not of its tier's kit, in the order of its lines."""
    for change in (*contents.changes, *contents.besides):
        if change.count > 0:
            instead = thing(change.instead, shelf.names) if change.instead else ""
            for name, count in shelf.leaves([(change.item, change.count)]).items():
                yield Extra(item=shelf.items[name], count=count, why=change.why, instead=instead)


def without(contents: Contents, shelf: Shelf) -> Iterator[Without]:
    """Yield what rules took out of a box and put nothing in for."""
    replaced = {change.instead for change in (*contents.changes, *contents.besides)}
    for change in contents.changes:
        if change.count < 0 and change.item not in replaced:
            yield Without(name=thing(change.item, shelf.names), count=-change.count, why=change.why)


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
