"""From a club's past and its plan to the questions of the forecast and the chances, and back into overs and lots."""

from dataclasses import replace
from datetime import UTC, datetime
from decimal import Decimal
from functools import cache
from typing import Any

import pytest

from kits.catalogue import PriceBreak
from planning.calendar import YearMonth
from planning.chances import chances_faults, plan_chances
from planning.chances.rows import Uncertain, Unsure
from planning.flow import MonthPlan, plan_month
from planning.forecast import forecast_faults, plan_forecast
from planning.forecast.model import month_of, serial
from planning.forecast.rows import Announcement, CountByHand, PastTier, PromotedMonth, Stayed
from planning.load import plan_json
from planning.lots.rows import Forecast
from planning.month import Month
from planning.overs import Triangle
from planning.overs.rows import Outlook
from planning.problems import chances_problem, forecast_problem, overs_problem
from planning.run import make_plan
from tests.support.months import tiny_month

TINY = tiny_month()  # April 2027: three boxes of FULL at 20.00, two of HALF at 12.00
MARCH, APRIL, MAY = YearMonth(2027, 3), YearMonth(2027, 4), YearMonth(2027, 5)
D = Decimal


@cache
def planned(**change: Any) -> tuple[Month, MonthPlan]:
    """Return the tiny month with some other rows, and its plan."""
    month = replace(TINY, **change)
    return month, plan_month(month, quick=True)


def told(*counts: tuple[int, int], until: YearMonth = MARCH) -> tuple[PastTier, ...]:
    """Return a past of boxes of FULL and of HALF in each month, the last one given; who is fewer has left."""
    first = serial(until) - len(counts) + 1
    rows = []
    for tier, boxes in zip(("FULL", "HALF"), zip(*counts, strict=True), strict=True):
        for at, (before, here) in enumerate(zip((0, *boxes), boxes, strict=False)):
            rows.append(
                PastTier(
                    in_month=month_of(first + at),
                    tier=tier,
                    joined=max(0, here - before),
                    left=max(0, before - here),
                    boxes=here,
                )
            )
    return tuple(sorted(rows, key=lambda row: row.in_month))


def unsure(what: Unsure, low: str, likely: str, high: str, item: str = "") -> Uncertain:
    return Uncertain(what=what, item=item, low=D(low), likely=D(likely), high=D(high))


STEADY = told(*[(30, 20)] * 5, (33, 22), (36, 24))
NOTHING = unsure(Unsure.SURCHARGE, "0", "0", "0")


# --- The forecast ---


def test_the_past_is_asked_about_month_by_month_and_later_ones_ahead() -> None:
    promoted = (PromotedMonth(in_month=YearMonth(2026, 10)), PromotedMonth(in_month=MAY))
    began = Announcement(first=YearMonth(2027, 1), boxes=9, why="is in the counts by now")
    comes = Announcement(first=MAY, last=MAY, boxes=-4, why="a holiday")
    by_hand = CountByHand(in_month=MAY, low=50, likely=60, high=70, why="a fair")
    gone = replace(by_hand, in_month=YearMonth(2027, 2))
    problem = forecast_problem(
        replace(TINY, past=STEADY, promoted=promoted, announced=(began, comes), by_hand=(by_hand, gone))
    )
    assert problem is not None
    assert [str(one.month) for one in problem.months][::6] == ["2026-09", "2027-03"]
    assert [one.promotion for one in problem.months] == [False, True, False, False, False, False, False]
    assert (problem.promotions, problem.ahead) == ((MAY,), 6)
    assert [one.boxes for one in problem.announced] == [-4]
    assert [one.month for one in problem.overrides] == [MAY]
    result = plan_forecast(problem)
    assert forecast_faults(problem, result) == ()
    assert result.boxes == (50, 50, 50, 50, 50, 55, 60)
    assert [one.month for one in result.months][:2] == [APRIL, MAY]
    assert (result.months[1].boxes(50), result.months[1].announced) == (60, -4)


def test_where_nobody_knows_who_left_one_rate_is_taken_for_all() -> None:
    past = told((30, 20), (25, 15), (28, 14))
    problem = forecast_problem(replace(TINY, past=past))
    assert problem is not None
    # 50 before; 40, none of them new; 42, of which 3 of FULL are new and 39 were there
    assert [one.members for one in problem.cohorts] == [(0, 0, 0), (50, 40, 39), (0, 0), (3,)]
    result = plan_forecast(problem)
    assert {one.key.partition("-")[0] for one in result.methods} == {"naive", "flat"}
    assert (result.kept.alpha, result.kept.flat) == (None, D("12.22"))  # 11 of 90 left


def test_where_it_is_known_each_cohort_is_told() -> None:
    jan, feb = YearMonth(2027, 2), YearMonth(2027, 3)
    past = told((3, 1), (3, 2))
    stayed = (
        Stayed(joined=YearMonth(2026, 5), in_month=jan, members=4),
        Stayed(joined=YearMonth(2026, 5), in_month=feb, members=4),
        Stayed(joined=feb, in_month=feb, members=1),
    )
    problem = forecast_problem(replace(TINY, past=past, stayed=stayed))
    assert problem is not None
    assert [(str(one.joined), one.members) for one in problem.cohorts] == [
        ("2026-05", (4, 4)),
        ("2027-03", (1,)),
    ]
    assert problem.tenures


def test_one_month_is_no_past() -> None:
    assert forecast_problem(replace(TINY, past=told((3, 2)))) is None


# --- What it feeds ---


def test_a_tier_has_its_recent_share_of_the_forecast_where_nothing_is_typed() -> None:
    typed = Outlook(tier="HALF", low=2, likely=3, high=4, short_cost=D(15))
    _, plan = planned(past=STEADY, outlooks=(typed,))
    assert plan.forecast is not None
    full, half = plan.overs.stocked[:2]
    [part] = full.question.parts
    assert part.count.quantile(D("0.5")) == round(plan.forecast.months[0].boxes(50) * D("0.6"))
    assert full.question.short == D(20)  # its price
    assert half.question.parts[0].count == Triangle(D(2), D(3), D(4))


def test_what_is_in_the_past_already_is_no_longer_uncertain() -> None:
    month, plan = planned(past=told((30, 20), (3, 2), until=APRIL))
    assert plan.forecast is not None
    assert plan.forecast.months[0].month == MAY
    assert overs_problem(month, plan.requirements, plan.cutting, plan.buying, plan.forecast).stocked == ()
    assert plan.chances is None


def test_units_that_are_not_written_follow_the_count() -> None:
    # 10 cards for this month's 5 boxes: two for each of those in the middle of May's forecast
    _, plan = planned(past=STEADY, forecasts=(Forecast(material="CARD", needed_in=MAY),))
    assert plan.forecast is not None
    assert plan.lots is not None
    assert plan.lots.stock[0].needed == (10, 2 * plan.forecast.months[1].boxes(50))


# --- The chances ---


def test_with_nothing_uncertain_a_month_costs_what_the_cost_step_says() -> None:
    _, plan = planned(uncertain=(NOTHING,))
    assert plan.chances is not None
    income = 3 * D(20) + 2 * D(12)
    assert plan.chances.profit.low == plan.chances.profit.high == income - plan.cost.total
    assert all(one.cost == plan.cost.total for one in plan.chances.shown)


def test_a_price_that_is_not_quoted_is_paid_for_all_that_the_kits_take() -> None:
    # 10 brads a kit, of which some are on order at a price that is known
    sure, _ = planned(uncertain=(NOTHING,))
    plan = planned(uncertain=(NOTHING,))[1]
    brads = next(line for line in plan.buying.lines if line.need.material == "BRADS")
    asked = unsure(Unsure.PRICE, str(brads.price), str(brads.price), str(brads.price + 1), "BRADS")
    problem = chances_problem(
        replace(sure, uncertain=(asked,)), plan.requirements, plan.cutting, plan.buying, plan.cost, None
    )
    assert problem is not None
    [line] = [one for one in problem.lines if one.takes and not one.amount.known]
    assert dict(line.takes).keys() == {"FULL", "HALF"}
    result = plan_chances(problem)
    assert chances_faults(problem, result) == ()
    # from the plan's price on it may be up to 1.00 dearer: a third of that on average, for 5 kits
    units = sum((count * boxes for (_, count), boxes in zip(line.takes, (3, 2), strict=True)), D(0))
    expected = 3 * D(20) + 2 * D(12) - plan.cost.total - units / 3
    assert abs(result.profit.mean - expected) < D("0.1")


def test_more_kits_reach_a_price_break_and_all_pay_it() -> None:
    offer = next(one for one in TINY.offers if one.material == "BRADS")
    prices = (
        PriceBreak(offer=offer.code, from_quantity=1, price=D("0.10")),
        PriceBreak(offer=offer.code, from_quantity=100, price=D("0.08")),
    )
    breaks = tuple(one for one in TINY.price_breaks if one.offer != offer.code)
    offers = tuple(replace(one, pack=1) if one is offer else one for one in TINY.offers)
    _, plan = planned(price_breaks=(*breaks, *prices), offers=offers, uncertain=(NOTHING,))
    assert plan.chances is not None
    full = plan.chances.question.tiers[0]
    before, after = full.goods[-2], full.goods[-1]
    # 10 brads a kit and their overs, each at 0.02 less, and so is what the other boxes take
    assert D("0.20") <= before.each - after.each <= D("0.22")
    assert after.once < before.once
    assert before.from_kits <= 3
    assert after.from_kits == 6  # 55 brads for 3, 85 for 6; 80 at 0.10 cost what 100 at 0.08 do


# --- Clubs as small as may be ---


SMALLEST = {
    "one subscriber": told((1, 0), (1, 0), (1, 0)),
    "a month with no boxes": told((3, 2), (0, 0), (3, 2)),
    "nobody at all": told((0, 0), (0, 0)),
    "a tier nobody takes": told((5, 0), (6, 0), (5, 0), (5, 0)),
}


@pytest.mark.parametrize("case", SMALLEST)
def test_the_smallest_past_is_planned_without_a_figure_that_is_none(case: str) -> None:
    month = replace(TINY, past=SMALLEST[case], uncertain=(unsure(Unsure.SPOILED, "0", "1", "100"),))
    made = make_plan(month, 1, datetime(2027, 3, 1, tzinfo=UTC), quick=True)
    text = plan_json().dump_json(made).decode()
    assert "NaN" not in text
    assert "Infinity" not in text
    assert made.plan.forecast is not None


def test_nobody_on_the_roster_has_no_chances() -> None:
    _, plan = planned(subscribers=(), orders=(), past=SMALLEST["one subscriber"], uncertain=(NOTHING,))
    assert plan.chances is None
