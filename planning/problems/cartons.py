"""Which cartons the boxes of a tier may go into, what one costs, and the carriers' limits to keep parcels under."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from decimal import Decimal
from fractions import Fraction

from kits.catalogue import Material, Terms
from kits.kit import ItemKind, KitLine, When
from kits.measures import format_weight
from planning.month import Month
from planning.packing import Carton, Container, PostLimit
from planning.problems.terms import terms_of
from planning.requirements import Kind, item


def is_choice(line: KitLine, cartons: Iterable[str]) -> bool:
    """Tell whether a line of the kit says which carton boxes go into, rather than what lies in them."""
    return line.kind is ItemKind.PACKAGING and line.when is When.EVERY_BOX and line.item in cartons


def carton_codes(month: Month) -> frozenset[str]:
    """Return the codes of the month's cartons."""
    return frozenset(one.code for one in month.materials if one.is_container)


def cartons_by_tier(month: Month, boxes: int) -> dict[str, tuple[Carton, ...]]:
    """Return the cartons each tier's boxes may go into: those its lines of the kit name, else all there are.

    boxes: of the month, at whose quantity a carton's price is looked up.
    """
    codes, prices = carton_codes(month), prices_at(month, boxes)
    every = {one.code: carton(one, prices.get(one.code)) for one in month.materials if one.is_container}
    named: defaultdict[str, list[str]] = defaultdict(list)
    for line in month.kit_lines:
        if is_choice(line, codes):
            for tier in line.tiers or tuple(one.code for one in month.tiers):
                named[tier].append(line.item)
    return {
        one.code: tuple(every[code] for code in dict.fromkeys(named[one.code] or every))
        for one in month.tiers
    }


def prices_at(month: Month, boxes: int) -> dict[str, Decimal]:
    """Return what one of each material costs where so many are bought, else what the shelf says."""
    prices = {line.item: line.value_each for line in month.stock}
    offered: defaultdict[str, list[Terms]] = defaultdict(list)
    for terms in terms_of(month):
        offered[terms.offer.material].append(terms)
    return prices | {
        code: min(one.price(one.at_least(boxes)) for one in all_) for code, all_ in offered.items()
    }


def carton(one: Material, price: Decimal | None) -> Carton:
    """Return a carton one may choose."""
    return Carton(container=container(one), most=one.carries, price=price or Decimal(0), soft=one.soft)


def container(one: Material) -> Container:
    """Return a carton: room inside, size outside (as the inside where the outside is not known)."""
    inside = (one.inside_width or 0, one.inside_height or 0, one.inside_depth or 0)
    wide, high = turned_alike((one.width or inside[0], one.height or inside[1]), inside)
    return Container(
        item=item(Kind.MATERIAL, one.code),
        name=one.name,
        weight=one.weight_each(),
        inside=inside,
        outside=(wide, high, max(int(one.thickness or 0), inside[2])),
    )


def turned_alike(outside: tuple[int, int], inside: tuple[int, ...]) -> tuple[int, int]:
    """Return the outside of a carton the same way round as its inside, however its sides were written."""
    short, long = sorted(outside)
    return (short, long) if inside[0] <= inside[1] else (long, short)


# --- Limits ---


def limits_of(month: Month) -> tuple[PostLimit, ...]:
    """Return the carriers' limits: what each service takes at most, and the weights at which its postage steps up."""
    return (*service_limits(month), *steps(month))


def service_limits(month: Month) -> Iterator[PostLimit]:
    """Yield what each service takes at most, by thickness and weight."""
    for one in month.services:
        if one.max_weight is not None or one.max_thickness is not None:
            weight = None if one.max_weight is None else Fraction(one.max_weight)
            yield PostLimit(name=f"the limit of {one.name}", thickness=one.max_thickness, weight=weight)


def steps(month: Month) -> Iterator[PostLimit]:
    """Yield the weights up to which a lighter band goes, each once, by the services that have it."""
    names = {one.code: one.name for one in month.services}
    top = {one.code: one.max_weight for one in month.services}
    dearest: dict[tuple[str, str], Fraction] = {}
    for row in month.rates:
        place = row.service, row.zone
        dearest[place] = max(dearest.get(place, Fraction(0)), Fraction(row.up_to))
    found: defaultdict[Fraction, dict[str, None]] = defaultdict(dict)
    for row in month.rates:
        up_to, most = Fraction(row.up_to), top.get(row.service)
        if up_to < dearest[row.service, row.zone] and (most is None or up_to < most):
            found[up_to][names.get(row.service, row.service)] = None
    for up_to, services in sorted(found.items()):
        yield PostLimit(name=f"the {format_weight(up_to)} step of {' and '.join(services)}", weight=up_to)
