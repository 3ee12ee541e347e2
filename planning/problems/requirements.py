"""The requirements step's question: the month's bill of materials and what the boxes ask of it."""

from collections import Counter
from collections.abc import Iterable, Iterator

from kits.catalogue import Overs
from kits.kit import Direction, ItemKind, KitLine, PreCut, When
from kits.recipe import CutBy, RecipePiece
from planning.month import Month
from planning.overs import Operation
from planning.packing import PackingResult
from planning.problems.cartons import carton_codes, is_choice
from planning.problems.items import kit_item, length_code
from planning.recipes import paper_roles, recipe_pieces
from planning.requirements import (
    BillLine,
    Demand,
    ItemOvers,
    Kind,
    OnHand,
    RequirementsProblem,
    code_of,
    item,
    kind_of,
)
from planning.roster import Contents, RosterResult


def requirements_problem(
    month: Month, roster: RosterResult, packing: PackingResult | None = None
) -> RequirementsProblem:
    """Ask for everything the month's boxes hold.

    packing: how they are packed, as soon as that is known; until then each is one parcel, without its carton.
    """
    asked: Counter[str] = Counter()
    for one in roster.classes:
        for demand in demands_of(one.contents):
            asked[demand.item] += demand.count * one.boxes
    bill = (*bill_of(month), *single_lines(asked))
    if packing is not None:
        asked.update(wrapping_of_more(packing))
        cartons = tuple(carton_lines(packing))
        asked.update({line.parent: 1 for line in cartons})
        bill += cartons
    return RequirementsProblem(
        demands=tuple(Demand(item=name, count=count) for name, count in sorted(asked.items())),
        bill=bill,
        on_hand=tuple(pieces_on_shelf(month)),
        overs=tuple(overs_of(month)),
    )


def wrapping_of_more(packing: PackingResult) -> Counter[str]:
    """Count what wraps the parcels of boxes beyond their first."""
    more: Counter[str] = Counter()
    for spec in packing.boxes:
        kind = Kind.WRAPPING if spec.contents.kit else Kind.ORDER_WRAPPING
        more[item(kind, spec.contents.tier)] += spec.boxes * max(len(spec.parcels) - 1, 0)
    return +more


def carton_lines(packing: PackingResult) -> Iterator[BillLine]:
    """Yield how many of each carton all boxes of a tier go into, and all its parcels of one-off goods alone."""
    counts: Counter[tuple[str, str]] = Counter()
    for spec in packing.boxes:
        kind = Kind.CARTONS if spec.contents.kit else Kind.ORDER_CARTONS
        for one, count in spec.cartons.items():
            counts[item(kind, spec.contents.tier), one.item] += count * spec.boxes
    for (parent, name), count in sorted(counts.items()):
        yield BillLine(parent=parent, item=name, per=count)


def demands_of(contents: Contents) -> Iterator[Demand]:
    """Yield what one box asks for; what a rule takes out of the tier's kit it asks for less of."""
    if contents.kit:
        yield Demand(item=item(Kind.KIT, contents.tier), count=1)
        yield Demand(item=item(Kind.WRAPPING, contents.tier), count=1)
    else:
        yield Demand(item=item(Kind.ORDER_WRAPPING, contents.tier), count=1)
    for change in contents.changes:
        kind = Kind.ADDED if change.count > 0 else Kind.LEFT_OUT
        yield Demand(item=item(kind, of_tier(contents.tier, change.item)), count=change.count)
    for own in contents.besides:
        yield Demand(item=item(Kind.ORDER, own.item), count=own.count)


SINGLE = (Kind.ADDED, Kind.LEFT_OUT, Kind.ORDER)
"""Demands for one thing each, by its own name in the bill."""


def single_lines(demands: Iterable[str]) -> Iterator[BillLine]:
    """Yield what such demands stand for."""
    for name in sorted(demands):
        if kind_of(name) in SINGLE:
            yield BillLine(parent=name, item=single_item(name), per=1)


def of_tier(tier: str, name: str) -> str:
    """Join a tier and an item; no code holds a semicolon."""
    return f"{tier};{name}"


def single_item(demand: str) -> str:
    """Return the one item that a demand is for."""
    code = code_of(demand)
    return code if kind_of(demand) is Kind.ORDER else code.partition(";")[2]


def tier_of(demand: str) -> str:
    """Return the tier whose boxes a demand is for, nothing where it is somebody's own."""
    if kind_of(demand) in (Kind.KIT, Kind.WRAPPING, Kind.CARTONS):
        return code_of(demand)
    return code_of(demand).partition(";")[0] if kind_of(demand) in (Kind.ADDED, Kind.LEFT_OUT) else ""


def bill_of(month: Month) -> tuple[BillLine, ...]:
    """Return the bill that stands whatever the roster: kits, their packaging and welcome extras, recipes."""
    return (*kit_bill(month), *recipe_bill(month))


def kit_bill(month: Month) -> Iterator[BillLine]:
    """Yield what the kit sheet puts into each tier's box; as a welcome it is there for the booklet."""
    cartons = carton_codes(month)
    for line in month.kit_lines:
        if is_choice(line, cartons):
            continue  # which of them a box goes into is decided when it is packed
        for tier in line.tiers or tuple(tier.code for tier in month.tiers):
            for kind in parents_of(line):
                yield BillLine(parent=item(kind, tier), item=kit_item(line), per=line.count)


def parents_of(line: KitLine) -> tuple[Kind, ...]:
    """Return which parts of a box a kit line belongs to; packaging also wraps a parcel of one-off goods."""
    if line.when is When.FIRST_BOX:
        return (Kind.WELCOME,)
    return (Kind.WRAPPING, Kind.ORDER_WRAPPING) if line.kind is ItemKind.PACKAGING else (Kind.KIT,)


def recipe_bill(month: Month) -> Iterator[BillLine]:
    """Yield the sheets each recipe posts and the pieces the club cuts for it."""
    paper = {(row.recipe, row.role): row.material for row in month.kit_papers}
    for role in paper_roles(month):
        if role.sheets and (role.recipe, role.role) in paper:
            material = item(Kind.MATERIAL, paper[role.recipe, role.role])
            yield BillLine(parent=item(Kind.RECIPE, role.recipe), item=material, per=role.sheets)
    for piece in recipe_pieces(month):
        if piece.cut_by is CutBy.CLUB:
            name = item(Kind.PIECE, piece_code(piece))
            yield BillLine(parent=item(Kind.RECIPE, piece.recipe), item=name, per=piece.count)


def piece_code(piece: RecipePiece) -> str:
    """Return the code of a recipe's piece that the club cuts."""
    return f"{piece.recipe}/{piece.piece}"


def all_pre_cuts(month: Month) -> tuple[PreCut, ...]:
    """Return the kit's pre-cuts, and as pre-cuts the recipes' pieces that the club cuts."""
    paper = {(row.recipe, row.role): row.material for row in month.kit_papers}
    return (
        *month.pre_cuts,
        *(
            club_cut(piece, paper[piece.recipe, piece.role], month)
            for piece in recipe_pieces(month)
            if piece.cut_by is CutBy.CLUB and (piece.recipe, piece.role) in paper
        ),
    )


def club_cut(piece: RecipePiece, material: str, month: Month) -> PreCut:
    """Return a recipe's piece as the pre-cut it is; the club's own overs for pieces apply."""
    return PreCut(
        code=piece_code(piece),
        name=f"{piece.piece} ({piece.recipe})",
        width=piece.width,
        height=piece.height,
        cut_from=(material,),
        direction=Direction.ANY if piece.turn else Direction.NOT_TURNED,
        overs_percent=month.club.piece_overs_percent,
        overs_fixed=month.club.piece_overs_fixed,
    )


def pieces_on_shelf(month: Month) -> Iterator[OnHand]:
    """Yield finished pieces left from earlier months."""
    pieces = {one.code for one in all_pre_cuts(month)}
    for line in month.stock:
        if line.item in pieces:
            yield OnHand(item=item(Kind.PIECE, line.item), count=line.on_hand)


def overs_of(month: Month) -> Iterator[ItemOvers]:
    """Yield the extra wanted of materials and pieces; lengths cut from a roll take their roll's."""
    materials = {one.code: one.overs for one in month.materials}
    done = operations_of(month)
    for code, overs in materials.items():
        yield ItemOvers(item=item(Kind.MATERIAL, code), overs=overs, operations=done.get(code, ()))
    for one in all_pre_cuts(month):
        yield ItemOvers(item=item(Kind.PIECE, one.code), overs=one.overs, operations=done.get(one.code, ()))
    for line in month.kit_lines:
        if line.length is not None:
            name = item(Kind.LENGTH, length_code(line.item, line.length))
            yield ItemOvers(item=name, overs=materials.get(line.item, Overs()))


def operations_of(month: Month) -> dict[str, tuple[Operation, ...]]:
    """Return the operations that spoil each item, in their order."""
    done: dict[str, tuple[Operation, ...]] = {}
    for row in month.spoilages:
        one = Operation(name=row.operation, make_ready=row.make_ready, percent=row.percent, base=row.base)
        done[row.item] = (*done.get(row.item, ()), one)
    return done
