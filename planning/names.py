"""What the club calls the things the bill of materials speaks of, and what lies in a box."""

from collections.abc import Iterator, Mapping

from kits.measures import format_length
from planning.month import Month
from planning.problems.items import length_code
from planning.problems.requirements import all_pre_cuts, single_item, tier_of
from planning.requirements import Kind, code_of, item, kind_of
from planning.roster import Contents


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
        names[item(Kind.CARTONS, tier.code)] = f"{tier.name} cartons"
        names[item(Kind.ORDER_CARTONS, tier.code)] = f"{tier.name} cartons, goods only"
        names[item(Kind.ORDER_WRAPPING, tier.code)] = f"{tier.name} packaging, goods only"
    return names


def called(name: str, names: Mapping[str, str]) -> str:
    """Return the club's word for an item of the bill, or for what asks for one thing alone."""
    match kind_of(name):
        case Kind.ORDER:
            return f"{thing(single_item(name), names)}, besides"
        case Kind.ADDED:
            return f"added to {tier_name(tier_of(name), names)}"
        case Kind.LEFT_OUT:
            return f"left out of {tier_name(tier_of(name), names)}"
        case _:
            return names.get(name, name)


def thing(name: str, names: Mapping[str, str]) -> str:
    """Return the club's word for something in a box, its code where there is none."""
    return names.get(name) or code_of(name) or name


def tier_name(code: str, names: Mapping[str, str]) -> str:
    """Return what the club calls a tier."""
    return names.get(item(Kind.KIT, code), code).removesuffix(" kit")


def differences(contents: Contents, names: Mapping[str, str]) -> Iterator[str]:
    """Yield in words what a box holds besides its tier's kit, or instead of some of it, and what it goes without."""
    every = (*contents.changes, *contents.besides)
    for one in every:
        if one.count > 0:
            instead = f" instead of {thing(one.instead, names)}" if one.instead else ""
            yield f"{one.count:,} {thing(one.item, names)}{instead} ({one.why})"
    replaced = {one.instead for one in every}
    for one in every:
        if one.count < 0 and one.item not in replaced:
            yield f"without {-one.count:,} {thing(one.item, names)} ({one.why})"


def contents_words(contents: Contents, names: Mapping[str, str]) -> str:
    """Return what lies in a box in the club's words: `The full kit, 1 Welcome gift (first box)`."""
    kit = tier_name(contents.tier, names) if contents.kit else "Goods only"
    return ", ".join([kit, *differences(contents, names)])
