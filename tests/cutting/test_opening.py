"""Patterns of sheets that are longer than the knife."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kits.guillotine import Direction, Piece, divide, longest_cut
from kits.measures import MM
from planning.cutting.patterns import (
    Effort,
    Ended,
    ParentSheet,
    PatternProblem,
    Rules,
    Wanted,
    WantedTooLargeError,
    plan_faults,
    plan_patterns,
)
from tests.support.effort import examples

SMALL = Effort(sums=200_000_000, rounds=1, nodes=3, swaps=100)


def wanted(*sizes: tuple[int, int, int]) -> tuple[Wanted, ...]:
    return tuple(
        Wanted(name=f"P{n}", width=width, height=height, count=count)
        for n, (width, height, count) in enumerate(sizes)
    )


def test_what_a_short_knife_costs_is_known_exactly() -> None:
    # 6 x 10 in columns 4 and 2 wide: 2 cards and 5 tags, so 4 sheets. A knife of 8 cannot part the columns: 5 + 5 high
    # give 2 cards and 4 tags, 6 + 4 one card and 9 tags; of 4 sheets 4 x (2, 4) lack tags, 3 x (2, 4) + (1, 9) a card.
    pieces = wanted((4, 5, 8), (2, 2, 20))
    sheet = ParentSheet(name="board", width=6, height=10)
    plan = plan_patterns(PatternProblem(pieces=pieces, sheets=(sheet,), rules=Rules(opening=8)))

    assert (plan.sheets, plan.ended) == (5, Ended.PROVED)
    assert plan_patterns(PatternProblem(pieces=pieces, sheets=(sheet,))).sheets == 4
    assert all(longest_cut(pattern.tree) <= 8 for pattern in plan.patterns)


def test_a_board_longer_than_the_machine_opens_still_holds_several_sizes() -> None:
    sizes = ((185, 120, 900), (97, 61, 2400), (140, 75, 1300), (210, 148, 500))
    pieces = wanted(*((w * MM, h * MM, n) for w, h, n in sizes))
    board = ParentSheet(name="board", width=640 * MM, height=900 * MM)
    asked = PatternProblem(pieces=pieces, sheets=(board,), rules=Rules(opening=720 * MM))
    plan = plan_patterns(asked, SMALL)

    assert plan_faults(asked, plan) == ()
    free = plan_patterns(PatternProblem(pieces=pieces, sheets=(board,)), SMALL)
    assert free.bound <= plan.bound <= plan.cost
    assert plan.cost <= free.cost + 2


@settings(max_examples=examples(40), deadline=None)
@given(
    st.lists(st.tuples(st.integers(1, 12), st.integers(1, 12), st.integers(1, 30)), min_size=1, max_size=4),
    st.integers(4, 14),
    st.integers(4, 30),
    st.integers(4, 30),
)
def test_no_cut_is_longer_than_the_machine_opens(
    sizes: list[tuple[int, int, int]], width: int, height: int, opening: int
) -> None:
    inside = [(min(w, width), min(h, height, opening), n) for w, h, n in sizes]
    if width > opening:
        return
    sheet = ParentSheet(name="board", width=width, height=height, price=Fraction(1))
    asked = PatternProblem(pieces=wanted(*inside), sheets=(sheet,), rules=Rules(opening=opening))
    plan = plan_patterns(asked, SMALL)

    assert plan_faults(asked, plan) == ()
    assert not plan.missing


def test_the_checker_sees_a_cut_that_is_too_long() -> None:
    sheet = ParentSheet(name="board", width=6, height=10)
    column = divide(Direction.LEVEL, [Piece("P0", 3, 5)] * 2)
    asked = PatternProblem(pieces=wanted((3, 5, 4)), sheets=(sheet,), rules=Rules(opening=8))
    plan = plan_patterns(asked)
    assert plan_faults(asked, plan) == ()
    [pattern] = plan.patterns
    columns = replace(pattern, tree=divide(Direction.UPRIGHT, [column, column]))
    assert any("is longer than" in fault for fault in plan_faults(asked, replace(plan, patterns=(columns,))))


def test_a_piece_longer_than_the_knife_comes_off_where_the_sheet_ends_beside_it() -> None:
    # 6 x 9 off a sheet of 6 x 10: one cut, 6 long. The tags come from the strip that is left, and from one more sheet.
    pieces = wanted((6, 9, 3), (2, 1, 12))
    sheet = ParentSheet(name="board", width=6, height=10)
    asked = PatternProblem(pieces=pieces, sheets=(sheet,), rules=Rules(opening=8))
    plan = plan_patterns(asked)
    assert plan_faults(asked, plan) == ()
    assert (plan.sheets, plan.ended) == (4, Ended.PROVED)


def test_a_sheet_larger_than_the_knife_both_ways_is_of_no_use() -> None:
    sheet = ParentSheet(name="board", width=9, height=10)
    with pytest.raises(WantedTooLargeError):
        PatternProblem(pieces=wanted((2, 2, 3)), sheets=(sheet,), rules=Rules(opening=8))
    whole = PatternProblem(pieces=wanted((9, 10, 3)), sheets=(sheet,), rules=Rules(opening=8))
    assert plan_patterns(whole).sheets == 3


def test_a_piece_that_no_such_cut_frees_is_refused() -> None:
    sheet = ParentSheet(name="board", width=6 * MM, height=10 * MM)
    with pytest.raises(WantedTooLargeError, match=r"no cut may be longer than 8 mm"):
        PatternProblem(pieces=wanted((3 * MM, 10 * MM, 2)), sheets=(sheet,), rules=Rules(opening=8 * MM))
