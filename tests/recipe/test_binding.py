"""A recipe bound to papers, and a substitute tried."""

from dataclasses import replace
from fractions import Fraction

import pytest

from kits.catalogue import Print
from kits.measures import INCH, MM, Grammage, parse_grammage
from kits.recipe import (
    CutBy,
    MisfitName,
    SheetPaper,
    check,
    misfits,
    parse,
    trim_steps,
    try_paper,
    with_paper_names,
)
from tests.recipe.designs import SMALL

E = INCH // 8
DESIGN = parse(SMALL)
BARK = SheetPaper("Bark", 12 * INCH, 12 * INCH, grammage=Grammage(Fraction(200)))
LEAVES = SheetPaper("Leaves", 12 * INCH, 12 * INCH, Print.ONE_WAY, Grammage(Fraction(200)))
MONTH = {"mats": BARK, "band": LEAVES}


def names(papers: dict[str, SheetPaper]) -> list[MisfitName]:
    return [each.name for each in misfits(DESIGN, papers)]


def test_it_works() -> None:
    assert misfits(DESIGN, MONTH) == ()


def test_every_role_has_a_paper_and_every_paper_a_role() -> None:
    assert names({"mats": BARK}) == [MisfitName.NO_PAPER]
    assert names({**MONTH, "lining": BARK}) == [MisfitName.NO_ROLE]


def test_a_paper_of_another_size_does_not_suit() -> None:
    [misfit] = misfits(DESIGN, {**MONTH, "mats": replace(BARK, width=210 * MM, height=297 * MM)})

    assert misfit.name is MisfitName.SIZE
    assert str(misfit) == "mats: Bark has the wrong size: 210 mm × 297 mm instead of 12 in × 12 in"


def test_a_paper_that_is_too_light_or_too_heavy_does_not_suit() -> None:
    # The mats ask for at least 160 g/m². 50 lb text is 74 g/m² (computed: 50 x 1406.14 / 950).
    assert names({**MONTH, "mats": replace(BARK, grammage=Grammage(Fraction(150)))}) == [MisfitName.TOO_LIGHT]
    assert names({**MONTH, "mats": replace(BARK, grammage=parse_grammage("50 lb text"))}) == [
        MisfitName.TOO_LIGHT
    ]
    assert names({**MONTH, "mats": replace(BARK, grammage=None)}) == [MisfitName.NO_WEIGHT]
    heavy = replace(
        DESIGN, papers=(replace(DESIGN.papers[0], heaviest=Grammage(Fraction(180))), DESIGN.papers[1])
    )
    assert [each.name for each in misfits(heavy, MONTH)] == [MisfitName.TOO_HEAVY]


def test_a_plain_paper_may_take_the_place_of_a_print() -> None:
    assert names({**MONTH, "band": BARK}) == []


def test_a_print_on_plain_paper_suits_while_every_piece_stands_upright() -> None:
    # One story card is placed turned but none is cut turned: its leaves would lie on their side.
    [misfit] = misfits(DESIGN, {**MONTH, "mats": LEAVES})

    assert misfit.name is MisfitName.PRINT
    assert misfit.measure == "story card on page right, 0 cut turned, 1 placed turned"


def test_a_piece_that_the_club_may_cut_turned_does_not_suit_a_print() -> None:
    pieces = tuple(
        replace(each, cut_by=CutBy.CLUB) if each.piece == "photo mat" else each for each in DESIGN.pieces
    )

    found = misfits(replace(DESIGN, pieces=pieces), {**MONTH, "mats": LEAVES})

    assert "photo mat, which the club may cut turned" in [each.measure for each in found]


def test_a_paper_lying_on_its_side_suits_only_what_may_turn() -> None:
    lying = replace(BARK, width=9 * INCH, height=12 * INCH)
    role = replace(DESIGN.papers[0], width=12 * INCH, height=9 * INCH)
    design = replace(DESIGN, papers=(role, DESIGN.papers[1]))
    fixed = tuple(replace(each, turn=False) if each.role == "mats" else each for each in DESIGN.pieces)

    assert [each.name for each in misfits(design, {**MONTH, "mats": lying})] == []
    assert [each.name for each in misfits(replace(design, pieces=fixed), {**MONTH, "mats": lying})] == [
        MisfitName.LYING
    ]


# --- Substitutes ---


def test_a_substitute_that_suits_needs_no_change() -> None:
    trial = try_paper(DESIGN, "band", BARK)

    assert (trial.suits, trial.recut) == (True, None)


def test_a_smaller_substitute_gets_new_trims() -> None:
    # 5 pieces of 4 1/4 x 6 1/4 and 3 1/2 x 4 need two sheets of A4 where one of 12 x 12 in was enough.
    trial = try_paper(DESIGN, "mats", replace(BARK, width=210 * MM, height=297 * MM))

    assert [each.name for each in trial.misfits] == [MisfitName.SIZE]
    assert trial.recut is not None
    assert (trial.sheets, check(trial.recut)) == (2, ())
    assert trial.recut.sheets[:2] == DESIGN.sheets[1:]


def test_a_print_gets_trims_that_keep_it_upright() -> None:
    straight = parse(SMALL.replace("story card at 7, 1, layer 2, turned", "story card at 7, 1, layer 2"))
    lying = parse(SMALL.replace("3 of 3 1/2 x 4", "3 of 4 x 3 1/2").replace("layer 2, turned", "layer 2"))

    assert try_paper(straight, "mats", LEAVES).suits
    trial = try_paper(lying, "mats", LEAVES)
    assert [each.name for each in trial.misfits] == [MisfitName.PRINT]
    assert trial.recut is not None
    assert trial.sheets == 1
    assert not any(each.turn for each in trial.recut.pieces)


def test_a_substitute_that_pieces_do_not_fit_has_no_new_trims() -> None:
    trial = try_paper(DESIGN, "band", replace(LEAVES, width=8 * INCH, height=8 * INCH))

    assert (trial.recut, trial.sheets) == (None, 0)
    assert "'stripe', 2 in × 12 in, which may not turn, does not fit a sheet of 8 in × 8 in" in trial.why_not


def test_no_trims_help_where_a_piece_is_placed_with_the_print_on_its_side() -> None:
    # One story card is placed turned; new trims leave all of them upright on the sheet.
    trial = try_paper(DESIGN, "mats", LEAVES)

    assert (trial.recut, trial.sheets) == (None, 0)
    assert trial.why_not.endswith("story card on page right, 0 cut turned, 1 placed turned")


def test_no_trims_help_against_the_wrong_weight() -> None:
    trial = try_paper(DESIGN, "mats", replace(BARK, grammage=Grammage(Fraction(90)), width=11 * INCH))

    assert {each.name for each in trial.misfits} == {MisfitName.SIZE, MisfitName.TOO_LIGHT}
    assert trial.recut is None


def test_a_role_that_is_not_there_is_told() -> None:
    with pytest.raises(KeyError):
        try_paper(DESIGN, "lining", BARK)


def test_a_recipe_is_told_in_the_names_of_papers() -> None:
    named = with_paper_names(DESIGN, {"mats": "Bark card", "band": "Leaves, one way"})
    assert [paper.role for paper in named.papers] == ["Bark card", "Leaves, one way"]
    assert check(named) == check(DESIGN)
    assert trim_steps(named).steps[0].hand == "sheet 1 of Bark card"


def test_two_roles_on_one_paper_are_told_apart() -> None:
    named = with_paper_names(DESIGN, {"mats": "Card", "band": "Card"})
    assert [paper.role for paper in named.papers] == ["Card (mats)", "Card (band)"]
    assert [paper.role for paper in with_paper_names(DESIGN, {}).papers] == ["mats", "band"]
