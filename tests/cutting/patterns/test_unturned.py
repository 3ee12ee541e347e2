"""Where turning is allowed, plans without turning are looked for as well."""

import pytest

from kits.kit import Direction
from planning.cutting.patterns import Effort, Ended, ParentSheet, PatternProblem, Wanted, plan_faults
from planning.cutting.patterns import search as searching
from planning.cutting.patterns.known import Known
from planning.cutting.patterns.search import improvements

SIZES = ((7, 3, 40), (5, 4, 33), (6, 2, 57), (9, 8, 21))


def problem(direction: Direction) -> PatternProblem:
    return PatternProblem(
        pieces=tuple(
            Wanted(name=f"P{n}", width=w, height=h, count=count, direction=direction)
            for n, (w, h, count) in enumerate(SIZES)
        ),
        sheets=(ParentSheet(name="sheet", width=20, height=17),),
    )


@pytest.fixture
def poor() -> Known:
    """A search that has found no better plan than the first."""
    known = Known(problem(Direction.ANY), 10_000_000)
    next(improvements(known, Effort(rounds=0)))
    return known


def test_a_plan_without_turning_is_taken_where_it_is_better(poor: Known) -> None:
    before = poor.cost
    assert list(searching._unturned(poor, Effort(rounds=1, dives=0))) == [None]
    assert poor.cost < before
    plan = poor.plan()
    assert plan_faults(problem(Direction.ANY), plan) == ()
    assert plan_faults(problem(Direction.NOT_TURNED), plan) == ()
    assert plan.ended is not Ended.SHORT


def test_where_nothing_may_turn_there_is_nothing_else_to_look_for() -> None:
    known = Known(problem(Direction.NOT_TURNED), 10_000_000)
    assert list(searching._unturned(known, Effort(rounds=1, dives=0))) == []


def test_pieces_that_fit_only_turned_are_left_to_the_search_itself() -> None:
    tall = Wanted(name="tall", width=3, height=18, count=4)
    known = Known(
        PatternProblem(pieces=(tall,), sheets=(ParentSheet(name="sheet", width=20, height=17),)), 10_000_000
    )
    assert list(searching._unturned(known, Effort(rounds=1, dives=0))) == []
