"""How well recipes use their sheets, what they cost, and what is left of a kit's papers."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings

from kits.measures import INCH
from kits.recipe import Design, kit_left, paper_cost, parse, recipe_use
from tests.recipe.designs import SMALL, designs
from tests.support.effort import examples

E = INCH // 8
DESIGN = parse(SMALL)


def test_it_works() -> None:
    use = recipe_use(DESIGN)

    # mats: 144 - 8 1/2 x 5 3/4 = 144 - 48 7/8 are used; the first band is used up, the second leaves 10 x 8
    assert [sheet.share for sheet in use.sheets] == [Fraction(761, 1152), 1, Fraction(64, 144)]
    assert [[(each.part.width, each.part.height) for each in sheet.offcuts] for sheet in use.sheets] == [
        [(68 * E, 46 * E)],
        [],
        [(80 * E, 64 * E)],
    ]
    assert (use.cuts, use.turns, use.photos) == (7, 4, 2)


def test_the_share_of_a_recipe_is_that_of_all_its_sheets() -> None:
    # 3 x 144 = 432 square inches less 48 7/8 and 80
    assert recipe_use(DESIGN).share == 1 - (Fraction(391, 8) + 80) / 432
    assert recipe_use(Design(code="A")).share == 0


@given(designs())
@settings(max_examples=examples(40))
def test_what_is_used_and_what_is_left_sum_to_the_sheet(design: Design) -> None:
    for sheet in recipe_use(design).sheets:
        assert sheet.left == sum(each.part.width * each.part.height for each in sheet.offcuts)
        assert sheet.used + sheet.left == sheet.area


def test_a_recipe_costs_its_posted_sheets() -> None:
    assert paper_cost(DESIGN, {"mats": Decimal("0.55"), "band": Decimal("0.805")}) == Decimal("2.160")
    with pytest.raises(KeyError):
        paper_cost(DESIGN, {"mats": Decimal(1)})


def test_what_is_left_of_a_kit_is_told_by_paper() -> None:
    other = parse(SMALL.replace("recipe GATE", "recipe FENCE"))
    papers = {
        ("GATE", "mats"): "Bark",
        ("GATE", "band"): "Leaves",
        ("FENCE", "mats"): "Bark",
        ("FENCE", "band"): "Bark",
    }

    left = kit_left([DESIGN, other], papers)

    # Bark: the mats of both recipes and the two bands of one
    assert [(each.paper, each.sheets) for each in left] == [("Bark", 4), ("Leaves", 2)]
    assert [each.part.width * each.part.height for each in left[0].offcuts] == [
        80 * 64 * E * E,
        68 * 46 * E * E,
        68 * 46 * E * E,
    ]
    assert left[1].share == Fraction(208, 288)
