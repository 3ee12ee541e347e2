"""The best use of one sheet, against an exhaustive search that shares nothing with it."""

from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kits.guillotine import (
    Cut,
    Direction,
    EdgeTrim,
    Ended,
    Offcut,
    Piece,
    PieceSize,
    PieceTooLargeError,
    SheetProblem,
    Turn,
    best_use,
    check_result,
    count_cuts,
    count_pieces,
    count_stages,
    largest_offcut,
    number_out,
    piece_area,
    pieces,
)
from kits.guillotine.best_use import EFFORT
from kits.measures import INCH, MM

SMALL = st.integers(1, 9)


@st.composite
def problems(draw: st.DrawFn, *, most_pieces: int = 4) -> SheetProblem:
    spacing = draw(st.integers(0, 2))
    trim = EdgeTrim(*(draw(st.integers(0, 2)) for _ in range(4)))
    wide, high = draw(st.integers(1, 24)), draw(st.integers(1, 24))
    sizes = draw(
        st.lists(
            st.tuples(st.integers(1, wide), st.integers(1, high), st.none() | st.integers(0, 20)),
            min_size=1,
            max_size=most_pieces,
        )
    )
    turns = draw(st.lists(st.sampled_from([Turn.FREE, Turn.NONE]), min_size=len(sizes), max_size=len(sizes)))
    listed = tuple(
        PieceSize(f"p{number}", *size, turn=turn)
        for number, (size, turn) in enumerate(zip(sizes, turns, strict=True))
    )
    return SheetProblem(wide + trim.left + trim.right, high + trim.top + trim.bottom, listed, trim, spacing)


def best_by_trying_every_cut(problem: SheetProblem) -> int:
    """The definition itself: a part is one piece, or is cut somewhere and the spacing beside the cut lost."""

    @cache
    def best(width: int, height: int) -> int:
        worth = [
            piece.worth
            for piece in problem.pieces
            for wide, high, _ in piece.ways
            if wide <= width and high <= height
        ]
        gap = problem.spacing
        beside = [best(at, height) + best(width - at - gap, height) for at in range(1, width - gap)]
        below = [best(width, at) + best(width, height - at - gap) for at in range(1, height - gap)]
        return max([0, *worth, *beside, *below])

    return best(problem.usable_width, problem.usable_height)


def test_it_works() -> None:
    # 5 x 4 with 3 x 2 and 2 x 2: a column of two 3 x 2 (area 12) and a column of two 2 x 2 (8) cover all 20.
    problem = SheetProblem(5, 4, (PieceSize("a", 3, 2, turn=Turn.NONE), PieceSize("b", 2, 2)))

    result = best_use(problem)

    a, b = Piece("a", 3, 2), Piece("b", 2, 2)
    assert result.tree == Cut(
        5,
        4,
        Direction.UPRIGHT,
        (3,),
        (Cut(3, 4, Direction.LEVEL, (2,), (a, a)), Cut(2, 4, Direction.LEVEL, (2,), (b, b))),
    )
    assert (result.value, result.bound, result.ended) == (20, 20, Ended.PROVED)


@given(problems())
def test_no_way_of_cutting_is_better(problem: SheetProblem) -> None:
    result = best_use(problem)

    assert result.ended is Ended.PROVED
    assert result.value == best_by_trying_every_cut(problem)


@given(problems(most_pieces=8))
def test_every_result_passes_the_checker(problem: SheetProblem) -> None:
    result = best_use(problem)

    assert check_result(problem, result) == ()


@given(problems(), st.integers(1, 200_000))
def test_with_little_effort_there_is_still_a_plan_and_an_honest_bound(
    problem: SheetProblem, effort: int
) -> None:
    result = best_use(problem, effort)

    assert check_result(problem, result) == ()
    assert result.value <= best_by_trying_every_cut(problem) <= result.bound
    wide, high = problem.usable_width, problem.usable_height
    rows_of_one = [
        piece.worth
        * ((wide + problem.spacing) // (piece.width + problem.spacing))
        * ((high + problem.spacing) // (piece.height + problem.spacing))
        for piece in problem.pieces
    ]
    assert result.value >= max(rows_of_one)


@given(problems())
def test_turning_is_never_worse_than_not(problem: SheetProblem) -> None:
    def with_turn(turn: Turn) -> SheetProblem:
        listed = tuple(PieceSize(p.name, p.width, p.height, p.value, turn) for p in problem.pieces)
        return SheetProblem(problem.width, problem.height, listed, problem.edge_trim, problem.spacing)

    assert best_use(with_turn(Turn.FREE)).value >= best_use(with_turn(Turn.NONE)).value


@given(problems())
def test_a_larger_sheet_is_never_worse(problem: SheetProblem) -> None:
    larger = SheetProblem(
        problem.width + 1, problem.height, problem.pieces, problem.edge_trim, problem.spacing
    )

    assert best_use(larger).value >= best_use(problem).value


@given(problems(), st.integers(2, 10**6))
def test_the_unit_of_measure_does_not_matter(problem: SheetProblem, unit: int) -> None:
    trim = problem.edge_trim
    listed = tuple(
        PieceSize(p.name, p.width * unit, p.height * unit, p.worth, p.turn) for p in problem.pieces
    )
    finer = SheetProblem(
        problem.width * unit,
        problem.height * unit,
        listed,
        EdgeTrim(trim.left * unit, trim.right * unit, trim.top * unit, trim.bottom * unit),
        problem.spacing * unit,
    )

    assert best_use(finer).value == best_use(problem).value


@given(problems())
def test_the_same_problem_has_the_same_answer(problem: SheetProblem) -> None:
    assert best_use(problem) == best_use(problem)


def test_edge_trim_is_cut_first_and_spacing_is_cut_out() -> None:
    # Inside 1 of trim on each edge of 12 x 7 lie 10 x 5: two of 4 x 5 with 2 between them, nothing left over.
    problem = SheetProblem(12, 7, (PieceSize("card", 4, 5, turn=Turn.NONE),), EdgeTrim(1, 1, 1, 1), spacing=2)

    tree = best_use(problem).tree

    assert isinstance(tree, Cut)
    assert (tree.direction, tree.marks) == (Direction.UPRIGHT, (1, 11))
    assert [(placed.x, placed.y) for placed in pieces(tree)] == [(1, 1), (7, 1)]
    assert largest_offcut(tree) is None
    assert count_cuts(tree) == 2 + 2 + 2
    assert count_stages(tree) == 1


def test_a_piece_with_its_grain_across_lies_turned() -> None:
    problem = SheetProblem(12, 9, (PieceSize("card", 4, 3, turn=Turn.QUARTER),))

    result = best_use(problem)

    # Turned it is 3 x 4: 4 beside each other, 2 below each other.
    assert count_pieces(result.tree) == {"card": 8}
    assert {placed.part for placed in pieces(result.tree)} == {Piece("card", 3, 4, turned=True)}


def test_what_is_left_is_kept_in_one_large_offcut() -> None:
    # Three strips 4 in wide and 10 in high of 12 x 12 in: one offcut 12 x 2 in, cut off first.
    problem = SheetProblem(12 * INCH, 12 * INCH, (PieceSize("strip", 4 * INCH, 10 * INCH, turn=Turn.NONE),))

    tree = best_use(problem).tree

    assert count_cuts(tree) == 3
    assert largest_offcut(tree) == Offcut(12 * INCH, 2 * INCH)


def test_an_offcut_at_the_end_of_a_row_reaches_to_the_edge_of_the_sheet() -> None:
    # 26 x 40 in: three columns of two 8 1/2 x 11, 1/2 in short of the edge, and below them two columns of two
    # turned ones, 4 in short. The 4 in are kept whole: no 1/2 in strip is cut off along both.
    tree = number_out(26 * INCH, 40 * INCH, 17 * INCH // 2, 11 * INCH).tree

    assert largest_offcut(tree) == Offcut(4 * INCH, 17 * INCH)
    assert (count_cuts(tree), count_stages(tree)) == (12, 3)


def test_equal_values_are_cut_in_few_cuts() -> None:
    # 12 x 12 can be covered by 36 of 2 x 2 or by 9 of 4 x 4; nine need fewer cuts.
    problem = SheetProblem(12, 12, (PieceSize("small", 2, 2), PieceSize("large", 4, 4)))

    assert count_pieces(best_use(problem).tree) == {"large": 9}


def test_a_piece_of_no_value_is_not_cut() -> None:
    assert best_use(SheetProblem(5, 5, (PieceSize("a", 2, 2, value=0),))).tree == Offcut(5, 5)


def test_a_piece_larger_than_the_sheet_is_named_with_its_size() -> None:
    with pytest.raises(PieceTooLargeError) as caught:
        SheetProblem(12 * INCH, 12 * INCH, (PieceSize("banner", 13 * INCH, 2 * INCH),))

    assert str(caught.value) == (
        "piece 'banner', 13 in × 2 in either way round, does not fit the 12 in × 12 in that the sheet has "
        "inside its edge trims: make the piece smaller, choose a larger sheet, or let the piece turn"
    )


def test_a_piece_may_be_too_large_only_because_of_trim_or_turn() -> None:
    piece = PieceSize("a", 12 * INCH, 9 * INCH, turn=Turn.NONE)

    SheetProblem(12 * INCH, 9 * INCH, (piece,))
    with pytest.raises(PieceTooLargeError, match="11 1/2 in"):
        SheetProblem(12 * INCH, 9 * INCH, (piece,), EdgeTrim(left=INCH // 2))
    with pytest.raises(PieceTooLargeError, match="as given"):
        SheetProblem(9 * INCH, 12 * INCH, (piece,))


@pytest.mark.parametrize(
    ("wrong", "why"),
    [
        (lambda: SheetProblem(5, 5, ()), "at least one piece"),
        (lambda: SheetProblem(5, 5, (PieceSize("a", 1, 1), PieceSize("a", 2, 2))), "its own name"),
        (lambda: SheetProblem(5, 5, (PieceSize("a", 1, 1),), spacing=-1), "spacing"),
        (lambda: SheetProblem(5, 5, (PieceSize("a", 1, 1),), EdgeTrim(left=3, right=2)), "leave nothing"),
        (lambda: PieceSize(" ", 1, 1), "a name"),
        (lambda: PieceSize("a", 0, 1), "above zero"),
        (lambda: PieceSize("a", 1, 1, value=-1), "not be negative"),
        (lambda: EdgeTrim(top=-1), "not be negative"),
    ],
)
def test_nonsense_is_refused(wrong: object, why: str) -> None:
    assert callable(wrong)
    with pytest.raises(ValueError, match=why):
        wrong()


def test_values_beyond_all_measure_are_refused() -> None:
    with pytest.raises(ValueError, match="larger unit"):
        best_use(SheetProblem(12, 12, (PieceSize("a", 5, 5, 10**19), PieceSize("b", 3, 3, 10**19 + 1))))


def test_sizes_that_share_no_unit_end_at_the_effort_limit_with_a_plan() -> None:
    # On 1/8 micrometre a 25 x 38 in sheet has millions of places to cut at.
    sizes = [(101_603, 203_207), (150_001, 99_991), (88_811, 123_457), (76_543, 98_765)]
    listed = tuple(PieceSize(f"p{number}", *size) for number, size in enumerate(sizes))
    problem = SheetProblem(25 * INCH, 38 * INCH, listed)

    result = best_use(problem, effort=EFFORT // 100)

    assert result.ended is Ended.EFFORT
    assert check_result(problem, result) == ()
    assert piece_area(result.tree) == result.value >= result.bound * 99 // 100


def test_number_out_counts_pieces() -> None:
    result = number_out(
        640 * MM, 900 * MM, 102 * MM, 152 * MM, edge_trim=EdgeTrim(5 * MM, 5 * MM), spacing=3 * MM
    )

    assert result.value == len(pieces(result.tree))
    assert result.ended is Ended.PROVED
