"""The cost curve, in the month of `tests.support.months`: every point is a whole plan, and every jump a decision."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kits.catalogue import StockLine
from planning.curve import CurveProblem, CurveResult, plan_curve, scaled_roster
from planning.demo import demo_month
from planning.flow import decide, plan_month
from planning.month import Month
from planning.problems import roster_problem
from planning.roster import plan_roster
from tests.support.effort import examples, thorough
from tests.support.months import tiny_month

MONTH = tiny_month()
money = st.decimals(0, 30, places=2)


def curve_of(month: Month, points: int) -> tuple[CurveProblem, CurveResult]:
    plan = plan_month(month, quick=True)
    problem = CurveProblem(
        month=month, contents=plan.contents, roster=plan.roster, known=plan.cutting, points=points
    )
    return problem, plan_curve(problem)


def planned_anew(problem: CurveProblem, boxes: int) -> Decimal:
    roster = scaled_roster(problem.roster, boxes)
    return decide(problem.month, problem.contents, roster, known=problem.known).cost.total


def test_a_roster_keeps_its_proportions_by_largest_remainder() -> None:
    # ten times as many boxes are ten times each class
    roster = plan_roster(roster_problem(MONTH))
    ten = scaled_roster(roster, 10 * roster.boxes)
    assert [(one.contents, one.zones, one.boxes) for one in ten.classes] == [
        (one.contents, one.zones, 10 * one.boxes) for one in roster.classes
    ]
    assert scaled_roster(roster, roster.boxes).classes == roster.classes


def test_the_roster_itself_costs_what_its_plan_costs() -> None:
    problem, result = curve_of(MONTH, 15)
    point = next(one for one in result.points if one.boxes == result.at)
    assert point.total == plan_month(MONTH).cost.total == planned_anew(problem, result.at)
    # 3 full kits at 20 and 2 half ones at 12
    assert (point.income, result.at) == (Decimal(84), 5)


def test_a_price_break_is_a_jump_with_its_material_and_count() -> None:
    # two sheets a box: 3 boxes 6 x 0.40 = 2.40, 4 boxes 8 x 0.40 = 3.20, but 20 x 0.15 = 3.00
    _, result = curve_of(MONTH, 15)
    assert [one.words for one in result.jumps if "White card" in one.words] == [
        "at 4 the 20 break of White card pays: 0.15 each, not 0.40"
    ]


def test_a_month_without_boxes_has_no_curve() -> None:
    _, result = curve_of(replace(MONTH, subscribers=(), orders=()), 15)
    assert (result.points, result.break_even, result.next_cost) == ((), None, None)


def test_a_price_of_nothing_never_breaks_even() -> None:
    _, result = curve_of(
        replace(MONTH, tiers=tuple(replace(one, price=Decimal(0)) for one in MONTH.tiers)), 15
    )
    assert result.break_even is None


@settings(max_examples=examples(60), deadline=None)
@given(
    prices=st.lists(money, min_size=8, max_size=8),
    shelf=st.lists(st.integers(0, 90), min_size=3, max_size=3),
    overs=st.decimals(0, 20, places=1),
    minutes=st.integers(0, 90),
    scale=st.integers(1, 9),
)
def test_every_point_is_a_whole_plan(
    prices: list[Decimal], shelf: list[int], overs: Decimal, minutes: int, scale: int
) -> None:
    """And the least count that breaks even does, the one before it does not."""
    month = replace(
        MONTH,
        subscribers=tuple(replace(one, quantity=one.quantity * scale) for one in MONTH.subscribers),
        price_breaks=tuple(
            replace(row, price=each) for row, each in zip(MONTH.price_breaks, prices, strict=True)
        ),
        stock=tuple(
            StockLine(item=name, on_hand=count, value_each=Decimal("0.10"))
            for name, count in zip(("CARD", "BIG", "MAT"), shelf, strict=True)
        ),
        materials=tuple(replace(one, overs_percent=overs) for one in MONTH.materials),
        week=tuple(replace(row, minutes=minutes) for row in MONTH.week),
    )
    problem, result = curve_of(month, 8)
    assert [one.total for one in result.points] == [planned_anew(problem, one.boxes) for one in result.points]
    totals = {one.boxes: one.profit for one in result.points}
    if result.break_even is not None:
        assert all(profit >= 0 for boxes, profit in totals.items() if boxes >= result.break_even)


@thorough
@pytest.mark.parametrize("step", range(4))
def test_the_curve_of_the_demo_month_is_full_replanning(step: int) -> None:
    problem, result = curve_of(demo_month(), 5)
    for one in result.points[step::4]:
        assert one.total == planned_anew(problem, one.boxes)
