"""What the club calls the things the bill of materials speaks of."""

from kits.measures import format_length
from planning.month import Month
from planning.problems.requirements import all_pre_cuts, length_code
from planning.requirements import Kind, item


def names_of(month: Month) -> dict[str, str]:
    """Return the club's word for every item of the month's bill."""
    materials = {one.code: one.name for one in month.materials}
    pieces = {one.code: one.name for one in all_pre_cuts(month)}
    names = {item(Kind.MATERIAL, code): name for code, name in materials.items()}
    names |= {item(Kind.PIECE, code): name for code, name in pieces.items()}
    names |= {item(Kind.RECIPE, one.code): one.title for one in month.recipes}
    for line in month.kit_lines:
        if line.length is not None:
            code = length_code(line.item, line.length)
            names[item(Kind.LENGTH, code)] = (
                f"{materials.get(line.item, line.item)}, {format_length(line.length)}"
            )
    for tier in month.tiers:
        names[item(Kind.KIT, tier.code)] = f"{tier.name} kit"
        names[item(Kind.WELCOME, tier.code)] = f"{tier.name} welcome extra"
        names[item(Kind.WRAPPING, tier.code)] = f"{tier.name} packaging"
        names[item(Kind.ORDER_WRAPPING, tier.code)] = f"{tier.name} packaging, goods only"
    for order in month.orders:
        thing = pieces.get(order.item) or materials.get(order.item) or order.item
        names[item(Kind.ORDER, order.item)] = f"{thing}, ordered once"
    return names
