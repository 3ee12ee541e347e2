"""Pieces of which only so many are wanted, against an exhaustive search that shares nothing with it."""

from dataclasses import replace
from functools import cache

import numpy as np
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
    SheetProblem,
    Turn,
    best_use,
    check_result,
    count_pieces,
    piece_area,
)
from kits.guillotine.best_use import EFFORT
from kits.guillotine.limited.lengths import limited_totals
from kits.guillotine.limited.surplus import without_surplus
from kits.measures import INCH, MM


@st.composite
def problems(draw: st.DrawFn, *, most_pieces: int = 4, longest: int = 12, most: int = 3) -> SheetProblem:
    wide, high = draw(st.integers(1, longest)), draw(st.integers(1, longest))
    trim = EdgeTrim(*(draw(st.integers(0, 1)) for _ in range(4)))
    sizes = draw(
        st.lists(
            st.tuples(
                st.integers(1, wide),
                st.integers(1, high),
                st.none() | st.integers(0, 20),
                st.sampled_from([Turn.FREE, Turn.NONE]),
                st.integers(0, most) | st.sampled_from([None, 1]),
            ),
            min_size=1,
            max_size=most_pieces,
        )
    )
    return SheetProblem(
        wide + trim.left + trim.right,
        high + trim.top + trim.bottom,
        tuple(PieceSize(f"p{number}", *size) for number, size in enumerate(sizes)),
        trim,
        spacing=draw(st.sampled_from([0, 0, 1])),
    )


def best_by_trying_every_plan(problem: SheetProblem) -> int:
    """The definition itself: all sets of pieces that come out of a part, by every cut through it."""
    gap, count = problem.spacing, len(problem.pieces)
    none = (0,) * count
    singles = [
        (wide, high, tuple(int(number == each) for each in range(count)))
        for number, piece in enumerate(problem.pieces)
        for wide, high, _ in piece.ways
        if piece.limit != 0
    ]
    area = problem.usable_width * problem.usable_height
    limits = [area if piece.limit is None else piece.limit for piece in problem.pieces]

    def together(
        some: frozenset[tuple[int, ...]], others: frozenset[tuple[int, ...]]
    ) -> set[tuple[int, ...]]:
        sums = {tuple(map(sum, zip(one, other, strict=True))) for one in some for other in others}
        return {each for each in sums if all(n <= limit for n, limit in zip(each, limits, strict=True))}

    @cache
    def sets(width: int, height: int) -> frozenset[tuple[int, ...]]:
        found = {none, *(one for wide, high, one in singles if wide <= width and high <= height)}
        for at in range(1, width - gap):
            found |= together(sets(at, height), sets(width - at - gap, height))
        for at in range(1, height - gap):
            found |= together(sets(width, at), sets(width, height - at - gap))
        return frozenset(found)

    worth = [piece.worth for piece in problem.pieces]
    return max(int(np.dot(each, worth)) for each in sets(problem.usable_width, problem.usable_height))


def test_it_works() -> None:
    # 5 x 4: two of 3 x 2 (12) and two of 2 x 2 (8) cover it. With one 3 x 2, its place is left over, or taken by a
    # third 2 x 2, but only two of these are wanted either: 6 + 8.
    a, b = PieceSize("a", 3, 2, turn=Turn.NONE, limit=1), PieceSize("b", 2, 2, limit=2)

    result = best_use(SheetProblem(5, 4, (a, b)))

    assert count_pieces(result.tree) == {"a": 1, "b": 2}
    assert (result.value, result.bound, result.ended) == (14, 14, Ended.PROVED)


@given(problems(longest=9, most_pieces=3))
def test_no_way_of_cutting_within_the_limits_is_better(problem: SheetProblem) -> None:
    result = best_use(problem)

    assert result.ended is Ended.PROVED
    assert result.value == best_by_trying_every_plan(problem)


@given(problems(most_pieces=7, longest=40, most=4))
def test_every_result_passes_the_checker(problem: SheetProblem) -> None:
    assert check_result(problem, best_use(problem, EFFORT // 100)) == ()


@given(problems(most_pieces=5, longest=25), st.integers(1, 10_000_000))
def test_with_little_effort_there_is_still_a_plan_and_an_honest_bound(
    problem: SheetProblem, effort: int
) -> None:
    result = best_use(problem, effort)

    assert check_result(problem, result) == ()
    assert result.value <= best_use(problem).value <= result.bound


def with_limits(problem: SheetProblem, limit: int | None) -> SheetProblem:
    return replace(problem, pieces=tuple(replace(piece, limit=limit) for piece in problem.pieces))


@given(problems(most_pieces=5, longest=20), st.integers(1, 3))
def test_a_higher_limit_is_never_worse(problem: SheetProblem, limit: int) -> None:
    values = [best_use(with_limits(problem, each)).value for each in (limit, limit + 1, None)]

    assert values == sorted(values)


@given(problems(most_pieces=5, longest=20))
def test_limits_out_of_reach_are_none(problem: SheetProblem) -> None:
    assert best_use(with_limits(problem, 401)) == best_use(with_limits(problem, None))


@given(problems(most_pieces=5, longest=20))
def test_turning_is_never_worse_than_not(problem: SheetProblem) -> None:
    def with_turn(turn: Turn) -> SheetProblem:
        return replace(problem, pieces=tuple(replace(piece, turn=turn) for piece in problem.pieces))

    assert best_use(with_turn(Turn.FREE)).value >= best_use(with_turn(Turn.NONE)).value


@given(problems(most_pieces=5, longest=20))
def test_the_same_problem_has_the_same_answer(problem: SheetProblem) -> None:
    assert best_use(problem) == best_use(problem)


@given(
    problems(most_pieces=5, longest=25),
    st.sampled_from([None, 1, 2, 3]),
    st.sampled_from([None, *Direction]),
    st.booleans(),
    st.integers(0, 4),
)
def test_together_with_other_rules_there_is_a_plan_within_all_of_them_and_an_honest_bound(
    problem: SheetProblem, stages: int | None, first: Direction | None, final_trim: bool, smallest: int
) -> None:
    ruled = replace(
        problem,
        edge_trim=EdgeTrim(),
        stages=stages,
        first=first,
        final_trim=final_trim,
        smallest_strip=smallest,
    )
    inside = replace(problem, width=ruled.width, height=ruled.height, edge_trim=EdgeTrim())

    result = best_use(ruled)

    assert check_result(ruled, result) == ()
    assert result.value <= best_use(inside).value
    assert result.bound <= best_use(with_limits(ruled, None)).bound


def test_limits_and_stages_are_often_proved_together() -> None:
    # 6 x 4: with two stages two columns 3 wide hold two 3 x 2 each; three of them are wanted.
    problem = SheetProblem(6, 4, (PieceSize("a", 3, 2, turn=Turn.NONE, limit=3),), stages=2)

    result = best_use(problem)

    assert (result.value, result.ended) == (18, Ended.PROVED)


def test_totals_use_no_piece_more_often_than_it_is_wanted() -> None:
    # One of 4 (or turned 3), two of 5.
    assert limited_totals([((3, 4), 1), ((5,), 2)], 20).tolist() == [0, 3, 4, 5, 8, 9, 10, 13, 14]


def test_what_is_too_many_becomes_offcut() -> None:
    piece = Piece("a", 2, 4)
    tree = Cut(8, 4, Direction.UPRIGHT, (2, 4, 6), (piece, piece, piece, Offcut(2, 4)))

    assert without_surplus(tree, {"a": 1}) == Cut(8, 4, Direction.UPRIGHT, (2,), (piece, Offcut(6, 4)))
    assert without_surplus(tree, {"a": 0}) == Offcut(8, 4)
    assert without_surplus(tree, {"a": None}) == tree


def test_nothing_wanted_leaves_the_sheet_whole() -> None:
    result = best_use(SheetProblem(5, 5, (PieceSize("a", 2, 2, limit=0),)))

    assert (result.tree, result.value, result.ended) == (Offcut(5, 5), 0, Ended.PROVED)


def test_a_limit_below_zero_is_refused() -> None:
    with pytest.raises(ValueError, match="limit of piece 'a' must not be negative"):
        PieceSize("a", 1, 1, limit=-1)


def test_limited_values_beyond_all_measure_are_refused() -> None:
    with pytest.raises(ValueError, match="larger unit"):
        best_use(
            SheetProblem(12, 12, (PieceSize("a", 5, 5, 10**17), PieceSize("b", 3, 3, 10**17 + 1, limit=1)))
        )


def test_large_values_with_a_common_unit_are_as_good_as_small_ones() -> None:
    small = SheetProblem(
        6, 4, (PieceSize("a", 3, 2, 2, Turn.NONE, 3), PieceSize("b", 2, 2, 1, limit=1)), stages=2
    )
    large = replace(small, pieces=tuple(replace(piece, value=piece.worth * 10**30) for piece in small.pieces))

    for stages in (2, None):
        results = [best_use(replace(problem, stages=stages)) for problem in (small, large)]
        assert results[1].value == results[0].value * 10**30
        assert results[1].tree == results[0].tree


def test_sizes_that_share_no_unit_end_with_a_plan_within_the_limits() -> None:
    # On 1/8 micrometre a 25 x 38 in sheet has millions of places to cut at.
    sizes = [(1_016_031, 2_032_073), (1_500_017, 999_913), (888_111, 1_234_577), (765_431, 987_659)]
    listed = tuple(PieceSize(f"p{number}", *size, limit=3) for number, size in enumerate(sizes))
    problem = SheetProblem(25 * INCH, 38 * INCH, listed)

    result = best_use(problem, effort=EFFORT // 20)

    assert check_result(problem, result) == ()
    assert piece_area(result.tree) == result.value >= result.bound * 9 // 10


def test_cards_of_a_month_come_out_as_often_as_they_are_wanted() -> None:
    sizes = [(102, 152, 6), (74, 105, 9), (148, 210, 4), (50, 90, 12), (105, 297, 3)]
    listed = tuple(
        PieceSize(f"{width} x {height}", width * MM, height * MM, limit=limit)
        for width, height, limit in sizes
    )
    problem = SheetProblem(
        640 * MM, 900 * MM, listed, EdgeTrim(5 * MM, 5 * MM, 5 * MM, 5 * MM), spacing=3 * MM
    )

    result = best_use(problem)

    assert check_result(problem, result) == ()
    assert result.ended is Ended.PROVED
