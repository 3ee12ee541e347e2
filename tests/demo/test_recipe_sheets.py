"""The demo's recipes, cut by hand: every role's pieces come out of the sheets that are posted for it.

Each layout below was drawn by hand. A row is parted by upright cuts, a column by level ones, so what is laid out this way
can be cut from edge to edge; the guillotine's checker looks at the tree once more.
"""

from collections import Counter
from typing import TypeAlias

import pytest

from kits.guillotine import (
    Direction,
    Offcut,
    Part,
    Piece,
    PieceSize,
    SheetProblem,
    Turn,
    check,
    count_pieces,
    divide,
)
from kits.recipe import CutBy, PaperRole, RecipePiece
from planning.demo import demo_month

MONTH = demo_month(1)
ROW, COLUMN = Direction.UPRIGHT, Direction.LEVEL

Layout: TypeAlias = "str | tuple[Direction | Layout, ...]"

SHEETS: dict[tuple[str, str], tuple[Layout, ...]] = {
    ("GATE", "ground"): ("ground", "ground"),
    # 4 1/4 + 4 1/4 + 3 1/2 = 12; left: 6 1/4 + 5 3/4 = 12, the lower band 6 1/4 + 2 1/4 = 8 1/2
    ("GATE", "mats"): (
        (
            ROW,
            (
                COLUMN,
                (ROW, "photo mat", "photo mat"),
                (ROW, (COLUMN, "photo mat turned", "caption strip"), (COLUMN, "gate tag", "corner label")),
            ),
            (COLUMN, "story card", "story card", "story card"),
        ),
    ),
    ("GATE", "print"): (
        (
            COLUMN,
            "border band",
            "border band",
            *(((ROW, "blossom square", "blossom square", "blossom square"),) * 2),
        ),
    ),
    # 4 1/2 + 4 1/2 + 3 = 12; left: 6 1/2 + 5 1/2 = 12, the lower band 6 1/2 + 2 1/2 = 9
    ("MARKET", "mats"): (
        (
            ROW,
            (
                COLUMN,
                (ROW, "photo mat", "photo mat"),
                (ROW, (COLUMN, "photo mat turned", "price strip"), "market tag"),
            ),
            (COLUMN, "pocket card", "pocket card", "pocket card"),
        ),
    ),
    ("MARKET", "print"): ((ROW, *(("awning strip",) * 4), (COLUMN, "stall square", "stall square")),),
    ("MARKET", "accent"): (
        (ROW, *(((COLUMN, *(("stamp square",) * 4)),) * 2), (COLUMN, "pocket", "pocket", "pocket")),
    ),
    ("LETTERS", "ground"): ("ground", "ground"),
    ("LETTERS", "overlay"): ((COLUMN, "veil", (ROW, "half veil", "half veil")),),
    ("LETTERS", "mats"): ((COLUMN, *(((ROW, "letter mat", "letter mat"),) * 2)),),
    ("KITE", "print"): (
        (
            ROW,
            (COLUMN, "cloud panel", "cloud panel"),
            (COLUMN, *(("kite square",) * 3)),
            (COLUMN, *(("sky card",) * 4)),
        ),
    ),
    ("KITE", "accent"): (
        (COLUMN, *(("tail strip",) * 4), (ROW, *(("kite mat",) * 3)), (ROW, *(("tail tag",) * 3))),
    ),
    # 5 1/4 + 5 1/4 + 1 1/2 = 12; left: 7 1/4 + 4 3/4 = 12, beside the cards 1 1/2 x 4 3/4 is left over
    ("TABLE", "mats"): (
        (
            ROW,
            (COLUMN, (ROW, "photo mat", "photo mat"), (ROW, "menu card", "menu card", "menu card")),
            (COLUMN, "place strip", "place strip"),
        ),
    ),
    ("TABLE", "print"): ((COLUMN, "runner", "runner", (ROW, "napkin", "napkin", "napkin")),),
}

POSTED = [role for role in MONTH.roles if role.sheets]


def pieces_of(role: PaperRole, cut_by: CutBy = CutBy.SUBSCRIBER) -> list[RecipePiece]:
    return [
        one
        for one in MONTH.pieces
        if (one.recipe, one.role) == (role.recipe, role.role) and one.cut_by is cut_by
    ]


def laid(layout: Layout, sizes: dict[str, RecipePiece]) -> Part:
    """Turn a layout into a tree; a row is as high as its highest part, a column as wide as its widest."""
    if isinstance(layout, str):
        name = layout.removesuffix(" turned")
        one, turned = sizes[name], layout.endswith(" turned")
        width, height = (one.height, one.width) if turned else (one.width, one.height)
        return Piece(name, width, height, turned)
    direction, *rest = layout
    assert isinstance(direction, Direction)
    parts = [laid(part, sizes) for part in rest if not isinstance(part, Direction)]
    width, height = max(part.width for part in parts), max(part.height for part in parts)
    if direction is ROW:
        return divide(ROW, [filled(part, part.width, height) for part in parts])
    return divide(COLUMN, [filled(part, width, part.height) for part in parts])


def filled(part: Part, width: int, height: int) -> Part:
    """Add offcuts beside and below a part until it is as large as asked."""
    if width > part.width:
        part = divide(ROW, [part, Offcut(width - part.width, part.height)])
    if height > part.height:
        part = divide(COLUMN, [part, Offcut(width, height - part.height)])
    return part


def test_every_posted_sheet_is_drawn_here() -> None:
    assert {(role.recipe, role.role): role.sheets for role in POSTED} == {
        role: len(sheets) for role, sheets in SHEETS.items()
    }


@pytest.mark.parametrize("role", POSTED, ids=lambda role: f"{role.recipe}-{role.role}")
def test_the_pieces_of_a_role_come_out_of_its_posted_sheets(role: PaperRole) -> None:
    rows = pieces_of(role)
    sizes = {row.piece: row for row in rows}
    wanted: Counter[str] = Counter()
    for row in rows:
        wanted[row.piece] += row.count
    problem = SheetProblem(
        role.width,
        role.height,
        tuple(
            PieceSize(name, row.width, row.height, turn=Turn.FREE if row.turn else Turn.NONE)
            for name, row in sizes.items()
        ),
    )

    trees = [
        filled(laid(layout, sizes), role.width, role.height) for layout in SHEETS[role.recipe, role.role]
    ]

    assert [check(problem, tree) for tree in trees] == [()] * len(trees)
    assert sum((Counter(count_pieces(tree)) for tree in trees), Counter()) == wanted


def test_rows_of_one_piece_agree_on_its_size() -> None:
    sizes = {(one.recipe, one.role, one.piece, one.width, one.height) for one in MONTH.pieces}

    assert len(sizes) == len({(one.recipe, one.role, one.piece) for one in MONTH.pieces})


def test_a_role_without_posted_sheets_is_cut_by_the_club_from_the_sheet_bought_for_it() -> None:
    materials = {one.code: one for one in MONTH.materials}
    bought = {(row.recipe, row.role): materials[row.material] for row in MONTH.kit_papers}

    for role in MONTH.roles:
        sheet = bought[role.recipe, role.role]
        assert (sheet.width, sheet.height) == (role.width, role.height)
        assert bool(pieces_of(role)) is bool(role.sheets)
        assert bool(pieces_of(role, CutBy.CLUB)) is not bool(role.sheets)
