"""A whole recipe arranged, and what its offcuts still yield."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kits.catalogue import Print
from kits.guillotine import Direction, Ended, Offcut, PieceSize, count_pieces, divide, offcuts
from kits.measures import INCH
from kits.recipe import (
    ArrangeError,
    CutBy,
    CutSheet,
    Design,
    FaultName,
    Lift,
    Page,
    PagePiece,
    Paper,
    Placement,
    Trimmer,
    WantedPiece,
    arrange_design,
    check,
    parse,
    still_yields,
    write,
)
from kits.recipe.arrange import lifts_of
from planning.demo import demo_month
from tests.recipe.designs import SMALL, leaves_of
from tests.support.effort import examples

E = INCH // 8
DESIGN = parse(SMALL)
MONTH = demo_month(1)
ON_PAGES = {FaultName.UNUSED, FaultName.SAME_LAYER, FaultName.HIDDEN}  # nothing has been placed yet


def test_it_works() -> None:
    arranged = arrange_design(DESIGN)

    assert check(arranged.design) == ()
    assert {role: len(result.sheets) for role, result in arranged.results.items()} == {"mats": 1, "band": 2}
    assert arranged.design.papers == DESIGN.papers


def test_new_trims_are_written_and_read_like_any_other() -> None:
    design = arrange_design(DESIGN).design

    assert parse(write(design)) == design


@pytest.mark.parametrize("code", [recipe.code for recipe in MONTH.recipes])
def test_the_recipes_of_the_demo_are_arranged_on_the_sheets_that_are_posted(code: str) -> None:
    [recipe] = [each for each in MONTH.recipes if each.code == code]
    design = parse(recipe.text)

    arranged = arrange_design(design)

    assert list(arranged.results) == [paper.role for paper in design.papers if paper.sheets]
    assert arranged.design.papers == design.papers
    assert all(result.ended is Ended.PROVED for result in arranged.results.values())
    assert check(arranged.design) == ()


def test_each_piece_is_sent_to_a_page_that_waits_for_it() -> None:
    band = arrange_design(DESIGN).design.sheets[1:]

    leaves = [leaf for sheet in band for leaf in leaves_of(sheet.tree)]
    pages = [(leaf.name, leaf.page) for leaf in leaves if isinstance(leaf, PagePiece)]
    assert sorted(pages) == [("panel", "right"), ("stripe", "left"), ("stripe", "right"), ("tag", "left")]


def test_sheets_with_the_same_first_cut_are_cut_together_as_far_as_the_trimmer_takes() -> None:
    card = WantedPiece(piece="card", width=3 * INCH, height=4 * INCH, role="p", count=36, turn=False)
    design = Design(code="A", papers=(Paper(role="p", width=12 * INCH, height=12 * INCH),), pieces=(card,))

    two = arrange_design(replace(design, trimmer=Trimmer(sheets=2))).design
    three = arrange_design(replace(design, trimmer=Trimmer(sheets=3))).design

    assert [len(lift.sheets) for lift in two.lifts] == [2, 1]
    assert [len(lift.sheets) for lift in three.lifts] == [3]
    assert two.papers[0].sheets == 3


def test_papers_that_share_their_cuts_are_cut_together() -> None:
    papers = tuple(Paper(role=role, width=12 * INCH, height=12 * INCH) for role in ("plain", "dots"))
    pieces = tuple(
        WantedPiece(piece=role, width=4 * INCH, height=12 * INCH, role=role, count=3)
        for role in ("plain", "dots")
    )
    design = Design(code="A", trimmer=Trimmer(sheets=2), papers=papers, pieces=pieces)

    arranged = arrange_design(design).design

    assert [[sheet.role for sheet in lift.sheets] for lift in arranged.lifts] == [["plain", "dots"]]
    assert check(arranged) == ()


def test_sheets_that_are_cut_the_same_way_to_the_end_share_a_lift() -> None:
    # All four are cut at 6 first, but only every other one is then cut at 3.
    def sheet(number: int, *marks: int) -> CutSheet:
        widths = [high - low for low, high in pairwise((0, *marks, 12))]
        tree = divide(Direction.UPRIGHT, [Offcut(width * INCH, INCH) for width in widths])
        return CutSheet("p", number, tree)

    lifts = lifts_of([sheet(1, 6), sheet(2, 3, 6), sheet(3, 6), sheet(4, 3, 6)], 2)

    assert [[sheet.number for sheet in lift.sheets] for lift in lifts] == [[1, 3], [2, 4]]


def test_no_cut_is_longer_than_the_trimmer() -> None:
    # Two columns would take a cut along 11 in; across 8 1/2 in it is short enough.
    card = WantedPiece(piece="card", width=4 * INCH, height=5 * INCH, role="p", count=4)
    paper = Paper(role="p", width=68 * E, height=88 * E)
    design = Design(code="A", trimmer=Trimmer(9 * INCH), papers=(paper,), pieces=(card,))

    arranged = arrange_design(design).design

    assert check(arranged) == ()
    assert len(arranged.sheets) == 1


def test_a_paper_that_nothing_is_cut_from_stays_whole() -> None:
    design = replace(
        DESIGN, papers=(*DESIGN.papers, Paper(role="card", width=8 * INCH, height=8 * INCH, sheets=2))
    )

    sheets = arrange_design(design).design.sheets

    assert [(sheet.label, len(offcuts(sheet.tree))) for sheet in sheets[3:]] == [
        ("sheet 1 of card", 1),
        ("sheet 2 of card", 1),
    ]


def test_only_the_papers_named_get_new_trims() -> None:
    design = arrange_design(DESIGN, ["band"]).design

    assert design.lifts[0] == DESIGN.lifts[0]


def test_pieces_of_the_club_are_not_arranged() -> None:
    pieces = tuple(
        replace(each, cut_by=CutBy.CLUB) if each.role == "mats" else each for each in DESIGN.pieces
    )

    arranged = arrange_design(replace(DESIGN, pieces=pieces))

    assert list(arranged.results) == ["band"]


def test_a_piece_that_no_sheet_yields_is_told() -> None:
    pieces = tuple(replace(each, width=97 * E) if each.piece == "tag" else each for each in DESIGN.pieces)

    with pytest.raises(ArrangeError, match="'tag'"):
        arrange_design(replace(DESIGN, pieces=pieces))


SIDES = st.integers(6, 60)


@st.composite
def wanted(draw: st.DrawFn) -> Design:
    """Return a design with pieces but no cuts, and every piece on a page of its own layer."""
    runs = draw(st.sampled_from(Print))
    pieces = tuple(
        WantedPiece(
            piece=f"p{number}",
            width=draw(SIDES) * E,
            height=draw(SIDES) * E,
            role="paper",
            count=draw(st.integers(1, 3)),
            page=draw(st.sampled_from(("left", "right"))),
            turn=runs is Print.NO_DIRECTION,
        )
        for number in range(draw(st.integers(1, 6)))
    )
    pages = tuple(
        Page(
            name,
            9_000 * INCH,
            100 * INCH,
            placements=tuple(
                Placement(each.piece, 10 * INCH * (10 * number + copy), 0)
                for number, each in enumerate(pieces)
                for copy in range(each.count)
                if each.page == name
            ),
        )
        for name in ("left", "right")
    )
    paper = Paper(role="paper", width=96 * E, height=96 * E, print=runs)
    trimmer = Trimmer(sheets=draw(st.integers(1, 3)))
    return Design(code="A", trimmer=trimmer, papers=(paper,), pieces=pieces, pages=pages)


@given(wanted())
@settings(max_examples=examples(40))
def test_what_is_arranged_has_no_fault_and_uses_up_its_sheets(design: Design) -> None:
    arranged = arrange_design(design).design

    assert check(arranged) == ()
    for sheet in arranged.sheets:
        parts = leaves_of(sheet.tree)
        assert sum(part.width * part.height for part in parts) == 96 * 96 * E * E
    assert parse(write(arranged)) == arranged


# --- What offcuts still yield ---


def test_offcuts_still_yield_handy_pieces() -> None:
    # 8 1/2 x 5 3/4 holds two cards of 3 x 4 and 3 1/2 x 2 tags beside and below them; 10 x 8 holds six cards.
    cards = (PieceSize("card", 3 * INCH, 4 * INCH),)

    found = still_yields(DESIGN, cards)

    assert [(each.sheet, each.result.value // (12 * INCH**2)) for each in found] == [
        ("sheet 2 of band", 6),
        ("sheet 1 of mats", 2),
    ]
    assert count_pieces(found[0].result.tree) == {"card": 6}


def test_on_one_way_paper_nothing_is_turned() -> None:
    # 10 x 8: upright, 4 columns of 2 x 7 in one row; they would fit 5 a row if they could be turned
    tall = (PieceSize("tall", 7 * INCH, 2 * INCH),)

    found = {each.sheet: count_pieces(each.result.tree) for each in still_yields(DESIGN, tall)}

    assert found["sheet 2 of band"] == {"tall": 4}


def test_sizes_off_the_ruler_or_too_large_yield_nothing() -> None:
    handy = (PieceSize("odd", 3 * INCH + 1, 4 * INCH), PieceSize("large", 11 * INCH, 11 * INCH))

    assert still_yields(DESIGN, handy) == ()


def test_a_lift_needs_a_sheet() -> None:
    with pytest.raises(ValueError, match="at least one sheet"):
        Lift(())
