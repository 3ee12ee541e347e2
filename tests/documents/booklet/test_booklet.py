"""What the booklet says of a month, and that it says all of it."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings

from kits.catalogue import Print
from kits.measures import INCH, MM, ruler
from kits.recipe import Design, Opening, Recipe, kit_left, recipe_use
from planning.demo import demo_month
from planning.documents.booklet import Booklet, booklet
from planning.documents.booklet.chapter import photo_words, work
from planning.documents.booklet.compose import design_of, papers_of
from planning.documents.booklet.left import share
from planning.month import Month
from planning.recipes import kit_recipes
from tests.documents.small_month import MONTH
from tests.recipe.designs import designs
from tests.support.effort import examples
from tests.support.months import DAISY, designed_month, tiny_month

EIGHTHS = ruler("1/8 in")


@pytest.fixture(scope="module")
def demo() -> Month:
    return demo_month(10)


@pytest.fixture(scope="module")
def said(demo: Month) -> Booklet:
    return booklet(demo)


def test_it_works() -> None:
    """Two sheets of White card are cut together at 6, and both halves at 6 again: 3 cuts; the print takes 1 more."""
    said = booklet(designed_month())
    assert (said.club, said.kit, said.month) == ("Tiny Paper Club", "Daisies", "April 2027")
    [one] = said.chapters
    assert (one.title, one.note, one.boxes) == (
        "Daisies on a fence",
        "The rail runs over both pages.",
        (),
    )
    assert [(paper.name, paper.size, paper.sheets) for paper in one.papers] == [
        ("White card", "12 × 12 in", 2),
        ("Daisy print", "12 × 12 in", 1),
    ]
    assert one.work is not None
    assert (one.work.cuts, one.work.turns) == (4, 3)
    assert [(lift.title, len(lift.steps)) for lift in one.work.lifts] == [
        ("Sheet 1 of White card and sheet 2 of White card", 3),
        ("Sheet 1 of Daisy print", 1),
    ]
    assert [(left.sheet, left.size) for left in one.work.left] == [("sheet 1 of Daisy print", "12 × 9 in")]
    assert [(piece.name, piece.count, piece.page) for piece in one.ready_cut] == [("tag", 2, "right")]
    assert [(photo.size, photo.count) for photo in one.photos] == [("4 × 5 in", 1)]


def test_the_box_holds_what_the_packing_lists_say() -> None:
    """A full kit has the ribbon besides; a first box the gift. The strip is on a posted sheet, the tags come cut."""
    box = booklet(tiny_month()).box
    assert box.tiers == ("The full kit", "The half kit")
    found = {
        (group.title, line.name, line.detail): line.counts for group in box.groups for line in group.lines
    }
    assert found == {
        ("Spreads", "Daisies on a fence", ""): (1, 1),
        ("Papers", "White card", "12 × 12 in"): (2, 2),
        ("Papers", "Daisy print", "12 × 12 in"): (1, 1),
        ("Ready cut for you", "Photo mat", "4 × 6 in"): (3, 3),
        ("Ready cut for you", "tag", "3 × 4 in, for Daisies on a fence"): (2, 2),
        ("And besides", "Green ribbon", "1.5 m"): (1, 0),
        ("And besides", "Brass brads", ""): (10, 10),
        ("In your first box", "Welcome gift", ""): (1, 1),
    }


def test_every_offcut_of_every_recipe_is_listed(demo: Month, said: Booklet) -> None:
    for recipe, one in zip(kit_recipes(demo), said.chapters, strict=True):
        assert one.work is not None
        offcuts = [placed for sheet in recipe_use(design_of(recipe)).sheets for placed in sheet.offcuts]
        assert len(one.work.left) == len(offcuts)
    designs = [design_of(recipe) for recipe in kit_recipes(demo)]
    left = kit_left(designs, papers_of(demo, designs))
    assert [one.name for one in said.rest] == [paper.paper for paper in left]
    assert [bool(one.offcuts) for one in said.rest] == [bool(paper.offcuts) for paper in left]


def test_every_step_and_every_placement_of_the_demo_is_told(said: Booklet) -> None:
    for one in said.chapters:
        assert one.work is not None
        assert sum(len(lift.steps) for lift in one.work.lifts) == one.work.cuts
        for laid in one.work.pages:
            assert len(laid.pieces) == len(laid.page.placements)


def test_papers_go_by_this_months_names(said: Booklet) -> None:
    gate = said.chapters[0]
    assert [paper.name for paper in gate.papers] == ["Cream card", "Bark brown card", "Blossom print"]
    assert gate.work is not None
    assert gate.work.whole == (
        "sheet 1 of Cream card: ground for page left",
        "sheet 2 of Cream card: ground for page right",
    )


def test_a_recipe_says_which_boxes_hold_it_where_not_all_do(said: Booklet) -> None:
    assert said.chapters[0].boxes == ()
    assert said.chapters[1].boxes == ("Orchard: five spreads and every extra", "Branch: three spreads")


def test_an_offcut_is_put_to_the_largest_use_first(said: Booklet) -> None:
    """6 1/2 x 4 1/2 in hold one mat of 4 1/4 x 6 1/4 in, or six tags; the mat is worth more."""
    market = said.chapters[1].work
    assert market is not None
    assert [(left.size, left.yields) for left in market.left] == [
        ("6 1/2 × 4 1/2 in", "photo mat 4 1/4 × 6 1/4 in"),
        ("6 × 4 in", "card 3 × 4 in (2 of them)"),
    ]


def test_a_recipe_in_millimetres_is_offered_sizes_in_millimetres() -> None:
    """12 in are 304.8 mm: with a ruler of 1 mm the sheet is said in mm, and so are the handy sizes."""
    text = """\
recipe DAISY: Daisies on a fence
ruler 1 mm
trimmer 400 mm, takes 1 sheet
paper base: 1 sheet 300 x 300 mm
piece quarter: 1 of 150 x 300 mm from base -> left
sheet 1 of base
    cut at 150: offcut
    rest: quarter -> left
page left: 300 x 300
    quarter at 0, 0
"""
    [one] = booklet(designed_month(text)).chapters
    assert one.work is not None
    assert [left.size for left in one.work.left] == ["150 × 300 mm"]
    assert "mm" in one.work.left[0].yields
    assert " in" not in one.work.left[0].yields


def test_a_recipe_known_by_its_rows_has_its_pieces_and_no_cuts() -> None:
    [one] = booklet(MONTH).chapters
    assert one.work is None
    assert not one.faults
    assert [(piece.name, piece.size, piece.ready_cut) for piece in one.pieces] == [
        ("photo mat", "4 1/4 × 6 1/4 in", True)
    ]


def test_a_recipe_that_does_not_come_out_has_no_cuts_either() -> None:
    [one] = booklet(designed_month(DAISY.replace("cut at 3: offcut", "cut at 13: offcut"))).chapters
    assert one.work is None
    assert one.faults > 0


def test_a_recipe_that_no_box_holds_is_left_out() -> None:
    month = tiny_month()
    more = replace(month, recipes=(*month.recipes, Recipe(code="LATER", title="For another month")))
    assert [one.code for one in booklet(more).chapters] == ["DAISY"]


def test_two_roles_on_one_paper_keep_their_names_apart() -> None:
    month = designed_month(DAISY.replace(", print one way", ""))
    same = replace(month, kit_papers=tuple(replace(row, material="CARD") for row in month.kit_papers))
    [one] = booklet(same).chapters
    assert [paper.name for paper in one.papers] == ["White card (base)", "White card (print)"]


@pytest.mark.parametrize(
    ("width", "height", "border", "words"),
    [
        # common practice, no source: a mat of 4 1/4 x 6 1/4 in shows 1/8 in around a print of 4 x 6 in
        (4 * INCH, 6 * INCH, INCH // 8, "4 × 6 in print"),
        (6 * INCH, 4 * INCH, INCH // 8, "6 × 4 in print"),
        (
            11 * INCH // 2,
            11 * INCH // 2,
            INCH // 4,
            "cut to 5 1/2 × 5 1/2 in, or a 3 1/2 × 5 in print with a wider border",
        ),
        (INCH, INCH, 0, "cut to 1 × 1 in"),
        (90 * MM, 130 * MM, 0, "cut to 90 × 130 mm, or a 3 1/2 × 5 in print with a wider border"),
    ],
)
def test_a_photo_is_told_as_the_print_it_takes(width: int, height: int, border: int, words: str) -> None:
    assert photo_words(Opening(width, height, border), EIGHTHS) == words


def test_only_a_paper_without_a_scrap_is_used_to_the_last() -> None:
    assert share(144, 144) == "100 %"
    assert share(10_000 - 1, 10_000) == "99.9 %"
    assert share(0, 144) == "0 %"
    assert Fraction(719, 864) * 100 > 83
    assert share(719, 864) == "83.2 %"  # 83.217...


def test_the_demos_one_way_papers_are_known() -> None:
    gate = booklet(demo_month(10)).chapters[0].work
    assert gate is not None
    assert gate.design.papers[2].print is Print.ONE_WAY


@given(designs())
@settings(max_examples=examples(40))
def test_whatever_is_designed_every_cut_and_every_offcut_is_told(design: Design) -> None:
    told = work(design)
    assert sum(len(lift.steps) for lift in told.lifts) == told.cuts
    cut = {sheet.label for lift in told.lifts for sheet in lift.sheets}
    whole = {sheet.label for sheet in design.sheets} - cut
    assert all(any(line.startswith(f"{label}: ") for line in told.whole) for label in whole)
    offcuts = [placed for sheet in recipe_use(design).sheets for placed in sheet.offcuts]
    assert len(told.left) == len(offcuts)
    assert all(left.sheet and left.size for left in told.left)
