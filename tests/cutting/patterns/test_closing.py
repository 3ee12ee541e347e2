"""Patterns drawn by lot, and the last sheets of a plan chosen out of them."""

import random
from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kits.guillotine import check, count_pieces
from kits.kit import Direction
from planning.cutting.patterns import (
    Effort,
    Ended,
    ParentSheet,
    PatternProblem,
    Wanted,
    plan_faults,
    plan_patterns,
)
from planning.cutting.patterns.closing import AT_ONCE, Closing
from planning.cutting.patterns.column import Column, tree
from planning.cutting.patterns.dive import Dives
from planning.cutting.patterns.generate import generate
from planning.cutting.patterns.known import Known
from tests.support.effort import examples

SHEET = ParentSheet(name="sheet", width=60, height=80)


def month(seed: int, kits: int = 1000) -> PatternProblem:
    dice = random.Random(seed)  # noqa: S311
    pieces = tuple(
        Wanted(
            name=f"piece {number}",
            width=dice.randint(5, 25),
            height=dice.randint(5, 25),
            count=kits * dice.randint(1, 3),
            direction=dice.choice([Direction.ANY, Direction.NOT_TURNED]),
        )
        for number in range(6)
    )
    return PatternProblem(pieces=pieces, sheets=(SHEET,))


def searched(problem: PatternProblem) -> Known:
    known = Known(problem, 1_000_000_000)
    for pricing in known.pricings:
        known.add(pricing.grids())
    generate(known)
    return known


def worth(known: Known, one: Column) -> float:
    return sum(value * count for value, count in zip(known.at_bound, one.counts, strict=True))


@given(st.integers(0, 10_000))
@settings(max_examples=examples(24), deadline=None)
def test_patterns_drawn_can_be_cut_yield_what_they_say_and_are_worth_nearly_their_price(seed: int) -> None:
    known = searched(month(seed))
    closing = Closing(known)
    closing.draw(1)

    for number in range(0, len(closing.excess), 97):
        one = closing._column(number)
        cuts = tree(one.plan, known.pricings[0].sheet)
        assert check(known.pricings[0].sheet, cuts) == ()
        made = count_pieces(cuts)
        assert tuple(made.get(piece.name, 0) for piece in known.pieces) == one.counts
        assert worth(known, one) <= known.prices[0] + 1e-6
        assert known.prices[0] - worth(known, one) <= known.gap + 1e-6


@given(st.integers(0, 10_000), st.integers(1, 3))
@settings(max_examples=examples(24), deadline=None)
def test_a_rest_that_some_of_the_patterns_make_is_made_within_the_budget(seed: int, sheets: int) -> None:
    known = searched(month(seed))
    closing = Closing(known)
    closing.draw(1)
    dice = random.Random(seed)  # noqa: S311
    chosen = [dice.randrange(len(closing.excess)) for _ in range(sheets)]
    rest = [int(count) for count in closing.counts[chosen].sum(axis=0)]

    found = closing.find(rest, float(sheets), sheets, 10**9)

    if found is None:  # of very many, only the first are paired
        assert sheets > 1
        assert len(closing.excess) > AT_ONCE
        return
    assert len(found) == sheets
    made: Counter[int] = Counter()
    for one in found:
        made.update(dict(enumerate(one.counts)))
    assert all(made[size] >= count for size, count in enumerate(rest))


def test_a_rest_that_nothing_makes_is_not_made() -> None:
    known = searched(month(1))
    closing = Closing(known)
    closing.draw(1)

    assert closing.find([1000, 0, 0, 0, 0, 0], 2.0, 2, 100_000) is None


@given(st.integers(0, 10_000))
@settings(max_examples=examples(16), deadline=None)
def test_a_plan_made_sheet_by_sheet_passes_the_checker_and_keeps_to_the_stock(seed: int) -> None:
    one = month(seed, kits=100)
    sheets = (SHEET, ParentSheet(name="small", width=40, height=60, available=5))
    known = searched(replace(one, sheets=sheets))
    dives = Dives(known)
    dives.closing.draw(2)

    if dives.search(3, 100_000):
        assert plan_faults(known.problem, known.plan()) == ()
        assert known.is_done


@pytest.mark.parametrize("seed", [3, 5])
def test_months_of_paper_need_no_more_sheets_than_the_bound(seed: int) -> None:
    one = month(seed)

    plan = plan_patterns(one, Effort(rounds=3))

    assert plan.ended is Ended.PROVED
    assert plan_faults(one, plan) == ()
