"""Everything bought that is no sheet: extras, print, roll goods and packaging."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from kits.catalogue import Leftover, Material, MaterialKind
from kits.measures import METRE, parse_caliper, parse_length, parse_weight


def flat(
    code: str,
    name: str,
    size: str,
    thickness: str,
    weight: str,
    kind: MaterialKind = MaterialKind.COUNTED,
    leftover: Leftover = Leftover.KEPT,
    overs: str = "1",
) -> Material:
    """Return something counted that lies flat in the box."""
    width, height = (parse_length(side) for side in size.split(" x "))
    return Material(
        code=code,
        name=name,
        kind=kind,
        width=width,
        height=height,
        thickness=parse_caliper(thickness),
        weight=parse_weight(weight),
        overs_percent=Decimal(overs),
        leftover=leftover,
    )


def loose(code: str, name: str, weight: str) -> Material:
    """Return something counted so small that it lies between the rest; some roll under the bench."""
    kind = MaterialKind.COUNTED
    return Material(code=code, name=name, kind=kind, weight=parse_weight(weight), overs_percent=Decimal(2))


def roll(code: str, name: str, metres: int, weight: str, thickness: str) -> Material:
    """Return a roll good. weight: of one metre; thickness: of a length as it lies wound up in the box."""
    return Material(
        code=code,
        name=name,
        kind=MaterialKind.ROLL,
        roll_length=metres * METRE,
        weight=parse_weight(weight),
        thickness=parse_caliper(thickness),
        overs_percent=Decimal(1),
    )


# fmt: off
EXTRAS = (
    flat("BOOKLET", "May booklet, 20 pages A5", "148 mm x 210 mm", "2.1 mm", "48 g",
         MaterialKind.PRINT, Leftover.WRITTEN_OFF, "2"),
    flat("STICKERS", "Sticker sheet, kites and lanterns", "6 in x 8 in", "0.25 mm", "9 g",
         MaterialKind.PRINT, Leftover.WRITTEN_OFF, "2"),
    flat("WELCOME", "Welcome fold for a first box", "148 mm x 148 mm", "0.6 mm", "14 g", MaterialKind.PRINT),
    flat("STENCIL", "Bunting stencil", "6 in x 6 in", "0.4 mm", "8 g"),
    flat("STAMPS", "Clear stamp set, weather", "4 in x 6 in", "3 mm", "31 g"),
    flat("GLASSINE", "Glassine envelope, 4 x 6 in", "105 mm x 155 mm", "0.12 mm", "1.7 g"),
    loose("BRADS", "Copper brad, 5 mm", "0.35 g"),
    loose("BUTTONS", "Wooden leaf button", "0.8 g"),
    roll("RIBBON", "Linen ribbon, 15 mm, roll of 25 m", 25, "3.2 g", "4 mm"),
    roll("TWINE", "Red and white twine, roll of 100 m", 100, "1.1 g", "3 mm"),
)
# fmt: on


def carton(code: str, name: str, inside: str, outside: str, weight: str) -> Material:
    """Return a carton by its room inside and its size outside, both in millimetres."""
    inside_width, inside_height, inside_depth = (parse_length(f"{side} mm") for side in inside.split(" x "))
    width, height, depth = (parse_length(f"{side} mm") for side in outside.split(" x "))
    return Material(
        code=code,
        name=name,
        kind=MaterialKind.PACKAGING,
        width=width,
        height=height,
        thickness=Fraction(depth),
        weight=parse_weight(weight),
        inside_width=inside_width,
        inside_height=inside_height,
        inside_depth=inside_depth,
        overs_percent=Decimal(1),
    )


PACKAGING = (
    carton("CARTON-40", "Flat carton, 40 mm", "320 x 320 x 40", "327 x 327 x 47", "215 g"),
    carton("CARTON-20", "Slim carton, 20 mm", "320 x 320 x 20", "327 x 327 x 27", "180 g"),
    flat("TISSUE", "Tissue, folded", "250 mm x 300 mm", "0.4 mm", "6 g", MaterialKind.PACKAGING),
    flat("LABEL", "Address label", "100 mm x 150 mm", "0.15 mm", "1.6 g", MaterialKind.PACKAGING),
)

YEARLY = {"CARTON-40": 7_800, "CARTON-20": 6_700, "TISSUE": 14_500, "LABEL": 14_500}
"""What a club of 1,200 boxes a month uses in a year of the packaging it buys for the year."""


def packaging(boxes: int) -> tuple[Material, ...]:
    """Return the packaging of a club that sends so many boxes a month."""
    return tuple(replace(one, used_a_year=max(1, YEARLY[one.code] * boxes // 1_200)) for one in PACKAGING)
