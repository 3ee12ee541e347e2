"""Stages, the first cut, the smallest strip and the ruler, against an exhaustive search that shares nothing with it."""

from dataclasses import replace
from functools import cache
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kits.guillotine import (
    Cut,
    Direction,
    EdgeTrim,
    Ended,
    NothingToClampError,
    Offcut,
    OffRulerError,
    Piece,
    PieceSize,
    SheetProblem,
    Turn,
    best_use,
    check_result,
    count_pieces,
    count_stages,
    largest_offcut,
    steps,
)
from kits.measures import INCH, MM

UPRIGHT, LEVEL = Direction.UPRIGHT, Direction.LEVEL


@st.composite
def problems(draw: st.DrawFn, *, most_pieces: int = 3, longest: int = 11) -> SheetProblem:
    wide, high = draw(st.integers(1, longest)), draw(st.integers(1, longest))
    trim = EdgeTrim(*(draw(st.integers(0, 1)) for _ in range(4)))
    sizes = draw(
        st.lists(
            st.tuples(
                st.integers(1, wide), st.integers(1, high), st.integers(1, 20), st.sampled_from([*Turn][:2])
            ),
            min_size=1,
            max_size=most_pieces,
        )
    )
    listed = tuple(PieceSize(f"p{number}", *size) for number, size in enumerate(sizes))
    smallest = draw(st.integers(0, 5))
    if ((trim.left or trim.right) and wide < smallest) or ((trim.top or trim.bottom) and high < smallest):
        trim = EdgeTrim()
    return SheetProblem(
        wide + trim.left + trim.right,
        high + trim.top + trim.bottom,
        listed,
        trim,
        spacing=draw(st.sampled_from([0, 0, 1, 2])),
        stages=draw(st.sampled_from([None, 1, 2, 3])),
        final_trim=draw(st.booleans()),
        first=draw(st.sampled_from([None, UPRIGHT, LEVEL])),
        smallest_strip=smallest,
    )


def best_by_trying_every_plan(problem: SheetProblem) -> int:
    """The definitions themselves: a part is one piece, or is cut in one stage into strips and spacing."""
    clamp, gap = problem.smallest_strip, problem.spacing
    ways = [(*size[:2], piece.worth) for piece in problem.pieces for size in piece.ways]

    def leaf(width: int, height: int) -> int:
        return max((worth for wide, high, worth in ways if (wide, high) == (width, height)), default=0)

    def trimmed_leaf(width: int, height: int) -> int:
        across = [max(at, width - at) >= clamp and leaf(at, height) for at in range(1, width)]
        down = [max(at, height - at) >= clamp and leaf(width, at) for at in range(1, height)]
        return max([0, *across, *down])

    @cache
    def part(width: int, height: int, stages: int, before: Direction | None) -> int:
        found = [leaf(width, height)]
        if problem.final_trim or problem.stages is None:
            found.append(trimmed_leaf(width, height))
        if stages:
            found += [cut(width, height, stages, way) for way in Direction if way is not before]
        return max(found)

    def cut(width: int, height: int, stages: int, way: Direction) -> int:
        along = width if way is UPRIGHT else height

        @cache
        def rest(left: int, strips: int, held: bool) -> int:
            """The worth of what is left of a row of some strips; of the longest one it is known if it is held."""
            is_cut = strips >= 2 or (strips == 1 and left > 0) or (strips == 0 and left == along)
            found = [0] if is_cut and (held or left >= clamp) else [-1]
            for length in range(1, left - gap * (strips > 0) + 1):
                if length == along:
                    continue
                size = (length, height) if way is UPRIGHT else (width, length)
                more = rest(left - length - gap * (strips > 0), min(strips + 1, 2), held or length >= clamp)
                if more >= 0:
                    found.append(part(*size, stages - 1, way) + more)
            return max(found)

        return rest(along, 0, False)

    width, height = problem.usable_width, problem.usable_height
    stages = problem.stages or width + height
    if problem.first is None:
        return part(width, height, stages, None)
    return max(leaf(width, height), cut(width, height, stages, problem.first))


@given(problems())
def test_no_way_of_cutting_within_the_rules_is_better(problem: SheetProblem) -> None:
    result = best_use(problem)

    assert result.ended is Ended.PROVED
    assert result.value == best_by_trying_every_plan(problem)


@given(problems(most_pieces=6, longest=30))
def test_every_result_keeps_the_rules(problem: SheetProblem) -> None:
    assert check_result(problem, best_use(problem)) == ()


@given(problems(longest=30), st.integers(1, 3_000_000))
def test_with_little_effort_there_is_still_a_plan_within_the_rules(
    problem: SheetProblem, effort: int
) -> None:
    result = best_use(problem, effort)

    assert check_result(problem, result) == ()
    assert result.value <= best_use(problem).value <= result.bound


@given(problems(most_pieces=5, longest=30))
def test_more_stages_are_never_worse(problem: SheetProblem) -> None:
    values = [
        best_use(replace(problem, stages=stages, final_trim=trim)).value
        for stages, trim in (
            (1, False),
            (1, True),
            (2, False),
            (2, True),
            (3, False),
            (3, True),
            (None, False),
        )
    ]

    # A plan that is not exact has no more stages than an exact one of one stage more.
    assert values == sorted(values)


@given(problems(most_pieces=5, longest=30))
def test_the_better_first_cut_is_as_good_as_a_free_one(problem: SheetProblem) -> None:
    free, *fixed = (best_use(replace(problem, first=first)).value for first in (None, UPRIGHT, LEVEL))

    assert free == max(fixed)


@given(problems(most_pieces=5, longest=30))
def test_turning_is_never_worse_than_not(problem: SheetProblem) -> None:
    def with_turn(turn: Turn) -> SheetProblem:
        return replace(problem, pieces=tuple(replace(piece, turn=turn) for piece in problem.pieces))

    assert best_use(with_turn(Turn.FREE)).value >= best_use(with_turn(Turn.NONE)).value


@given(problems(most_pieces=5, longest=30))
def test_a_machine_that_holds_less_is_never_worse(problem: SheetProblem) -> None:
    smaller = replace(problem, smallest_strip=max(0, problem.smallest_strip - 1))

    assert best_use(smaller).value >= best_use(problem).value


@given(problems(most_pieces=5, longest=30))
def test_behind_the_blade_there_is_always_enough(problem: SheetProblem) -> None:
    tree = best_use(problem).tree

    assert all(step.gauge >= problem.smallest_strip for step in steps(tree, problem.smallest_strip))


@given(problems(most_pieces=5, longest=15), st.sampled_from([2, 3, 16]), st.integers(0, 15))
def test_every_cut_is_on_the_ruler(problem: SheetProblem, ruler: int, over: int) -> None:
    # All measures are on the ruler, and the sheet reaches a little over its last mark.
    finer = tuple(
        replace(piece, width=piece.width * ruler, height=piece.height * ruler) for piece in problem.pieces
    )
    spacing, over = problem.spacing * ruler, over % ruler
    on_ruler = replace(
        problem, width=problem.width * ruler + over, height=problem.height * ruler + over, pieces=finer,
        edge_trim=EdgeTrim(), spacing=spacing, smallest_strip=problem.smallest_strip * ruler, ruler=ruler,
    )  # fmt: skip

    assert check_result(on_ruler, best_use(on_ruler)) == ()


@given(problems())
def test_the_same_problem_has_the_same_answer(problem: SheetProblem) -> None:
    assert best_use(problem) == best_use(problem)


# 5 x 5 is covered by one 5 x 3 and, below it, one 3 x 2 beside two 2 x 1.
SQUARE = SheetProblem(
    5, 5, tuple(PieceSize(f"{w} x {h}", w, h, turn=Turn.NONE) for w, h in ((5, 3), (3, 2), (2, 1)))
)


def test_what_one_stage_more_is_worth() -> None:
    # Three stages: level at 3, then upright at 3, then level between the two 2 x 1. With two stages every strip is
    # as high as its pieces: 5 x 3 and two strips of two 2 x 1 are 23 of 25. Columns as wide as their pieces, two
    # 3 x 2 and five 2 x 1, are 22. One stage yields one 5 x 3, as nothing else is as wide or high as the sheet.
    values = [best_use(replace(SQUARE, stages=stages)).value for stages in (1, 2, 3, None)]

    assert values == [15, 23, 25, 25]
    assert best_use(replace(SQUARE, stages=2, first=UPRIGHT)).value == 22


def test_a_final_trim_counts_as_no_stage() -> None:
    # A strip 3 high holds a piece 3 x 3 and, trimmed after the last stage, one 2 x 2.
    problem = SheetProblem(
        5, 3, (PieceSize("large", 3, 3), PieceSize("small", 2, 2)), stages=1, first=UPRIGHT
    )

    exact, trimmed = best_use(problem), best_use(replace(problem, final_trim=True))

    assert count_pieces(exact.tree) == {"large": 1}
    assert count_pieces(trimmed.tree) == {"large": 1, "small": 1}
    assert (count_stages(trimmed.tree), count_stages(trimmed.tree, final_trim=True)) == (2, 1)


def test_trimming_the_edges_is_neither_a_stage_nor_the_first_cut() -> None:
    problem = SheetProblem(8, 5, (PieceSize("a", 2, 3),), EdgeTrim(1, 1, 1, 1), stages=1, first=UPRIGHT)

    tree = best_use(problem).tree

    assert count_pieces(tree) == {"a": 3}
    assert (count_stages(tree), check_result(problem, best_use(problem))) == (1, ())


def test_the_first_cut_runs_as_asked_even_where_that_costs_a_piece() -> None:
    # 4 x 6 is two pieces 4 x 3, one below the other. Cut upright first it holds none of that width.
    problem = SheetProblem(4, 6, (PieceSize("a", 4, 3, turn=Turn.NONE), PieceSize("b", 1, 6, turn=Turn.NONE)))

    result = best_use(replace(problem, first=UPRIGHT))

    assert best_use(replace(problem, first=LEVEL)).value == 24
    assert isinstance(result.tree, Cut)
    assert (result.tree.direction, count_pieces(result.tree)) == (UPRIGHT, {"b": 4})


def test_a_piece_as_large_as_the_sheet_needs_no_first_cut() -> None:
    problem = SheetProblem(4, 6, (PieceSize("a", 4, 6),), first=UPRIGHT)

    assert best_use(problem).tree == Piece("a", 4, 6)


def test_a_strip_too_small_to_be_held_is_cut_off_a_larger_one() -> None:
    # Six strips 1/2 in wide come out of 3 in, but the last two could not be held apart: an offcut of 1 in is.
    strip = PieceSize("strip", INCH // 2, 3 * INCH, value=1, turn=Turn.NONE)
    problem = SheetProblem(3 * INCH, 3 * INCH, (strip,), smallest_strip=INCH)

    result = best_use(problem)

    assert best_use(replace(problem, smallest_strip=0)).value == 6
    assert (result.value, result.ended) == (4, Ended.PROVED)
    assert largest_offcut(result.tree) == Offcut(INCH, 3 * INCH)
    assert [step.gauge // (INCH // 2) for step in steps(result.tree, INCH)] == [5, 4, 3, 2]


def test_a_sheet_narrower_than_its_smallest_strip_is_not_cut() -> None:
    problem = SheetProblem(4, 9, (PieceSize("a", 3, 4, turn=Turn.NONE),), smallest_strip=5)

    assert best_use(problem).tree == Offcut(4, 9)


def test_measures_off_the_ruler_are_named() -> None:
    with pytest.raises(OffRulerError) as caught:
        SheetProblem(
            100 * MM, 100 * MM, (PieceSize("tag", 30 * MM, 45 * MM), PieceSize("card", 30 * MM, 40 * MM)),
            EdgeTrim(left=5 * MM, right=3 * MM), spacing=3 * MM, ruler=10 * MM,
        )  # fmt: skip

    assert str(caught.value) == (
        "every cut must be on a mark of 10 mm, and these are not: piece 'tag', 30 mm × 45 mm; the spacing, 3 mm; "
        "the trim at the left edge, 5 mm; the cut that trims the right edge, 97 mm: "
        "choose a finer ruler, or change the measures"
    )


def test_edges_that_cannot_be_trimmed_are_refused() -> None:
    with pytest.raises(NothingToClampError) as caught:
        SheetProblem(5 * MM, 100 * MM, (PieceSize("a", MM, MM),), EdgeTrim(left=MM), smallest_strip=5 * MM)

    assert str(caught.value) == (
        "the edge trims leave 4 mm of the sheet, and the machine must hold 5 mm to cut them off: "
        "choose a larger sheet or smaller trims"
    )


@pytest.mark.parametrize(
    ("rule", "why"), [({"stages": 0}, "one stage"), ({"smallest_strip": -1}, "negative"), ({"ruler": 0}, "apart")]
)  # fmt: skip
def test_nonsense_is_refused(rule: dict[str, int], why: str) -> None:
    with pytest.raises(ValueError, match=why):
        replace(SQUARE, **rule)  # type: ignore[arg-type]


def test_stages_not_worth_their_tables_end_with_a_plan() -> None:
    sizes = list(product(range(101, 125, 3), range(90, 110, 5)))
    listed = tuple(PieceSize(f"p{number}", *size) for number, size in enumerate(sizes))
    problem = SheetProblem(1500, 1700, listed, stages=3)

    result = best_use(problem, effort=10**6)

    assert result.ended is Ended.EFFORT
    assert check_result(problem, result) == ()
    assert result.value >= result.bound * 9 // 10
