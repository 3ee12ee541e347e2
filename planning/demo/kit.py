"""The May kit: tiers, this month's papers for each role, pre-cuts, and what lies in a box of each tier."""

from decimal import Decimal

from kits.kit import Direction, ItemKind, KitLine, KitPaper, PreCut, Tier, When
from kits.measures import METRE, parse_length

ORCHARD, BRANCH, LEAF = "ORCHARD", "BRANCH", "LEAF"

TIERS = (
    Tier(code=ORCHARD, name="Orchard: five spreads and every extra", price=Decimal("29.50")),
    Tier(code=BRANCH, name="Branch: three spreads", price=Decimal("20.00")),
    Tier(code=LEAF, name="Leaf: papers and booklet", price=Decimal("14.00")),
)

KIT_PAPERS = tuple(
    KitPaper(recipe=recipe, role=role, material=material)
    for recipe, role, material in (
        ("GATE", "ground", "CREAM"),
        ("GATE", "mats", "BARK"),
        ("GATE", "print", "BLOSSOM"),
        ("MARKET", "mats", "ROSE"),
        ("MARKET", "print", "GINGHAM"),
        ("MARKET", "accent", "SCRIPT"),
        ("LETTERS", "ground", "CREAM"),
        ("LETTERS", "overlay", "VELLUM-A4"),
        ("LETTERS", "mats", "SKY-A4"),
        ("LETTERS", "pockets", "KRAFT-B1"),
        ("KITE", "print", "TRELLIS"),
        ("KITE", "accent", "BARK"),
        ("TABLE", "mats", "BARK"),
        ("TABLE", "print", "GINGHAM"),
        ("TABLE", "tabs", "IVORY-SRA2"),
    )
)


def pre_cut(code: str, name: str, size: str, cut_from: tuple[str, ...], direction: Direction) -> PreCut:
    """Return a pre-cut. size: width x height in inches."""
    width, height = (parse_length(side) for side in size.split(" x "))
    return PreCut(
        code=code,
        name=name,
        width=width,
        height=height,
        cut_from=cut_from,
        direction=direction,
        overs_percent=Decimal(2),
        overs_fixed=10,
    )


PRE_CUTS = (
    pre_cut("CARD-34", "Journalling card", "3 x 4", ("IVORY-2026", "IVORY-SRA2"), Direction.ANY),
    # it is folded along its height, so the fibres must run that way
    pre_cut("FOLDER", "Folding card", "8 1/2 x 5 1/2", ("IVORY-2026",), Direction.GRAIN_ALONG_HEIGHT),
    pre_cut("TAG", "Kraft tag", "2 1/2 x 4 3/4", ("KRAFT-B1",), Direction.ANY),
    pre_cut("POSTCARD", "Old letters postcard", "4 x 6", ("SCRIPT",), Direction.NOT_TURNED),
)


def lines(kind: ItemKind, item: str, *, length: int | None = None, **count: int) -> tuple[KitLine, ...]:
    """Return the lines of an item: its count for each tier by name; equal counts share a line."""
    counts: dict[int, list[str]] = {}
    for tier, number in count.items():
        counts.setdefault(number, []).append(tier.upper())
    return tuple(
        KitLine(kind=kind, item=item, count=number, length=length, tiers=tuple(tiers))
        for number, tiers in counts.items()
    )


KIT_LINES = (
    *lines(ItemKind.RECIPE, "GATE", orchard=1, branch=1, leaf=1),
    *lines(ItemKind.RECIPE, "MARKET", orchard=1, branch=1),
    *lines(ItemKind.RECIPE, "LETTERS", orchard=1),
    *lines(ItemKind.RECIPE, "KITE", orchard=1, branch=1, leaf=1),
    *lines(ItemKind.RECIPE, "TABLE", orchard=1),
    *lines(ItemKind.PRE_CUT, "CARD-34", orchard=8, branch=6, leaf=4),
    *lines(ItemKind.PRE_CUT, "FOLDER", orchard=2, branch=1),
    *lines(ItemKind.PRE_CUT, "TAG", orchard=3, branch=2),
    *lines(ItemKind.PRE_CUT, "POSTCARD", orchard=1, branch=1),
    *lines(ItemKind.EXTRA, "BOOKLET", orchard=1, branch=1, leaf=1),
    *lines(ItemKind.EXTRA, "STICKERS", orchard=1, branch=1),
    *lines(ItemKind.EXTRA, "STENCIL", orchard=1),
    *lines(ItemKind.EXTRA, "STAMPS", orchard=1),
    *lines(ItemKind.EXTRA, "GLASSINE", orchard=3, branch=2),
    *lines(ItemKind.EXTRA, "BRADS", orchard=12, branch=8),
    *lines(ItemKind.EXTRA, "BUTTONS", orchard=3),
    *lines(ItemKind.EXTRA, "RIBBON", length=3 * METRE // 2, orchard=1),
    *lines(ItemKind.EXTRA, "RIBBON", length=METRE, branch=1),
    *lines(ItemKind.EXTRA, "TWINE", length=2 * METRE, orchard=1, branch=1),
    KitLine(kind=ItemKind.EXTRA, item="WELCOME", when=When.FIRST_BOX),
    # which of the two a box goes into is worked out; LEAF is thin enough for the slim one alone
    *lines(ItemKind.PACKAGING, "CARTON-40", orchard=1, branch=1),
    *lines(ItemKind.PACKAGING, "CARTON-20", orchard=1, branch=1, leaf=1),
    KitLine(kind=ItemKind.PACKAGING, item="TISSUE"),
    KitLine(kind=ItemKind.PACKAGING, item="LABEL"),
)
