"""Overtime, cut-offs, holidays of the destination, arrivals together, blame: by hand, and against every schedule."""

from dataclasses import replace
from datetime import date, time, timedelta
from decimal import Decimal
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planning.calendar import Weekday, WorkingCalendar
from planning.roster import BoxClass, Contents
from planning.shipping import (
    Before,
    Cause,
    CrewOn,
    Destination,
    Parcel,
    ShippingError,
    ShippingProblem,
    ShippingResult,
    plan_shipping,
    shipping_faults,
)
from tests.shipping.ways import OFFICE, Way, priced, way
from tests.support.effort import examples

MONDAY, FRIDAY = date(2027, 4, 5), date(2027, 4, 9)
NOON = time(12)
CALENDAR = WorkingCalendar(frozenset(OFFICE))


def parcel(boxes: int, minutes: str = "2", tier: str = "T", ready: int = 0, region: str = "") -> Parcel:
    return Parcel(
        box_class=BoxClass(contents=Contents(tier=tier), zones=(("Post", "Home"),), boxes=boxes),
        minutes=Decimal(minutes),
        ready=MONDAY + timedelta(days=ready),
        fares=(),
        region=region,
    )


def month(parcels: list[Parcel], ways: list[Way], crew: list[CrewOn], cost: str = "30") -> ShippingProblem:
    return ShippingProblem(
        parcels=priced(parcels, ways),
        services=tuple(one.terms for one in ways),
        crew=tuple(crew),
        carrier_calendar=CALENDAR,
        promised=FRIDAY,
        overtime_cost=Decimal(cost),
    )


def day(number: int, minutes: int, overtime: int = 0, before: int | None = None) -> CrewOn:
    """The crew of a day from Monday on. before: minutes by noon."""
    cut = () if before is None else (Before(at=NOON, minutes=before),)
    return CrewOn(day=MONDAY + timedelta(days=number), minutes=minutes, overtime=overtime, before=cut)


def by_noon(one: Way) -> Way:
    service = replace(one.terms.service, cut_off=NOON)
    return one._replace(terms=replace(one.terms, service=service))


def ship(problem: ShippingProblem) -> ShippingResult:
    result = plan_shipping(problem)
    assert shipping_faults(problem, result) == ()
    return result


def test_overtime_is_worked_where_it_costs_less_than_a_quicker_service() -> None:
    # 4 working days from Monday to Friday; 10 boxes of 2 minutes, and Monday's crew has 10. An hour costs 30.00, a minute
    # 0.50, a box 1.00; QUICK from Tuesday on costs 1.50 more
    slow, quick = way("SLOW", "2.00", 4), way("QUICK", "3.50", 1)
    result = ship(month([parcel(10)], [slow, quick], [day(0, 10, overtime=10), day(1, 100)]))
    assert [(load.service.code, load.boxes) for load in result.loads] == [("SLOW", 10)]
    assert result.overtime == 10
    assert result.overtime_paid == 5
    # at 60.00 an hour the box costs 2.00 in overtime, and QUICK is cheaper
    dear = ship(month([parcel(10)], [slow, quick], [day(0, 10, overtime=10), day(1, 100)], "60"))
    assert [(load.service.code, load.boxes) for load in dear.loads] == [("SLOW", 5), ("QUICK", 5)]
    assert dear.overtime == 0


def test_overtime_has_its_limit() -> None:
    result = ship(month([parcel(10)], [way("SLOW", "2.00", 4)], [day(0, 10, overtime=7), day(1, 100)]))
    # 17 minutes hold 8 boxes, of which the last begins before the crew's own time is over
    assert [(load.boxes, load.late) for load in result.loads] == [(8, False), (2, True)]
    assert result.overtime == 6


def test_what_is_packed_after_the_cut_off_waits_for_the_next_collection() -> None:
    post = by_noon(way("POST", "2.00", 4))
    result = ship(month([parcel(10)], [post], [day(0, 20, before=12), day(1, 100)]))
    # 12 of Monday's 20 minutes come before noon: six boxes go on Monday and arrive on Friday, four a day too late
    assert [(load.by, load.boxes, load.collected.day, load.late) for load in result.loads] == [
        (NOON, 6, 5, False),
        (None, 4, 6, True),
    ]


def test_transit_is_counted_in_working_days_of_the_destination() -> None:
    off = WorkingCalendar(frozenset(OFFICE), frozenset({date(2027, 4, 7)}))
    six_days = WorkingCalendar(frozenset((*OFFICE, Weekday.SAT)))
    problem = month(
        [parcel(1, tier="A"), parcel(1, tier="B", region="XH"), parcel(1, tier="C", region="XS")],
        [way("POST", "2.00", 5)],
        [day(0, 100)],
    )
    problem = replace(
        problem,
        promised=date(2027, 4, 20),
        destinations=(
            Destination(region="XH", calendar=off),
            Destination(region="XS", calendar=six_days),
        ),
    )
    # five working days after Monday 5 April: Monday 12; Tuesday 13 where Wednesday 7 is a holiday; Saturday 10
    assert [load.arrives.day for load in ship(problem).loads] == [12, 13, 10]


def test_boxes_arrive_together_on_the_day_that_costs_least() -> None:
    # alone, HOME would go by SLOW and AWAY only has two days; together both arrive on the day that is cheapest for all
    slow, quick = way("SLOW", "2.00", 4), way("QUICK", "3.00", 2, ("Home", "Away"))
    home = parcel(3, tier="HOME")
    away = parcel(3, tier="AWAY")
    away = replace(away, box_class=replace(away.box_class, zones=(("Post", "Away"),)))
    crew = [day(number, 100) for number in range(5)]
    problem = replace(month([home, away], [slow, quick], crew), together=True)
    result = ship(problem)
    assert result.together == FRIDAY
    assert {load.arrives for load in result.loads} == {FRIDAY}
    assert {(load.box_class.contents.tier, load.service.code) for load in result.loads} == {
        ("HOME", "SLOW"),
        ("AWAY", "QUICK"),
    }
    assert result.ended.startswith("proved: together on 9 Apr 2027, every box in time")


def test_a_box_that_cannot_arrive_with_the_others_is_late() -> None:
    shut = WorkingCalendar(frozenset(OFFICE), frozenset({FRIDAY, date(2027, 4, 8)}))
    far = parcel(1, tier="FAR", region="XX", ready=2)
    problem = month([parcel(5), far], [way("POST", "2.00", 1)], [day(number, 100) for number in range(5)])
    result = ship(replace(problem, together=True, destinations=(Destination(region="XX", calendar=shut),)))
    # FAR is there on Wednesday and reaches nobody before Monday; the five arrive together
    assert [(load.boxes, load.late) for load in result.loads if load.box_class.contents.tier == "FAR"] == [
        (1, True)
    ]
    assert len({load.arrives for load in result.loads if not load.late}) == 1


@pytest.mark.parametrize(
    ("parcels", "days", "cause"),
    [
        ([parcel(10)], 4, Cause.CREW),  # Monday holds five
        ([parcel(3, ready=1)], 4, Cause.PAPER),  # there on Tuesday, needed on Monday
        ([parcel(3)], 5, Cause.CARRIER),  # five working days from Monday end after Friday
    ],
)
def test_what_is_to_blame_is_told(parcels: list[Parcel], days: int, cause: Cause) -> None:
    result = ship(month(parcels, [way("POST", "2.00", days)], [day(0, 10), day(1, 100)]))
    assert [one.cause for one in result.blame] == [cause]
    gain = next(one for one in result.gains if one.cause is cause)
    assert gain.fewer == sum(one.boxes for one in result.blame)
    assert gain.proved


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: parcel(-1), "-1 boxes; write 0 or more"),
        (lambda: day(0, -5), "less than no minutes"),
        (lambda: day(0, 10, before=-1), "less than no minutes"),
        (
            lambda: month([parcel(1)], [], [day(0, 1), day(0, 2)]),
            "the day 2027-04-05 is there more than once",
        ),
        (lambda: month([parcel(1), parcel(1)], [], []), "is there more than once; keep one"),
        (lambda: month([], [], [], "-1"), "an hour of overtime costs -1; write 0 or more"),
    ],
)
def test_a_question_that_cannot_be_is_refused(make: object, said: str) -> None:
    with pytest.raises(ShippingError, match=said):
        make()  # type: ignore[operator]


# --- Against every schedule ---

minutes = st.sampled_from(["1", "1.5", "2", "3"])


@st.composite
def small_months(draw: st.DrawFn) -> ShippingProblem:
    parcels = [
        parcel(draw(st.integers(0, 3)), draw(minutes), tier=f"T{number}", ready=draw(st.integers(0, 1)))
        for number in range(draw(st.integers(1, 2)))
    ]
    ways = [
        way(f"S{number}", draw(st.sampled_from(["2.00", "2.40", "3.10"])), draw(st.integers(1, 4)))
        for number in range(draw(st.integers(1, 2)))
    ]
    ways = [by_noon(one) if draw(st.booleans()) else one for one in ways]
    crew = []
    for number in range(2):
        own = draw(st.integers(0, 6))
        crew.append(day(number, own, draw(st.integers(0, 4)), draw(st.integers(0, own))))
    return month(parcels, ways, [*crew, day(4, 1_000)], draw(st.sampled_from(["0", "9", "30"])))


def best_of_all(problem: ShippingProblem) -> tuple[int, int, Fraction]:
    """Try every box of every class at every half of every day."""
    halves = [(crew, early) for crew in problem.crew for early in (True, False)]
    boxes = [one for one in problem.parcels for _ in range(one.box_class.boxes)]
    best = None
    for places in product(range(len(halves)), repeat=len(boxes)):
        found = cost_of(problem, [(one, *halves[place]) for one, place in zip(boxes, places, strict=True)])
        if found is not None and (best is None or found < best):
            best = found
    assert best is not None
    return best


def cost_of(
    problem: ShippingProblem, packed: list[tuple[Parcel, CrewOn, bool]]
) -> tuple[int, int, Fraction] | None:
    """Late boxes, days late, money; None where a day or its morning is too short, or goods are not there."""
    money, late, days = Fraction(0), 0, 0
    for crew in problem.crew:
        work = sum(one.minutes for one, on, _ in packed if on is crew)
        morning = sum(one.minutes for one, on, early in packed if on is crew and early)
        noon = [one.minutes for one in crew.before]
        if work > crew.minutes + crew.overtime or any(morning > most for most in noon):
            return None
        money += Fraction(max(work - crew.minutes, Decimal(0)) * problem.overtime_cost) / 60
    for one, crew, early in packed:
        if crew.day < one.ready:
            return None
        ways = []
        for terms in problem.services:
            start = crew.day
            if terms.service.cut_off and crew.before and not early:
                start += timedelta(days=1)
            while not CALENDAR.works(start):
                start += timedelta(days=1)
            over = (CALENDAR.after(start, terms.transits[0].days) - problem.promised).days
            ways += [(max(over, 0), fare.price) for fare in one.fares if fare.service == terms.service.code]
        over, price = min(ways)
        late, days, money = late + (over > 0), days + over, money + Fraction(price)
    return late, days, money


@settings(max_examples=examples(80), deadline=None)
@given(small_months())
def test_no_schedule_is_more_punctual_or_costs_less_in_postage_and_overtime(problem: ShippingProblem) -> None:
    result = ship(problem)
    late = [(load.boxes, (load.arrives - problem.promised).days) for load in result.late]
    found = (
        sum(boxes for boxes, _ in late),
        sum(boxes * over for boxes, over in late),
        Fraction(result.postage) + result.overtime_paid,
    )
    assert found == best_of_all(problem)
    assert result.ended.startswith(("proved", "nothing to send"))
