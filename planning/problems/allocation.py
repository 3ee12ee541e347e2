"""The allocation step's question: the boxes by tier and month of joining, and what there is of what is short."""

from collections import Counter
from collections.abc import Iterator
from datetime import date
from fractions import Fraction

from kits.catalogue import Material
from kits.measures import MM, format_length
from planning.allocation import AllocationProblem, BoxGroup, ShortMaterial, Substitute, Uses
from planning.buying import BuyingResult, BuyLine
from planning.calendar import YearMonth
from planning.cutting import CuttingResult
from planning.month import Month
from planning.names import names_of
from planning.packing import BoxSpec, PackingResult
from planning.requirements import Kind, RequirementsResult, item
from planning.roster import Contents, RosterProblem, contents_for


def allocation_problem(
    month: Month,
    people: RosterProblem,
    needs: RequirementsResult,
    cutting: CuttingResult,
    buying: BuyingResult,
    packing: PackingResult,
) -> AllocationProblem:
    """Ask who gets what is short; where nothing is, there is nobody to ask about."""
    short = tuple(one for line in buying.short for one in short_items(line, month, needs, cutting))
    names = {one.material for one in short}
    return AllocationProblem(
        rule=month.club.short_goods,
        tiers=tuple(tier.code for tier in month.tiers),
        groups=tuple(box_groups(people, packing, names)) if short else (),
        short=short,
        substitutes=tuple(substitutes(month, buying, names)),
    )


# --- What is short ---


def short_items(
    line: BuyLine, month: Month, needs: RequirementsResult, cutting: CuttingResult
) -> Iterator[ShortMaterial]:
    """Yield what boxes lack where a material is short: itself, and pieces cut from it; whole units go first."""
    called = names_of(month)
    had = line.need.total - line.short
    whole = min(line.need.in_boxes, had)
    if whole < line.need.in_boxes:
        name = item(Kind.MATERIAL, line.need.material)
        yield ShortMaterial(material=name, name=called[name], available=whole)
    made, left = cutting.made, had - whole
    for ticket in cutting.all:
        if ticket.source != line.need.material:
            continue
        cut = min(ticket.units, left)
        left -= cut
        for piece in ticket.items:
            made[piece] -= ticket.made_of(piece) - ticket.made_of(piece) * cut // ticket.units
    pieces = dict.fromkeys(
        piece for ticket in cutting.all if ticket.source == line.need.material for piece in ticket.items
    )
    for piece in pieces:
        wanted = needs.of(piece)
        if wanted is not None and wanted.from_shelf + made[piece] < wanted.good:
            yield ShortMaterial(material=piece, name=called[piece], available=wanted.from_shelf + made[piece])


# --- Whose boxes ---


def box_groups(people: RosterProblem, packing: PackingResult, short: set[str]) -> Iterator[BoxGroup]:
    """Yield the boxes that are alike and whose subscribers joined in one month."""
    uses = {spec.contents: tuple(uses_of(spec, short)) for spec in packing.boxes}
    filled = dict(people.filled)
    boxes: Counter[tuple[Contents, YearMonth | None]] = Counter()
    for profile in people.profiles:
        for contents, count in contents_for(profile, people.month, people.occasions, filled):
            boxes[contents, profile.joined] += count * profile.heads
    for (contents, joined), count in boxes.items():
        yield BoxGroup(
            code=group_code(contents, joined),
            tier=contents.tier,
            boxes=count,
            joined=date(joined.year, joined.month, 1) if joined else None,
            uses=uses[contents],
        )


def group_code(contents: Contents, joined: YearMonth | None) -> str:
    """Return a group's name: what its boxes hold, and when their subscribers joined."""
    holds = contents.name if contents.kit else f"{contents.tier}, {contents.name}"
    return f"{holds}, {f'joined {joined.title}' if joined else 'founding members'}"


def uses_of(spec: BoxSpec, short: set[str]) -> Iterator[Uses]:
    """Yield what one box holds of what is short."""
    for name, count in spec.held.items():
        if name in short:
            yield Uses(material=name, each=count)


# --- What may stand in ---


def substitutes(month: Month, buying: BuyingResult, short: set[str]) -> Iterator[Substitute]:
    """Yield the substitutes of what is short, with what the month leaves of each and what changes."""
    lines = {line.need.material: line for line in buying.lines}
    materials = {one.code: one for one in month.materials}
    for row in month.substitutes:
        name, instead = item(Kind.MATERIAL, row.material), item(Kind.MATERIAL, row.instead)
        if name not in short or instead in short:
            continue
        line = lines[row.instead]
        yield Substitute(
            material=name,
            instead=instead,
            name=materials[row.instead].name,
            available=0 if line.short else line.left_over,
            per=row.per,
            changes=tuple(changes(materials[row.material], materials[row.instead], row.per, row.note)),
        )


def changes(planned: Material, instead: Material, per: int, note: str) -> Iterator[str]:
    """Yield what is different about a box with a substitute in it, in words."""
    if note:
        yield note
    if per != 1:
        yield f"{per} for each one"
    if (planned.width, planned.height) != (instead.width, instead.height):
        yield f"{size(instead)} instead of {size(planned)}"
    if instead.print is not planned.print:
        yield f"print: {instead.print.value} instead of {planned.print.value}"
    if weight := per * instead.weight_each() - planned.weight_each():
        yield f"{tenths(abs(weight))} g {'heavier' if weight > 0 else 'lighter'} for each"
    if thickness := per * (instead.thickness or 0) - (planned.thickness or 0):
        yield f"{tenths(abs(Fraction(thickness)) / MM)} mm {'thicker' if thickness > 0 else 'thinner'} for each"


def size(one: Material) -> str:
    """Return a material's size in words."""
    if one.width is None or one.height is None:
        return "no flat size"
    return f"{format_length(one.width)} × {format_length(one.height)}"


def tenths(value: Fraction) -> str:
    """Return a value to two decimals, without zeros at its end."""
    return f"{float(round(value, 2)):g}"
