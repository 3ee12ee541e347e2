"""The shipping step's question and its words, in a whole month."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from kits.catalogue import StockLine
from planning.calendar import Weekday
from planning.faults import faults
from planning.flow import plan_month
from planning.shipping import CrewDay
from tests.support.months import tiny_month

MONTH = tiny_month()


def test_a_service_may_collect_on_saturdays_only() -> None:
    month = replace(MONTH, services=(replace(MONTH.services[0], collects=(Weekday.SAT,)),))
    assert faults(month) == ()
    # packed from Monday 5 April; from Saturday the 10th, 2 working days to Great Britain and 4 to France
    loads = plan_month(month).shipping.loads
    assert {(load.collected, load.arrives) for load in loads} == {
        (date(2027, 4, 10), date(2027, 4, 13)),
        (date(2027, 4, 10), date(2027, 4, 15)),
    }


def test_a_box_longer_to_pack_than_any_day_is_told_with_both_times() -> None:
    slow = replace(MONTH.club, minutes_per_box=Decimal("90.5"), minutes_per_line=Decimal(0))
    plan = plan_month(replace(MONTH, club=slow))
    assert {one.why for one in plan.shipping.unsendable} == {
        "packing one takes 90.5 min, and no day has more than 60 min"
    }
    assert plan.shipping.loads == ()
    assert plan.shipping.ended == "no box can be sent"


def test_all_boxes_of_a_class_wait_for_goods_of_which_some_are_on_the_shelf() -> None:
    # 55 brads, of which 20 are there: one box could be filled, but all wait for the rest
    slow = tuple(replace(one, lead_days=26) if one.material == "BRADS" else one for one in MONTH.offers)
    plan = plan_month(replace(MONTH, offers=slow, stock=(*MONTH.stock, StockLine(item="BRADS", on_hand=20))))
    (late,) = plan.buying.late
    # 26 working days after Monday 1 March, Easter left out, and one to take them in
    assert late.arrives == date(2027, 4, 8)
    assert min(load.day for load in plan.shipping.loads) >= date(2027, 4, 9)


def test_boxes_without_a_service_are_told_apart_from_late_ones_and_their_postage_from_the_cost() -> None:
    heavy = tuple(replace(one, up_to=150) for one in MONTH.rates if one.zone == "near")
    plan = plan_month(replace(MONTH, rates=(*(one for one in MONTH.rates if one.zone == "home"), *heavy)))
    (unsent,) = plan.shipping.unsendable
    assert unsent.boxes == 2
    assert unsent.words.endswith(
        "goes up to 150 g to zone near; 186.15 g is heavier than every band; the cost leaves out the postage"
    )
    assert plan.shipping.ended == (
        "proved: every box that can be sent is in time, each by the cheapest service that can be in time"
    )


def test_boxes_that_arrive_before_the_promised_week_are_in_time_and_counted() -> None:
    # packed on Monday 5 April, the only day with a crew: 2 working days to Great Britain, 4 to France
    closed = tuple(replace(row, minutes=0) for row in MONTH.week)
    month = replace(MONTH, week=closed, crew_days=(CrewDay(day=date(2027, 4, 5), minutes=60),))
    shipping = plan_month(month).shipping
    assert [shipping.arriving_before(date(2027, 4, day)) for day in (7, 8, 12)] == [0, 3, 5]
    assert shipping.late == ()
