"""The demo's recipes as their designer typed them: each comes out, suits its papers, and says what is left over."""

from collections import Counter

import pytest

from kits.guillotine import offcuts
from kits.kit import ItemKind
from kits.measures import LengthUnit, format_exact
from kits.recipe import CutBy, Design, SheetPaper, arrange_design, check, misfits, parse, recipe_use, write
from planning.demo import demo_month
from planning.recipes import designs

MONTH = demo_month(1)
DESIGNS = designs(MONTH)
PAPERS = {one.code: one for one in MONTH.materials}

PHOTOS = {"GATE": 3, "MARKET": 3, "LETTERS": 2, "KITE": 5, "TABLE": 2}
LEFT_OVER = {
    # 9 less 2 1/2 by 11 less 6 1/2; and 12 less 6 by 12 less 8
    "MARKET": {"sheet 1 of mats": ["6 1/2 x 4 1/2"], "sheet 1 of accent": ["6 x 4"]},
    # A4 is 210 x 297 mm (ISO 216): less 8 in and 11 1/2 in, 6.8 mm are left beside and 4.9 mm below
    "LETTERS": {
        "sheet 1 of overlay": ["6.8 mm x 297 mm", "8 x 4.9 mm"],
        "sheet 1 of mats": ["6.8 mm x 297 mm", "8 x 4.9 mm"],
    },
    "TABLE": {"sheet 1 of mats": ["1 1/2 x 2 1/2"]},
}

each_design = pytest.mark.parametrize("design", DESIGNS.values(), ids=list(DESIGNS))


@each_design
def test_the_checker_finds_nothing(design: Design) -> None:
    assert check(design) == ()


@each_design
def test_the_text_is_written_as_it_would_be_written(design: Design) -> None:
    [recipe] = [one for one in MONTH.recipes if one.code == design.code]
    assert write(parse(recipe.text)) == recipe.text
    assert (recipe.code, recipe.title) == (design.code, design.title)


@each_design
def test_this_months_papers_suit_it(design: Design) -> None:
    papers = {}
    for row in MONTH.kit_papers:
        if row.recipe == design.code:
            one = PAPERS[row.material]
            papers[row.role] = SheetPaper(one.code, one.width or 0, one.height or 0, one.print, one.grammage)
    assert misfits(design, papers) == ()


@each_design
def test_what_is_left_over_is_as_little_as_can_be_and_listed(design: Design) -> None:
    left: dict[str, list[str]] = {}
    for sheet in design.sheets:
        for placed in offcuts(sheet.tree):
            left.setdefault(sheet.label, []).append(said(placed.part.width, placed.part.height))
    assert {sheet: sorted(sizes) for sheet, sizes in left.items()} == LEFT_OVER.get(design.code, {})
    assert recipe_use(design).share > 0.87


def said(width: int, height: int) -> str:
    """Return a size in inches, a side that is no eighth of one in millimetres."""
    sides = [format_exact(side, LengthUnit.INCH) for side in (width, height)]
    return " x ".join(side.removesuffix(" in") for side in sides)


@each_design
def test_no_trims_need_fewer_sheets(design: Design) -> None:
    arranged = arrange_design(design).design
    assert [paper.sheets for paper in arranged.papers] == [paper.sheets for paper in design.papers]


@each_design
def test_it_holds_the_photos_it_promises(design: Design) -> None:
    assert recipe_use(design).photos == PHOTOS[design.code]


def test_two_sheets_of_one_size_are_trimmed_together() -> None:
    lifts = [lift for lift in DESIGNS["LETTERS"].lifts if len(lift.sheets) > 1]
    assert [[sheet.role for sheet in lift.sheets] for lift in lifts] == [["overlay", "mats"]]


def test_a_role_without_posted_sheets_is_cut_by_the_club_from_the_sheet_bought_for_it() -> None:
    bought = {(row.recipe, row.role): PAPERS[row.material] for row in MONTH.kit_papers}
    for design in DESIGNS.values():
        for paper in design.papers:
            sheet = bought[design.code, paper.role]
            cut_by = Counter(piece.cut_by for piece in design.pieces if piece.role == paper.role)
            assert (sheet.width, sheet.height) == (paper.width, paper.height)
            assert set(cut_by) == {CutBy.SUBSCRIBER if paper.sheets else CutBy.CLUB}


def test_every_recipe_is_in_the_kit() -> None:
    assert {line.item for line in MONTH.kit_lines if line.kind is ItemKind.RECIPE} == set(DESIGNS)
