"""The checker: each fault in a tree that has no other."""

from dataclasses import replace

import pytest

from kits.guillotine import (
    Cut,
    Direction,
    EdgeTrim,
    Ended,
    FaultName,
    Offcut,
    Part,
    Piece,
    PieceSize,
    SheetProblem,
    SheetResult,
    Turn,
    check,
    check_result,
    divide,
)
from kits.measures import INCH

# In inches: 10 wide, 6 high, into two cards 4 x 3 and a banner 6 x 5 turned; 1 x 6 left over.
CARD, BANNER = Piece("card", 4 * INCH, 3 * INCH), Piece("banner", 5 * INCH, 6 * INCH, turned=True)
CARDS = divide(Direction.LEVEL, [CARD, CARD])
LEFT_OVER = Offcut(INCH, 6 * INCH)
SHEET = divide(Direction.UPRIGHT, [CARDS, BANNER, LEFT_OVER])
PROBLEM = SheetProblem(
    10 * INCH,
    6 * INCH,
    (
        PieceSize("card", 4 * INCH, 3 * INCH, value=2, turn=Turn.NONE),
        PieceSize("banner", 6 * INCH, 5 * INCH, value=3),
    ),
)


def faults(tree: Part, problem: SheetProblem = PROBLEM) -> list[FaultName]:
    return [fault.name for fault in check(problem, tree)]


def test_it_works() -> None:
    assert check(PROBLEM, SHEET) == ()


def test_a_fault_says_what_where_and_by_how_much() -> None:
    narrow = Piece("banner", 5 * INCH, 5 * INCH, turned=True)
    below = divide(Direction.LEVEL, [narrow, Offcut(5 * INCH, INCH)])

    [fault] = check(PROBLEM, divide(Direction.UPRIGHT, [CARDS, below, LEFT_OVER]))

    assert str(fault) == (
        "piece 'banner', 5 in × 5 in at 4 in, 0 in, has the wrong size: 5 in × 5 in instead of 5 in × 6 in"
    )


def test_the_tree_of_another_sheet_is_found() -> None:
    other = replace(PROBLEM, width=11 * INCH)

    assert FaultName.OTHER_SHEET in faults(SHEET, other)
    assert FaultName.AREA in faults(SHEET, other)


def test_a_part_that_no_cut_bounds_is_found() -> None:
    # The banner is listed an inch narrower than the cuts at 4 and 9 leave it.
    wrong = replace(SHEET, parts=(CARDS, replace(BANNER, width=4 * INCH), LEFT_OVER))

    assert faults(wrong) == [FaultName.NOT_EDGE_TO_EDGE, FaultName.AREA, FaultName.PIECE_SIZE]


def test_a_part_larger_than_its_place_lies_on_another() -> None:
    wrong = replace(SHEET, parts=(CARDS, replace(BANNER, width=6 * INCH), LEFT_OVER))

    assert FaultName.OVERLAP in faults(wrong)


def test_a_part_over_the_edge_is_found() -> None:
    wrong = replace(SHEET, parts=(CARDS, BANNER, replace(LEFT_OVER, width=2 * INCH)))

    assert FaultName.OUTSIDE in faults(wrong)


@pytest.mark.parametrize("mark", [0, -1, 10 * INCH, 11 * INCH])
def test_a_cut_on_or_beyond_the_edge_is_found(mark: int) -> None:
    wrong = Cut(10 * INCH, 6 * INCH, Direction.UPRIGHT, (mark,), (CARDS, BANNER))

    assert FaultName.CUT_OUTSIDE in faults(wrong)


def test_marks_that_do_not_rise_are_found() -> None:
    assert FaultName.CUTS_OUT_OF_ORDER in faults(replace(SHEET, marks=(9 * INCH, 4 * INCH)))
    assert FaultName.CUTS_OUT_OF_ORDER in faults(replace(SHEET, marks=(4 * INCH, 4 * INCH)))


def test_too_few_parts_for_the_cuts_are_found() -> None:
    assert FaultName.CUTS_AND_PARTS in faults(replace(SHEET, parts=(CARDS, BANNER)))
    assert FaultName.CUTS_AND_PARTS in faults(Cut(10 * INCH, 6 * INCH, Direction.LEVEL, (), (SHEET,)))


def test_a_piece_that_nobody_wants_is_found() -> None:
    other = divide(Direction.LEVEL, [CARD, replace(CARD, name="ticket")])

    assert faults(divide(Direction.UPRIGHT, [other, BANNER, LEFT_OVER])) == [FaultName.UNKNOWN_PIECE]


def test_a_piece_the_wrong_way_round_is_found() -> None:
    turned = divide(Direction.UPRIGHT, [replace(CARD, width=3 * INCH, height=4 * INCH, turned=True)] * 3)
    problem = SheetProblem(9 * INCH, 4 * INCH, PROBLEM.pieces[:1])

    assert faults(turned, problem) == [FaultName.TURN] * 3


def test_a_piece_that_must_turn_is_found_unturned() -> None:
    must_turn = replace(PROBLEM, pieces=(replace(PROBLEM.pieces[0], turn=Turn.QUARTER), PROBLEM.pieces[1]))

    assert faults(SHEET, must_turn) == [FaultName.TURN] * 2


def test_a_piece_in_the_edge_trim_is_found() -> None:
    trimmed = replace(PROBLEM, edge_trim=EdgeTrim(right=INCH + 1, top=1))

    found = check(trimmed, SHEET)

    assert [fault.name for fault in found] == [FaultName.EDGE_TRIM] * 2
    assert [fault.about for fault in found] == ["piece 'card'", "piece 'banner'"]


def test_pieces_closer_than_the_spacing_are_found() -> None:
    spaced = replace(PROBLEM, spacing=1)

    # Card to card, and each card to the banner.
    assert faults(SHEET, spaced) == [FaultName.SPACING] * 3


def test_a_wrong_value_is_found() -> None:
    assert check_result(PROBLEM, SheetResult(SHEET, 7, 7, Ended.PROVED)) == ()

    [fault] = check_result(PROBLEM, SheetResult(SHEET, 8, 8, Ended.PROVED))

    assert (fault.name, fault.measure) == (FaultName.VALUE, "7 instead of 8")


def test_all_faults_are_told_at_once() -> None:
    wrong = replace(SHEET, parts=(CARDS, replace(BANNER, name="flag"), replace(LEFT_OVER, width=2 * INCH)))

    assert {FaultName.UNKNOWN_PIECE, FaultName.NOT_EDGE_TO_EDGE, FaultName.AREA} <= set(faults(wrong))


def test_a_result_cannot_contradict_its_own_bound() -> None:
    with pytest.raises(ValueError, match="bound"):
        SheetResult(SHEET, 7, 6, Ended.EFFORT)
    with pytest.raises(ValueError, match="proved"):
        SheetResult(SHEET, 7, 8, Ended.PROVED)
