"""Sheets longer than the knife: the same pieces, cut in another order."""

from collections import Counter

from hypothesis import given
from hypothesis import strategies as st

from kits.guillotine import Direction, Offcut, Part, Piece, PieceSize, SheetProblem, best_use, check, divide
from kits.guillotine.seams import longest_cut, within
from kits.guillotine.tree import pieces

TAG = Piece("tag", 4, 5)


def test_a_sheet_is_first_parted_across_its_length() -> None:
    # 8 x 10 in two columns of two: an upright cut is 10 long, too long for a knife of 8, so a level one comes first.
    column = divide(Direction.LEVEL, [TAG, TAG])
    sheet = divide(Direction.UPRIGHT, [column, column])

    assert within(sheet, 8) == divide(Direction.LEVEL, [divide(Direction.UPRIGHT, [TAG, TAG])] * 2)
    assert within(sheet, 10) == sheet


def test_offcuts_may_be_cut_through() -> None:
    sheet = divide(Direction.UPRIGHT, [divide(Direction.LEVEL, [TAG, TAG]), Offcut(1, 10)])
    row = divide(Direction.UPRIGHT, [TAG, Offcut(1, 5)])

    assert within(sheet, 9) == divide(Direction.LEVEL, [row, row])


def test_pieces_that_no_seam_parts_leave_no_such_order() -> None:
    long = Piece("long", 2, 10)

    assert within(divide(Direction.UPRIGHT, [long, long]), 8) is None
    assert within(divide(Direction.UPRIGHT, [Piece("a", 9, 9), Offcut(1, 9)]), 8) is None


@given(
    st.integers(2, 40),
    st.integers(2, 40),
    st.lists(st.tuples(st.integers(1, 15), st.integers(1, 15)), min_size=1, max_size=3),
    st.integers(1, 40),
)
def test_another_order_keeps_every_piece_in_its_place(
    width: int, height: int, sizes: list[tuple[int, int]], opening: int
) -> None:
    listed = tuple(
        PieceSize(f"p{n}", min(wide, width), min(high, height)) for n, (wide, high) in enumerate(sizes)
    )
    problem = SheetProblem(width, height, listed)
    tree = best_use(problem).tree

    found = within(tree, opening)

    if found is not None:
        assert longest_cut(found) <= opening
        assert check(problem, found) == ()
        assert places(found) == places(tree)


def places(tree: Part) -> Counter[tuple[str, int, int]]:
    return Counter(
        (placed.part.name, placed.x, placed.y) for placed in pieces(tree) if isinstance(placed.part, Piece)
    )
