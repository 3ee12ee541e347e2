"""The requirements step's question: the month's bill of materials and what the boxes ask of it."""

from collections import Counter
from collections.abc import Iterator

from kits.catalogue import Overs
from kits.kit import Direction, ItemKind, KitLine, PreCut, When
from kits.measures import format_length
from kits.recipe import CutBy, RecipePiece
from planning.month import Month
from planning.overs import Operation
from planning.recipes import paper_roles, recipe_pieces
from planning.requirements import BillLine, Demand, ItemOvers, Kind, OnHand, RequirementsProblem, item
from planning.roster import Contents, RosterResult


def requirements_problem(month: Month, roster: RosterResult) -> RequirementsProblem:
    """Ask for everything the month's boxes hold."""
    asked: Counter[str] = Counter()
    for one in roster.classes:
        for demand in demands_of(one.contents):
            asked[demand.item] += demand.count * one.boxes
    return RequirementsProblem(
        demands=tuple(Demand(item=name, count=count) for name, count in sorted(asked.items())),
        bill=bill_of(month),
        on_hand=tuple(pieces_on_shelf(month)),
        overs=tuple(overs_of(month)),
    )


def demands_of(contents: Contents) -> Iterator[Demand]:
    """Yield what one box asks for."""
    if contents.kit:
        yield Demand(item=item(Kind.KIT, contents.tier), count=1)
        yield Demand(item=item(Kind.WRAPPING, contents.tier), count=1)
    else:
        yield Demand(item=item(Kind.ORDER_WRAPPING, contents.tier), count=1)
    if contents.first:
        yield Demand(item=item(Kind.WELCOME, contents.tier), count=1)
    for name, count in contents.items:
        yield Demand(item=item(Kind.ORDER, name), count=count)


def bill_of(month: Month) -> tuple[BillLine, ...]:
    """Return the bill: kits, their packaging and welcome extras, recipes, one-off goods."""
    return (*kit_bill(month), *recipe_bill(month), *order_bill(month))


def kit_bill(month: Month) -> Iterator[BillLine]:
    """Yield what the kit sheet puts into each tier's box."""
    for line in month.kit_lines:
        for tier in line.tiers or tuple(tier.code for tier in month.tiers):
            for kind in parents_of(line):
                yield BillLine(parent=item(kind, tier), item=kit_item(line), per=line.count)


def parents_of(line: KitLine) -> tuple[Kind, ...]:
    """Return which parts of a box a kit line belongs to; packaging also wraps a parcel of one-off goods."""
    if line.when is When.FIRST_BOX:
        return (Kind.WELCOME,)
    return (Kind.WRAPPING, Kind.ORDER_WRAPPING) if line.kind is ItemKind.PACKAGING else (Kind.KIT,)


def kit_item(line: KitLine) -> str:
    """Return the bill's name for what a kit line adds."""
    if line.kind is ItemKind.RECIPE:
        return item(Kind.RECIPE, line.item)
    if line.kind is ItemKind.PRE_CUT:
        return item(Kind.PIECE, line.item)
    if line.length is not None:
        return item(Kind.LENGTH, length_code(line.item, line.length))
    return item(Kind.MATERIAL, line.item)


def length_code(material: str, length: int) -> str:
    """Return the code of a length cut from a roll."""
    return f"{material}@{format_length(length)}"


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


def order_bill(month: Month) -> Iterator[BillLine]:
    """Yield one line for each thing someone ordered once."""
    pieces = {one.code for one in all_pre_cuts(month)}
    kits = {tier.code for tier in month.tiers}
    for name in sorted({order.item for order in month.orders} - kits):
        kind = Kind.PIECE if name in pieces else Kind.MATERIAL
        yield BillLine(parent=item(Kind.ORDER, name), item=item(kind, name), per=1)


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
