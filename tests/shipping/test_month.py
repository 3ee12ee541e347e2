"""The shipping step's question and its words, in a whole month."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from planning.calendar import Weekday
from planning.faults import faults
from planning.flow import plan_month
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
