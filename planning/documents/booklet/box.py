"""The contents of the box, as a subscriber takes them out of it: counted as the packing lists count them."""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from kits.catalogue import Material, MaterialKind
from kits.guillotine.marks import size
from kits.kit import ItemKind
from kits.measures import ruler
from planning.documents.booklet.model import BoxContents, BoxGroup, BoxLine
from planning.documents.pdf.words import long_length
from planning.month import Month
from planning.problems.items import length_code
from planning.problems.requirements import all_pre_cuts, bill_of, piece_code
from planning.recipes import recipe_pieces
from planning.requirements import Demand, Kind, RequirementsProblem, item, plan_requirements

Counts = Sequence[Counter[str]]  # tier by tier


def box_contents(month: Month) -> BoxContents:
    """Return what each tier's box holds, packaging apart; a group nobody gets is left out."""
    kits, welcomes = (held(month, kind) for kind in (Kind.KIT, Kind.WELCOME))
    everything = tuple(things(month))
    groups = [
        BoxGroup("Spreads", tuple(spreads(month))),
        BoxGroup("Papers", tuple(listed(everything, kits, is_sheet))),
        BoxGroup("Ready cut for you", tuple(listed(everything, kits, is_piece))),
        BoxGroup("And besides", tuple(listed(everything, kits, is_extra))),
        BoxGroup("In your first box", tuple(listed(everything, welcomes, lambda thing: True))),
    ]
    return BoxContents(
        tuple(tier.name for tier in month.tiers), tuple(group for group in groups if group.lines)
    )


def held(month: Month, kind: Kind) -> Counts:
    """Return the goods that one kit of each tier comes down to, by the bill's names."""
    bill = bill_of(month)
    counts = []
    for tier in month.tiers:
        demand = Demand(item=item(kind, tier.code), count=1)
        used: Counter[str] = Counter()
        for use in plan_requirements(RequirementsProblem(demands=(demand,), bill=bill)).uses:
            used[use.item] += use.count
        counts.append(used)
    return counts


def spreads(month: Month) -> Iterator[BoxLine]:
    """Yield the recipes."""
    counts = {one.code: [0] * len(month.tiers) for one in month.recipes}
    for line in month.kit_lines:
        if line.kind is ItemKind.RECIPE and line.item in counts:
            for place, tier in enumerate(month.tiers):
                counts[line.item][place] += line.count * (not line.tiers or tier.code in line.tiers)
    for one in month.recipes:
        if any(counts[one.code]):
            yield BoxLine(one.title, "", tuple(counts[one.code]))


@dataclass(frozen=True, slots=True)
class Thing:
    """What may lie in a box. item: its name in the bill; material: None for a piece the club has cut."""

    item: str
    name: str
    detail: str
    material: Material | None


def things(month: Month) -> Iterator[Thing]:
    """Yield everything that may lie in a box: materials, lengths of rolls, pieces the club has cut."""
    on = ruler(month.club.ruler)
    materials = {one.code: one for one in month.materials}
    for one in month.materials:
        detail = size(one.width, one.height, on, unit=True) if one.width and one.height else ""
        yield Thing(item(Kind.MATERIAL, one.code), one.name, detail, one)
    for code, length in {(line.item, line.length): None for line in month.kit_lines}:
        if length is not None and code in materials:
            name, roll = item(Kind.LENGTH, length_code(code, length)), materials[code]
            yield Thing(name, roll.name, long_length(length), roll)
    titles = {one.code: one.title for one in month.recipes}
    own = {piece_code(piece): piece for piece in recipe_pieces(month)}
    for cut in {each.code: each for each in all_pre_cuts(month)}.values():
        of, detail = own.get(cut.code), size(cut.width, cut.height, on, unit=True)
        name = of.piece if of else cut.name
        yield Thing(
            item(Kind.PIECE, cut.code),
            name,
            f"{detail}, for {titles.get(of.recipe, of.recipe)}" if of else detail,
            None,
        )


def listed(everything: Sequence[Thing], counts: Counts, wanted: Callable[[Thing], bool]) -> Iterator[BoxLine]:
    """Yield a line for each thing of a kind that some box holds."""
    for thing in everything:
        found = tuple(count[thing.item] for count in counts)
        if any(found) and wanted(thing):
            yield BoxLine(thing.name, thing.detail, found)


def is_sheet(thing: Thing) -> bool:
    """Tell whether it is paper, whole sheets of it."""
    return thing.material is not None and thing.material.kind is MaterialKind.SHEET


def is_piece(thing: Thing) -> bool:
    """Tell whether the club has cut it from a sheet."""
    return thing.material is None


def is_extra(thing: Thing) -> bool:
    """Tell whether it is neither."""
    return not is_sheet(thing) and not is_piece(thing)
