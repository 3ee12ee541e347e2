from collections import Counter
from dataclasses import replace
from datetime import date
from time import perf_counter

from hypothesis import given, settings
from hypothesis import strategies as st

from planning.documents.codes import check_box_code
from planning.documents.listing import Box, list_boxes
from planning.flow import MonthPlan, plan_month
from planning.month import Month
from tests.documents.small_month import APRIL, EMPTY_MONTH, MARCH, MONTH, person, small_plan
from tests.support.effort import examples

PLAN = small_plan()
BOXES = list_boxes(MONTH, PLAN)


def listing_faults(plan: MonthPlan, boxes: tuple[Box, ...]) -> list[str]:
    """Compare the listing with the plan's own counts: by class, by wave and class, and place by place."""
    faults = []
    if Counter(box.box_class for box in boxes) != {one: one.boxes for one in plan.roster.classes}:
        faults.append("a class has more or fewer boxes than the roster counts")
    listed = Counter((box.wave, box.box_class) for box in boxes if box.wave)
    planned: Counter[tuple[int, object]] = Counter()
    for wave in plan.waves:
        for part in wave.parts:
            planned[wave.number, part.box_class] += part.boxes
    if listed != planned:
        faults.append("a wave holds other boxes than planned")
    if Counter(box.box_class for box in boxes if not box.wave) != {
        one.box_class: one.boxes for one in plan.shipping.unsendable
    }:
        faults.append("other boxes stay behind than planned")
    faults += [
        f"the places of wave {wave.number} are not 1 to {wave.boxes}"
        for wave in plan.waves
        if [box.place for box in boxes if box.wave == wave.number] != list(range(1, wave.boxes + 1))
    ]
    return faults


def test_the_listing_is_the_plan_box_by_box() -> None:
    assert listing_faults(PLAN, BOXES) == []


def test_everyone_gets_what_the_roster_says() -> None:
    boxes = Counter(box.subscriber.reference for box in BOXES)
    assert boxes["S08"] == 2  # two subscriptions
    assert boxes["S02"] == 2  # one subscription, and one kit ordered once
    assert boxes["S06"] == 1  # skips, but ordered goods
    assert not {"S04", "S05", "S07"} & set(boxes)  # left, joins later, quantity 0


def test_a_box_no_service_takes_has_wave_0_and_no_place() -> None:
    [far] = [box for box in BOXES if box.subscriber.country == "IS"]
    assert (far.wave, far.place) == (0, 0)
    assert far == BOXES[-1]


def test_serials_follow_the_roster_and_codes_hold_them() -> None:
    in_order = sorted(BOXES, key=lambda box: box.serial)
    assert [box.serial for box in in_order] == list(range(1, len(BOXES) + 1))
    references = [box.subscriber.reference for box in in_order]
    assert references == sorted(references)  # this month's references rise along the roster
    assert all(check_box_code(box.code).startswith(f"RIV2704{box.serial:06}") for box in BOXES)


def test_within_a_class_boxes_are_packed_in_the_order_of_the_roster() -> None:
    for box_class in PLAN.roster.classes:
        serials = [box.serial for box in BOXES if box.box_class == box_class]
        assert serials == sorted(serials)


def test_the_same_plan_is_listed_the_same() -> None:
    assert list_boxes(MONTH, PLAN) == BOXES


def test_an_empty_roster_has_no_boxes() -> None:
    assert list_boxes(EMPTY_MONTH, plan_month(EMPTY_MONTH)) == ()


PEOPLE = st.builds(
    person,
    st.sampled_from([f"P{n:03}" for n in range(500)]),
    st.just("Someone"),
    st.sampled_from(["DE", "PL", "JP", "IS"]),
    st.sampled_from(["STD", "DLX"]),
    quantity=st.integers(0, 3),
    active=st.booleans(),
    joined=st.sampled_from([None, date(2027, 3, 9), date(2027, 4, 9), date(2027, 5, 9)]),
    skips=st.sampled_from([(), (MARCH,), (APRIL,)]),
)
ROSTERS = st.lists(PEOPLE, max_size=60, unique_by=lambda one: one.reference)


@given(ROSTERS, st.integers(1, 9))
@settings(max_examples=examples(25))
def test_any_roster_is_listed_as_it_is_planned(roster: list, wave_size: int) -> None:  # type: ignore[type-arg]
    month = replace(
        MONTH, subscribers=tuple(roster), orders=(), club=replace(MONTH.club, cart_boxes=wave_size)
    )
    plan = plan_month(month)
    assert listing_faults(plan, list_boxes(month, plan)) == []


def large_month(boxes: int) -> Month:
    """Return the month with a roster of many alike."""
    people = tuple(
        person(f"L{n:06}", f"Person {n}", ("DE", "PL")[n % 2], ("STD", "DLX")[n % 3 == 0])
        for n in range(boxes)
    )
    week = tuple(replace(row, minutes=100_000) for row in MONTH.week)
    return replace(MONTH, subscribers=people, orders=(), week=week)


def test_ten_thousand_boxes_take_about_a_second() -> None:
    month = large_month(10_000)
    plan = plan_month(month)
    begin = perf_counter()
    boxes = list_boxes(month, plan)
    assert perf_counter() - begin < 5  # about 0.3 s on one core; a loaded machine is no reason to fail
    assert len(boxes) == 10_000
