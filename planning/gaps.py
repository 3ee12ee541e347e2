"""What a month does not say of the things in its boxes, so that the plan counts it as nothing: told, never silent.

A plan is made all the same, for a newcomer may weigh the ribbon later; but whoever pays the postage must know.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from kits.catalogue import Material, MaterialKind
from planning.contents.rows import Does
from planning.month import Month
from planning.recipes import paper_roles, recipe_pieces

LOOSE = 5  # grams: what weighs no more lies between the rest and needs no size (a judgement, no source)
MOST_NAMED = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """Something that is not said. which: of what, by name; count: of how many; words: what follows from it."""

    what: str
    which: str
    count: int
    words: str

    def __str__(self) -> str:
        return f"{self.what}: {self.which}. {self.words}"


def gaps(month: Month) -> tuple[Gap, ...]:
    """Return what is not said of the materials that go into this month's boxes, a gap for each kind of figure."""
    used = in_boxes(month)
    found = (
        gap(
            "Weight missing",
            (one for one in used if weighs_nothing(one)),
            "Counted as 0 g, so boxes weigh more and postage may cost more than planned.",
        ),
        gap(
            "Thickness missing",
            (one for one in used if one.thickness is None and lies_flat(one)),
            "Counted as 0 mm, so the stack is higher than planned; sheets are cut one at a time.",
        ),
        gap(
            "Size missing",
            (one for one in used if is_bulky(one) and one.width is None),
            "Whether they fit into the carton was not looked at.",
        ),
        gap(
            "Outside size missing",
            (one for one in used if one.is_container and lacks_outside(one) and by_volume(month)),
            "Taken to be as large as inside, so a carrier that charges by volume may charge more.",
        ),
        gap(
            "Customs facts missing",
            (one for one in used if lacks_customs(one, month)),
            "Labels of parcels that leave the country name them without an HS code, origin and value: add them to the "
            "sheet Customs.",
        ),
    )
    return tuple(one for one in found if one is not None)


def gap(what: str, of: Iterable[Material], words: str) -> Gap | None:
    """Return the gap of some materials, None if there are none."""
    names = [one.name for one in of]
    return Gap(what=what, which=listed(names), count=len(names), words=words) if names else None


def listed(names: list[str]) -> str:
    """Return names as a list that stays short."""
    more = len(names) - MOST_NAMED
    return ", ".join(names[:MOST_NAMED]) + (f" and {more:,} more" if more > 0 else "")


# --- What counts as said ---


def weighs_nothing(one: Material) -> bool:
    """Tell whether nothing says what a material weighs; a weight of 0 is said."""
    by_paper = one.grammage is not None and one.width is not None and one.height is not None
    return one.weight is None and not by_paper


def lies_flat(one: Material) -> bool:
    """Tell whether a material adds to the stack: everything but the carton and what is loose."""
    return not one.is_container and (one.kind in (MaterialKind.SHEET, MaterialKind.ROLL) or is_bulky(one))


def is_bulky(one: Material) -> bool:
    """Tell whether a thing needs room of its own: it has a size, or is too heavy to lie between the rest."""
    if one.is_container or one.kind in (MaterialKind.SHEET, MaterialKind.ROLL):
        return False
    return one.width is not None or one.weight is None or one.weight > Fraction(LOOSE)


def lacks_outside(one: Material) -> bool:
    """Tell whether the outside of a carton is not all said."""
    return None in (one.width, one.height, one.thickness)


def lacks_customs(one: Material, month: Month) -> bool:
    """Tell whether goods that may leave the country have no customs facts, nor have all pieces cut from them."""
    if one.kind is MaterialKind.PACKAGING or not abroad(month):
        return False
    known = {row.item for row in month.customs}
    pieces = {piece.code for piece in month.pre_cuts if one.code in piece.cut_from}
    goes_in = {paper.material for paper in month.kit_papers} | {line.item for line in month.kit_lines}
    return one.code not in known and (one.code in goes_in or not pieces <= known)


def abroad(month: Month) -> bool:
    """Tell whether some carrier takes parcels to another country."""
    return any(zone.country != month.club.country for zone in month.zones)


def by_volume(month: Month) -> bool:
    """Tell whether some service charges by volume."""
    return any(service.divisor is not None for service in month.services)


# --- What goes into boxes ---


def in_boxes(month: Month) -> tuple[Material, ...]:
    """Return the materials of which something goes into a box of this month's kit or of a one-off order."""
    codes = set(codes_in_boxes(month))
    return tuple(one for one in month.materials if one.code in codes)


def codes_in_boxes(month: Month) -> Iterator[str]:
    """Yield the codes of the kit's own lines, of the papers of its recipes, and of what its pre-cuts are cut from."""
    items = {line.item for line in month.kit_lines} | {order.item for order in month.orders}
    items |= {rule.item if rule.does is Does.ADD else rule.instead for rule in month.rules}
    yield from items
    cartons = [one.code for one in month.materials if one.is_container]
    if items.isdisjoint(cartons):
        yield from cartons
    for pre_cut in month.pre_cuts:
        if pre_cut.code in items:
            yield from pre_cut.cut_from
    used = {(role.recipe, role.role) for role in paper_roles(month) if role.sheets}
    used |= {(piece.recipe, piece.role) for piece in recipe_pieces(month)}
    for paper in month.kit_papers:
        if paper.recipe in items and (paper.recipe, paper.role) in used:
            yield paper.material
