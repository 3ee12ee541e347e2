"""Between designs and the rows that planning uses."""

from dataclasses import replace

import pytest
from hypothesis import given, settings

from kits.catalogue import Print
from kits.measures import INCH, RULERS
from kits.recipe import (
    CutBy,
    Design,
    PaperRole,
    Recipe,
    RecipePiece,
    RecipeRows,
    Trimmer,
    from_rows,
    parse,
    to_rows,
    write,
)
from planning.demo import demo_month
from tests.recipe.designs import SMALL, designs
from tests.support.effort import examples

E = INCH // 8
MONTH = demo_month(1)


def test_it_works() -> None:
    rows = to_rows(parse(SMALL))

    assert rows.recipe == Recipe(code="GATE", title="Garden gate", note="Two photos of 4 x 6 in.")
    assert rows.roles[1] == PaperRole(recipe="GATE", role="band", width=96 * E, height=96 * E, sheets=2)
    assert rows.pieces[0] == RecipePiece(
        recipe="GATE",
        role="mats",
        piece="photo mat",
        width=34 * E,
        height=50 * E,
        count=2,
        page="left",
        cut_by=CutBy.SUBSCRIBER,
        turn=True,
    )
    assert [each.turn for each in rows.pieces] == [True, True, False, False, False, False]


def rows_of(code: str) -> RecipeRows:
    [recipe] = [each for each in MONTH.recipes if each.code == code]
    return to_rows(parse(recipe.text))


def from_month(rows: RecipeRows) -> Design:
    return from_rows(
        rows, ruler=RULERS[0], page_width=12 * INCH, page_height=12 * INCH, trimmer=Trimmer(sheets=2)
    )


@pytest.mark.parametrize("code", [recipe.code for recipe in MONTH.recipes])
def test_a_recipe_of_the_month_gives_its_rows_back_even_by_way_of_its_text(code: str) -> None:
    rows = rows_of(code)

    design = from_month(rows)

    assert to_rows(design) == rows
    assert to_rows(parse(write(design))) == rows


@given(designs())
@settings(max_examples=examples(50))
def test_rows_are_the_same_by_way_of_the_text(design: Design) -> None:
    rows = to_rows(design)

    assert to_rows(parse(write(design))) == rows
    assert to_rows(replace(from_month(rows), code=design.code)) == rows


def test_a_paper_none_of_whose_pieces_may_turn_has_a_one_way_print() -> None:
    design = from_month(to_rows(parse(SMALL)))

    assert [paper.print for paper in design.papers] == [Print.NO_DIRECTION, Print.ONE_WAY]
    assert [page.name for page in design.pages] == ["left", "right"]
