"""The checker: each fault in a tree that has no other."""

from dataclasses import replace

import pytest

from kits.guillotine import (
    Cause,
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


def test_a_piece_too_many_is_found() -> None:
    card, banner = PROBLEM.pieces

    assert faults(SHEET, replace(PROBLEM, pieces=(replace(card, limit=2), banner))) == []
    [fault] = check(replace(PROBLEM, pieces=(replace(card, limit=1), banner)), SHEET)
    assert str(fault) == (
        "piece 'card', 4 in × 3 in at 0 in, 3 in, is there more often than it is wanted: 2 instead of at most 1"
    )


def test_pieces_closer_than_the_spacing_are_found() -> None:
    spaced = replace(PROBLEM, spacing=1)

    # Card to card, and each card to the banner.
    assert faults(SHEET, spaced) == [FaultName.SPACING] * 3


def test_a_stage_too_many_is_found() -> None:
    # Upright into columns, level between the cards.
    assert faults(SHEET, replace(PROBLEM, stages=2)) == []
    assert faults(SHEET, replace(PROBLEM, stages=1)) == [FaultName.STAGES]


def test_parallel_cuts_one_after_the_other_are_one_stage() -> None:
    halves = divide(Direction.LEVEL, [CARDS, CARDS])

    assert faults(halves, SheetProblem(4 * INCH, 12 * INCH, PROBLEM.pieces[:1], stages=1)) == []


def test_a_final_trim_is_no_stage_but_takes_offcuts_off_one_piece_only() -> None:
    short = divide(Direction.LEVEL, [replace(CARD, height=3 * INCH), Offcut(4 * INCH, 3 * INCH)])
    trimmed = divide(Direction.UPRIGHT, [short, BANNER, LEFT_OVER])
    once = replace(PROBLEM, stages=1)

    assert faults(trimmed, once) == [FaultName.STAGES]
    assert faults(trimmed, replace(once, final_trim=True)) == []
    assert faults(SHEET, replace(once, final_trim=True)) == [FaultName.STAGES]


def test_only_what_lies_in_the_trim_is_trimmed_off_for_free() -> None:
    # The same tree, with its outer cut an inch and with it two inches from the edge.
    tree = divide(Direction.LEVEL, [SHEET, Offcut(10 * INCH, INCH, Cause.EDGE_TRIM)])
    problem = replace(PROBLEM, height=7 * INCH, stages=2, first=Direction.UPRIGHT)

    assert faults(tree, replace(problem, edge_trim=EdgeTrim(bottom=INCH))) == []
    assert faults(tree, problem) == [FaultName.FIRST_CUT, FaultName.STAGES]


def test_a_first_cut_in_the_wrong_direction_is_found() -> None:
    assert faults(SHEET, replace(PROBLEM, first=Direction.UPRIGHT)) == []
    assert faults(SHEET, replace(PROBLEM, first=Direction.LEVEL)) == [FaultName.FIRST_CUT]


def test_a_strip_too_small_to_be_held_is_found() -> None:
    # Either side may be clamped at the last of parallel cuts: 4 in or 5 in, and between the cards 3 in.
    assert faults(SHEET, replace(PROBLEM, smallest_strip=3 * INCH)) == []
    [fault] = check(replace(PROBLEM, smallest_strip=4 * INCH), SHEET)

    assert str(fault) == (
        "the part in hand, 4 in × 6 in at 0 in, 0 in, leaves the machine too little to hold: "
        "3 in instead of at least 4 in"
    )


def test_a_strip_of_spacing_is_nothing_to_hold() -> None:
    gap = Offcut(2 * INCH, 3 * INCH, Cause.SPACING)
    tree = divide(Direction.UPRIGHT, [replace(CARD, width=INCH), gap, replace(CARD, width=INCH)])
    problem = SheetProblem(4 * INCH, 3 * INCH, (PieceSize("card", INCH, 3 * INCH),), spacing=2 * INCH)

    assert faults(tree, problem) == []
    assert faults(tree, replace(problem, smallest_strip=2 * INCH)) == [FaultName.STRIP]


def test_a_cut_off_the_ruler_is_found() -> None:
    assert faults(SHEET, replace(PROBLEM, ruler=INCH)) == []
    wrong = replace(SHEET, marks=(4 * INCH, 9 * INCH + 1))

    [fault] = [fault for fault in check(replace(PROBLEM, ruler=INCH), wrong) if fault.name is FaultName.RULER]
    assert fault.measure == "228.600125 mm is no multiple of 1 in"


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
