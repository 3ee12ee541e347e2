"""The cut tree and what can be read off it."""

import sys

from pydantic import TypeAdapter

from kits.guillotine import (
    Cause,
    Cut,
    Direction,
    Offcut,
    Part,
    Piece,
    Placed,
    count_cuts,
    count_pieces,
    count_stages,
    divide,
    largest_offcut,
    number_out,
    offcuts,
    piece_area,
    pieces,
    walk,
)

# 10 wide, 6 high: a column of two cards 4 x 3, a banner 5 x 6, and 1 x 6 left over.
CARD, BANNER = Piece("card", 4, 3), Piece("banner", 5, 6, turned=True)
CARDS = Cut(4, 6, Direction.LEVEL, (3,), (CARD, CARD))
SHEET = Cut(10, 6, Direction.UPRIGHT, (4, 9), (CARDS, BANNER, Offcut(1, 6)))


def test_it_works() -> None:
    assert pieces(SHEET) == (Placed(CARD, 0, 0, 2), Placed(CARD, 0, 3, 2), Placed(BANNER, 4, 0, 1))
    assert offcuts(SHEET) == (Placed(Offcut(1, 6), 9, 0, 1),)
    assert count_pieces(SHEET) == {"card": 2, "banner": 1}
    assert count_cuts(SHEET) == 3
    assert count_stages(SHEET) == 2
    assert piece_area(SHEET) == 2 * 12 + 30
    assert largest_offcut(SHEET) == Offcut(1, 6)


def test_parts_are_laid_against_each_other() -> None:
    assert divide(Direction.UPRIGHT, [CARDS, BANNER, Offcut(1, 6)]) == SHEET
    assert divide(Direction.LEVEL, [CARD, CARD]) == CARDS


def test_a_sheet_that_is_not_cut_has_no_stages() -> None:
    assert (count_cuts(CARD), count_stages(CARD), count_pieces(CARD)) == (0, 0, {"card": 1})


def test_trimming_the_edges_is_no_stage_and_a_trim_is_not_left_over() -> None:
    trim = Offcut(2, 6, Cause.EDGE_TRIM)

    tree = divide(Direction.UPRIGHT, [trim, SHEET, trim])

    assert count_stages(tree) == 2
    assert largest_offcut(tree) == Offcut(1, 6)
    assert [placed.x for placed in pieces(tree)] == [2, 2, 6]


def test_a_tree_survives_json() -> None:
    adapter: TypeAdapter[Part] = TypeAdapter(Part)

    written = adapter.dump_json(SHEET)

    assert adapter.validate_json(written) == SHEET
    assert b'"kind":"cut"' in written


def test_a_tree_of_many_parts_survives_json() -> None:
    tree = number_out(400, 300, 10, 7).tree
    adapter: TypeAdapter[Part] = TypeAdapter(Part)

    assert len(list(walk(tree))) > 1_000
    assert adapter.validate_json(adapter.dump_json(tree)) == tree


def test_a_tree_deeper_than_pythons_stack_can_be_read() -> None:
    tree: Part = Piece("last", 1, 1)
    deep = sys.getrecursionlimit() * 2
    for number in range(deep):
        if number % 2:
            tree = divide(Direction.UPRIGHT, [Piece("strip", 1, tree.height), tree])
        else:
            tree = divide(Direction.LEVEL, [Piece("strip", tree.width, 1), tree])

    assert count_cuts(tree) == count_stages(tree) == deep
    assert len(pieces(tree)) == deep + 1
