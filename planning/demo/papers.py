"""The sheet materials: squares of 12 in for the pages, A4 for what lies over them, boards for the knife.

Thickness is as a micrometer would find it, never worked out from the weight.
"""

from decimal import Decimal

from kits.catalogue import Grain, Material, MaterialKind, Print
from kits.measures import parse_caliper, parse_grammage, parse_length


def sheet(
    code: str,
    name: str,
    width: str,
    height: str,
    weight: str,
    thickness: str,
    grain: Grain,
    overs: str = "1",
    print: Print = Print.NO_DIRECTION,  # noqa: A002 - the field's own name
    cut_from: str = "",
) -> Material:
    """Return a sheet material. overs: percent of the good sheets; five more for the first lift. cut_from: a larger sheet."""
    return Material(
        code=code,
        name=name,
        kind=MaterialKind.SHEET,
        width=parse_length(width),
        height=parse_length(height),
        grain=grain,
        print=print,
        grammage=parse_grammage(weight),
        thickness=parse_caliper(thickness),
        overs_percent=Decimal(overs),
        overs_fixed=5,
        cut_from=(cut_from,) if cut_from else (),
    )


# fmt: off
PAPERS = (
    # printed this month, on both sides; blossom, lettering and trellis have a top, squares have none
    sheet("BLOSSOM", "Blossom print", "12 in", "12 in", "200 g/m2", "0.22 mm", Grain.HEIGHT, "1.5", Print.ONE_WAY),
    sheet("GINGHAM", "Gingham print", "12 in", "12 in", "200 g/m2", "0.22 mm", Grain.HEIGHT, "1.5"),
    sheet("SCRIPT", "Old letters print", "12 in", "12 in", "200 g/m2", "0.22 mm", Grain.HEIGHT, "1.5", Print.ONE_WAY),
    sheet("TRELLIS", "Trellis print", "12 in", "12 in", "200 g/m2", "0.22 mm", Grain.HEIGHT, "1.5", Print.ONE_WAY),
    # plain card, bought by the pack
    sheet("CREAM", "Cream card", "12 in", "12 in", "80 lb cover", "11.2 mil", Grain.WIDTH),
    sheet("BARK", "Bark brown card", "12 in", "12 in", "80 lb cover", "11.6 mil", Grain.WIDTH),
    sheet("ROSE", "Rose card", "12 in", "12 in", "80 lb cover", "11.4 mil", Grain.WIDTH),
    sheet("SKY-A4", "Sky blue paper, A4", "210 mm", "297 mm", "160 g/m2", "0.19 mm", Grain.HEIGHT),
    sheet("VELLUM-A4", "Clear vellum, A4", "210 mm", "297 mm", "112 g/m2", "0.09 mm", Grain.HEIGHT, "2",
          cut_from="VELLUM-SRA2"),
    # parent sheets: pieces are cut from them before packing
    sheet("IVORY-2026", "Ivory board, 20 x 26 in", "20 in", "26 in", "100 lb cover", "13.5 mil", Grain.HEIGHT),
    sheet("IVORY-SRA2", "Ivory board, SRA2", "450 mm", "640 mm", "270 g/m2", "0.34 mm", Grain.HEIGHT),
    sheet("VELLUM-SRA2", "Clear vellum, SRA2", "450 mm", "640 mm", "112 g/m2", "0.09 mm", Grain.HEIGHT, "2"),
    sheet("KRAFT-B1", "Kraft board, 70 x 100 cm", "700 mm", "1000 mm", "280 g/m2", "0.4 mm", Grain.WIDTH),
)
# fmt: on
