"""Months whose designed recipe breaks a rule, each with the faults it makes, word for word."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

from kits.catalogue import Print, StockLine
from kits.kit import ItemKind
from kits.measures import Grammage
from kits.recipe import Recipe
from planning.month import Month
from tests.support.months import DAISY, designed_month, tiny_month, with_rows

TINY, DESIGNED = tiny_month(), designed_month()


def saying(*changes: tuple[str, str]) -> Month:
    """Return the designed month with its text changed; what is changed stands in it once at least."""
    text = DAISY
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    return designed_month(text)


def on(material: str, month: Month = DESIGNED, **changes: Any) -> Month:
    """Return the month with one of its materials changed."""
    materials = [replace(one, **changes) if one.code == material else one for one in month.materials]
    return with_rows(month, "materials", materials)


def unused(month: Month) -> Month:
    """Return the month with a kit that does not use its recipe."""
    lines = [line for line in month.kit_lines if line.kind is not ItemKind.RECIPE]
    return with_rows(month, "kit_lines", lines)


BROKEN_DESIGNS: dict[str, tuple[Month, list[str]]] = {
    "lines of a design that say nothing": (
        saying(("    cut at 3: offcut", "    fold at 3"), ("tag at 6, 5", "tga at 6, 5")),
        [
            "recipes 0 text: line 24, column 5: fold at 3 is nothing one does with a sheet. Write cut at MARK, turn, or "
            "rest: PIECE -> PAGE; where several sheets are in hand also sheet NUMBER of PAPER for each.",
            "recipes 0 text: line 41, column 5: tga is not a piece of this recipe. The pieces are quarter, strip or tag.",
        ],
    ),
    "a broken design that the kit does not use": (
        unused(saying(("    cut at 3: offcut", "    cut at 13: offcut"))),
        [
            "recipes 0 text: line 24, column 12: 13 is beyond the edge: what is in hand reaches to 12 in. Cut between "
            "1/8 in and 11 7/8 in."
        ],
    ),
    "a design of another recipe": (
        saying(("recipe DAISY: Daisies on a fence", "recipe ROSE: Daisies on a wall")),
        [
            "recipes 0 text: line 1, column 1: ROSE is not the code of its recipe, DAISY. Write the same in both places.",
            "recipes 0 text: line 1, column 1: Daisies on a wall is not the title of its recipe, Daisies on a fence. "
            "Write the same in both places.",
        ],
    ),
    "rows beside a design": (
        replace(DESIGNED, roles=TINY.roles, pieces=TINY.pieces[:2]),
        [
            "roles 0 recipe: DAISY has rows on the Paper roles sheet beside its design, which says its papers and pieces. "
            "Take its rows out of this sheet, or empty its design.",
            "pieces 0 recipe: DAISY has rows on the Pieces sheet beside its design, which says its papers and pieces. Take "
            "its rows out of this sheet, or empty its design.",
        ],
    ),
    "a piece that lies on no page, and a photo with a thin border": (
        saying(("    tag at 6, 5\n", ""), ("photo 4 x 5, border 1/2", "photo 5 3/4 x 5, border 1/2")),
        [
            "recipes 0 text: line 38, column 1: page right: tag is placed too few times: 1 instead of 2. Correct the line.",
            "recipes 0 text: line 27, column 1: page left: photo 1 of quarter, 5 3/4 in × 5 in, has a thinner border than "
            "asked: 1/8 in instead of 1/2 in. Correct the line.",
        ],
    ),
    "a piece cut too few times": (
        saying(("    rest: strip -> right", "    rest: offcut")),
        [
            "recipes 0 text: line 10, column 1: piece strip for right is cut too few times: 0 instead of 1. Correct the "
            "line."
        ],
    ),
    "a sheet of a design that is not cut": (
        saying(("paper print: 1 sheet", "paper print: 2 sheets")),
        ["recipes 0 text: line 7, column 1: sheet 2 of print is not cut. Correct the line."],
    ),
    "a role of a design without a paper": (
        with_rows(DESIGNED, "kit_papers", DESIGNED.kit_papers[:1]),
        [
            "recipes 0 text: line 7, column 1: print of DAISY has no paper this month. Name its material on the Kit papers "
            "sheet."
        ],
    ),
    "a paper for a role that the design does not have": (
        with_rows(
            DESIGNED, "kit_papers", [DESIGNED.kit_papers[0], replace(DESIGNED.kit_papers[1], role="pirnt")]
        ),
        [
            "recipes 0 text: line 7, column 1: print of DAISY has no paper this month. Name its material on the Kit papers "
            "sheet.",
            "kit_papers 1 role: pirnt is not a paper role of DAISY. Did you mean print?",
        ],
    ),
    "a piece of the club's that is larger than its sheet": (
        saying(("piece tag: 2 of 3 x 4", "piece tag: 2 of 13 x 4")),
        [
            "recipes 0 text: line 11, column 1: 13 in x 4 in is larger than its sheet, 12 in x 12 in (print of DAISY). "
            "Correct the piece or the sheet.",
            "recipes 0 text: line 38, column 1: page right: tag, 13 in × 4 in at 1 in, 5 in, reaches over the edge of the "
            "page: by 2 in. Correct the line.",
            "recipes 0 text: line 38, column 1: page right: tag, 13 in × 4 in at 6 in, 5 in, reaches over the edge of the "
            "page: by 7 in. Correct the line.",
            "recipes 0 text: line 38, column 1: page right: tag, 13 in × 4 in at 1 in, 5 in, lies on another piece of its "
            "layer: tag, 13 in × 4 in at 6 in, 5 in. Correct the line.",
        ],
    ),
    "a piece of a design with a name nobody can print": (
        saying(
            ("piece tag:", 'piece "t\\u{7}g":'),
            ("    tag at 1", '    "t\\u{7}g" at 1'),
            ("    tag at 6", '    "t\\u{7}g" at 6'),
        ),
        [
            "recipes 0 text: line 11, column 1: t\N{REPLACEMENT CHARACTER}g holds a character that cannot be "
            "printed (U+0007, number 2). Type the text again without it."
        ],
    ),
    "stock of a piece that the design does not have": (
        with_rows(
            DESIGNED,
            "stock",
            [StockLine(item="DAISY/tag", on_hand=3), StockLine(item="DAISY/tga", on_hand=3)],
        ),
        ["stock 1 item: DAISY/tga is not on the Materials or Pre-cuts sheet. Did you mean DAISY/tag?"],
    ),
    "a paper of another size than the design asks for": (
        with_rows(
            DESIGNED, "kit_papers", [replace(DESIGNED.kit_papers[0], material="BIG"), DESIGNED.kit_papers[1]]
        ),
        [
            "kit_papers 0 material: BIG is 12 in x 18 in, but base of DAISY wants 12 in x 12 in. Name a paper of the role's "
            "size, or change the role."
        ],
    ),
    "a print with a top under pieces that lie turned": (
        on(
            "CARD",
            saying(("    quarter at 18, 6\n", "    quarter at 18, 6, turned\n")),
            print=Print.ONE_WAY,
        ),
        [
            "kit_papers 0 material: CARD has a print with a top, but pieces would lie with it on its side (base of DAISY: "
            "quarter on page left, 0 cut turned, 1 placed turned). Name another paper, or change the recipe."
        ],
    ),
    "papers too light, too heavy and of unknown weight": (
        on(
            "CARD",
            saying(
                ("paper base: 2 sheets 12 x 12", "paper base: 2 sheets 12 x 12, at least 160 g/m²"),
                ("print one way", "print one way, at most 120 g/m²"),
            ),
            grammage=Grammage(Fraction(100)),
        ),
        [
            "kit_papers 0 material: CARD is too light (base of DAISY: 100 g/m² instead of at least 160 g/m²). Name another "
            "paper, or change the recipe.",
            "kit_papers 1 material: PRINT does not state its weight (print of DAISY). Name another paper, or change the "
            "recipe.",
        ],
    ),
    "two recipes, of which one is designed": (
        replace(
            DESIGNED,
            recipes=(Recipe(code="OLD", title="As rows"), *DESIGNED.recipes),
            roles=tuple(replace(role, recipe="OLD") for role in TINY.roles),
            pieces=tuple(replace(piece, recipe="OLD", count=99) for piece in TINY.pieces),
        ),
        [
            "roles 0 sheets: 2 is too few: the pieces of base in OLD have 3,564.0 in², the sheets 288.0 in². Post more "
            "sheets, or take pieces out.",
            "roles 1 sheets: 1 is too few: the pieces of print in OLD have 3,564.0 in², the sheets 144.0 in². Post more "
            "sheets, or take pieces out.",
        ],
    ),
}
