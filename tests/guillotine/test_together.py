"""Lines of a ticket: parts that are cut alike lie side by side and are cut as one."""

from collections import Counter

from hypothesis import given
from hypothesis import strategies as st

from kits.guillotine import (
    Cut,
    Direction,
    Offcut,
    Part,
    Piece,
    PieceSize,
    SheetProblem,
    best_use,
    count_cuts,
    count_lines,
    divide,
    lines,
    steps,
)

TAG = Piece("tag", 4, 3)
STRIP = divide(Direction.LEVEL, [TAG] * 4)
STRIPS = divide(Direction.UPRIGHT, [STRIP] * 3)


def test_equal_strips_are_cut_side_by_side() -> None:
    made = lines(STRIPS)

    # 8, 4 part the strips; then all three lie at the stop and 9, 6, 3 cut the tags off.
    assert [(line.hands, line.step.gauge, line.times) for line in made] == [
        (("sheet",), 8, 1),
        (("sheet",), 4, 1),
        (("1", "2", "3"), 9, 1),
        (("1", "2", "3"), 6, 1),
        (("1", "2", "3"), 3, 1),
    ]
    assert count_lines(made) == (5, 1)
    assert count_cuts(STRIPS) == 11


def test_no_more_lie_side_by_side_than_the_knife_is_long() -> None:
    # Three strips, 4 wide each: two of them fit a knife of 11, so they are cut in two goes, each turned once.
    made = lines(STRIPS, opening=11)

    assert [line.at_once for line in made] == [1, 1, 2, 2, 2]
    assert count_lines(made) == (2 + 3 * 2, 2)


def test_parts_of_equal_parts_are_cut_together_too() -> None:
    block = divide(Direction.LEVEL, [divide(Direction.UPRIGHT, [Piece("tag", 2, 3)] * 2)] * 2)
    made = lines(divide(Direction.UPRIGHT, [block, block, Offcut(1, 6)]))

    assert made[-1].hands == ("1.1", "1.2", "2.1", "2.2")
    assert count_lines(made)[0] == 2 + 1 + 1


def test_unlike_parts_are_cut_one_after_the_other() -> None:
    other = divide(Direction.LEVEL, [Piece("card", 4, 6)] * 2)

    assert [line.hands for line in lines(divide(Direction.UPRIGHT, [STRIP, other]))] == [
        ("sheet",),
        *[("1",)] * 3,
        ("2",),
    ]


def test_a_sheet_that_is_one_piece_has_no_lines() -> None:
    assert lines(TAG) == ()


@given(
    st.integers(1, 40),
    st.integers(1, 40),
    st.lists(st.tuples(st.integers(1, 15), st.integers(1, 15)), min_size=1, max_size=3),
    st.integers(1, 60),
)
def test_the_lines_make_every_cut_of_the_tree_and_none_is_too_long(
    width: int, height: int, sizes: list[tuple[int, int]], opening: int
) -> None:
    listed = tuple(
        PieceSize(f"p{n}", min(wide, width), min(high, height)) for n, (wide, high) in enumerate(sizes)
    )
    tree = best_use(SheetProblem(width, height, listed)).tree

    made = lines(tree, opening=opening)

    each = Counter((line.step.gauge, hand) for line in made for hand in line.hands)
    assert each == Counter((step.gauge, step.hand) for step in steps(tree))
    assert sum(len(line.hands) for line in made) == count_cuts(tree)
    for line in made:
        part = part_called(tree, line.hands[0])
        along = part.height if part.direction is Direction.UPRIGHT else part.width
        assert line.at_once == 1 or line.at_once * along <= opening
        assert all(part_called(tree, hand) == part for hand in line.hands)


def part_called(tree: Part, name: str) -> Cut:
    """Return the part of a name: 2.1 is the first part of part 2."""
    for number in name.split(".") if name != "sheet" else ():
        assert isinstance(tree, Cut)
        tree = tree.parts[int(number) - 1]
    assert isinstance(tree, Cut)
    return tree
