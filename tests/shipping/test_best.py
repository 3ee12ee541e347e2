"""The shipping step's schedule against every schedule there is, in months small enough to try them all."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from planning.calendar import Weekday, WorkingCalendar
from planning.roster import BoxClass, Contents
from planning.shipping import (
    CrewOn,
    Parcel,
    ServiceTerms,
    ShippingProblem,
    ShippingResult,
    plan_shipping,
    shipping_faults,
)
from tests.shipping.ways import OFFICE, Way, dearer_until, priced, way
from tests.support.effort import examples

MONDAY = date(2027, 4, 5)
FRIDAY = date(2027, 4, 9)
DAYS = 3  # of a short crew, Monday to Wednesday
WAIT = 14  # days within which a box is collected


def parcel(name: str, boxes: int, minutes: str, ready: int = 0, zone: str = "Home") -> Parcel:
    return Parcel(
        box_class=BoxClass(contents=Contents(tier=name), zones=(("Post", zone),), boxes=boxes),
        minutes=Decimal(minutes),
        ready=MONDAY + timedelta(days=ready),
        fares=(),
    )


def service(code: str, days: int, price: str, *zones: str, collects: Sequence[Weekday] = OFFICE) -> Way:
    return way(code, price, days, zones or ("Home",), collects)


def month(parcels: Sequence[Parcel], services: Sequence[Way], minutes: Sequence[int]) -> ShippingProblem:
    """A crew that is short from Monday on, one day after the other, and has time for everything on Friday."""
    short = tuple(
        CrewOn(day=MONDAY + timedelta(days=i), minutes=each) for i, each in enumerate(minutes) if each
    )
    return ShippingProblem(
        parcels=priced(parcels, services),
        services=tuple(one.terms for one in services),
        crew=(*short, CrewOn(day=FRIDAY, minutes=10_000)),
        carrier_calendar=WorkingCalendar(frozenset(OFFICE)),
        promised=FRIDAY,
    )


def ship(problem: ShippingProblem, nodes: int = 100) -> ShippingResult:
    result = plan_shipping(problem, nodes)
    assert shipping_faults(problem, result) == ()
    return result


def cost(problem: ShippingProblem, result: ShippingResult) -> tuple[int, int, Decimal]:
    """Late boxes, days late in all, postage."""
    late = [(load.boxes, (load.arrives - problem.promised).days) for load in result.late]
    return sum(boxes for boxes, _ in late), sum(boxes * days for boxes, days in late), result.postage


# --- Worked by hand ---


def test_goods_that_come_last_have_the_last_days() -> None:
    # Both classes may be packed until Wednesday (2 working days to Friday), 10 boxes a day. LATER is in the house on
    # Wednesday only, so EARLY has to leave that day to it.
    early, later = parcel("EARLY", 10, "6"), parcel("LATER", 10, "6", ready=2)
    result = ship(month((early, later), (service("POST", 2, "3.00"),), (60, 60, 60)))
    assert [(load.day.day, load.box_class.contents.tier) for load in result.loads] == [
        (6, "EARLY"),
        (7, "LATER"),
    ]
    assert result.late == ()
    assert result.ended == "proved: every box in time, each by the cheapest service that can be in time"


def test_a_class_with_a_choice_of_services_leaves_the_days_to_one_without() -> None:
    # 10 boxes on Monday and 10 on Tuesday. SLOW leaves on Monday at the latest and is all there is for FAR; HOME could
    # have it too, but goes on Tuesday by QUICK, at 1.00 a box more.
    far, home = parcel("FAR", 10, "6", zone="Away"), parcel("HOME", 10, "6")
    slow, quick = service("SLOW", 4, "2.00", "Home", "Away"), service("QUICK", 3, "3.00")
    result = ship(month((home, far), (slow, quick), (60, 60)))
    assert [(load.day.day, load.box_class.contents.tier, load.service.code) for load in result.loads] == [
        (5, "FAR", "SLOW"),
        (6, "HOME", "QUICK"),
    ]
    assert result.postage == Decimal("50.00")
    assert result.ended == "proved: every box in time, and none in time costs less postage"


def test_the_day_of_the_cheap_service_goes_to_the_class_that_saves_most_by_it() -> None:
    # 10 boxes on Monday, when ECO still is in time, 10 on Tuesday. It saves NEAR 1.00 a box and WIDE 4.00.
    near, wide = parcel("NEAR", 10, "6"), parcel("WIDE", 10, "6", zone="Away")
    eco_near, eco_wide = service("ECO", 4, "2.00"), service("ECO-WIDE", 4, "5.00", "Away")
    quick, quick_wide = service("QUICK", 3, "3.00"), service("QUICK-WIDE", 3, "9.00", "Away")
    result = ship(month((near, wide), (eco_near, eco_wide, quick, quick_wide), (60, 60)))
    assert result.postage == 10 * Decimal("5.00") + 10 * Decimal("3.00")
    assert result.least_cost == result.postage


def test_what_takes_longest_to_pack_is_late_so_that_fewest_are() -> None:
    # Monday's 12 minutes pack one BIG box or three SMALL ones.
    big, small = parcel("BIG", 1, "12"), parcel("SMALL", 3, "4")
    result = ship(month((big, small), (service("POST", 4, "3.00"),), (12,)))
    assert [(load.box_class.contents.tier, load.boxes) for load in result.late] == [("BIG", 1)]
    assert result.least_late == 1


def test_boxes_that_cannot_be_in_time_leave_early_where_that_makes_no_other_late() -> None:
    # 5 working days from Monday is Monday the 12th, 3 days after the promise; packed on Tuesday it would be 4.
    away, home = parcel("AWAY", 10, "6", zone="Away"), parcel("HOME", 10, "6")
    result = ship(
        month((home, away), (service("SLOW", 5, "2.00", "Away"), service("POST", 3, "3.00")), (60, 60))
    )
    assert [(load.box_class.contents.tier, load.day.day, load.late) for load in result.loads] == [
        ("AWAY", 5, True),
        ("HOME", 6, False),
    ]


def test_odd_minutes_are_filled_where_boxes_fit_them() -> None:
    # 10 and 9 minutes; two boxes of 5 fill Monday, three of 3 Tuesday, and no other way has room for all.
    five, three = parcel("FIVE", 2, "5"), parcel("THREE", 3, "3")
    result = ship(month((three, five), (service("POST", 3, "3.00"),), (10, 9)))
    assert [(load.day.day, load.box_class.contents.tier) for load in result.loads] == [
        (5, "FIVE"),
        (6, "THREE"),
    ]
    assert result.late == ()


# --- Against every schedule ---

classes = st.builds(
    parcel,
    name=st.just("T"),
    boxes=st.integers(0, 3),
    minutes=st.sampled_from(["1", "1.5", "2", "3", "5"]),
    ready=st.integers(0, DAYS),
    zone=st.sampled_from(["Home", "Away"]),
)
prices = st.sampled_from(["2.00", "3.05", "3.20", "4.10", "7.50"])
steady = st.builds(
    service,
    st.just("S"),
    st.integers(1, 6),
    prices,
    st.sampled_from(["Home", "Away"]),
    collects=st.lists(st.sampled_from(OFFICE), min_size=1, unique=True),
)
offers = steady | st.builds(
    dearer_until, steady, st.integers(1, 6).map(lambda days: MONDAY + timedelta(days=days)), prices
)


@st.composite
def small_months(draw: st.DrawFn) -> ShippingProblem:
    parcels = draw(st.lists(classes, min_size=1, max_size=3))
    services = draw(st.lists(offers, min_size=1, max_size=4))
    minutes = draw(st.lists(st.integers(0, 12), min_size=DAYS, max_size=DAYS))
    everywhere = service("LAST", draw(st.integers(2, 9)), "9.90", "Home", "Away")
    return month(
        [
            replace(one, box_class=replace(one.box_class, contents=Contents(tier=f"T{i}")))
            for i, one in enumerate(parcels)
        ],
        [*(renamed(one, f"S{i}") for i, one in enumerate(services)), everywhere],
        minutes,
    )


def renamed(one: Way, code: str) -> Way:
    terms = ServiceTerms(
        service=replace(one.terms.service, code=code),
        transits=tuple(replace(each, service=code) for each in one.terms.transits),
    )
    return Way(terms, tuple(replace(fare, service=code) for fare in one.fares))


def best_of_all(problem: ShippingProblem) -> tuple[int, int, Decimal]:
    """Try every number of boxes of every class on every day the crew has."""
    ways = [list(spread(one.box_class.boxes, len(problem.crew))) for one in problem.parcels]
    each = [[place_cost(one, crew.day, problem) for crew in problem.crew] for one in problem.parcels]
    found = []
    for schedule in product(*ways):
        places = [
            (boxes, one.minutes, day, each[i][day])
            for i, (one, row) in enumerate(zip(problem.parcels, schedule, strict=True))
            for day, boxes in enumerate(row)
            if boxes
        ]
        used = [
            sum(boxes * minutes for boxes, minutes, at, _ in places if at == day)
            for day in range(len(problem.crew))
        ]
        if any(asked > crew.minutes for asked, crew in zip(used, problem.crew, strict=True)):
            continue
        costs = [(boxes, place) for boxes, _, _, place in places]
        if any(place is None for _, place in costs):
            continue
        late = sum(boxes for boxes, place in costs if place and place[0])
        days = sum(boxes * place[0] for boxes, place in costs if place)
        found.append((late, days, sum((boxes * place[1] for boxes, place in costs if place), Decimal(0))))
    return min(found)


def spread(boxes: int, days: int) -> Iterator[tuple[int, ...]]:
    """Yield every way to spread boxes over days."""
    if days == 1:
        yield (boxes,)
        return
    for first in range(boxes + 1):
        for rest in spread(boxes - first, days - 1):
            yield (first, *rest)


def place_cost(one: Parcel, day: date, problem: ShippingProblem) -> tuple[int, Decimal] | None:
    """Days late and postage of the best service on a day, None before the goods are there; counted day by day."""
    if day < one.ready:
        return None
    zone = dict(one.box_class.zones)["Post"]
    ways = []
    for terms in problem.services:
        for transit, wait in product((t for t in terms.transits if t.zone == zone), range(WAIT)):
            collected = at = day + timedelta(days=wait)
            if Weekday.of(collected) not in terms.service.collects:
                continue
            left = transit.days
            while left:
                at += timedelta(days=1)
                left -= Weekday.of(at) in OFFICE
            price = next(
                fare.price
                for fare in one.fares
                if fare.service == terms.service.code
                and (fare.first or MONDAY) <= collected <= (fare.last or collected)
            )
            ways.append((max((at - problem.promised).days, 0), price))
    return min(ways)


@settings(max_examples=examples(200), deadline=None)
@given(small_months())
def test_no_schedule_is_more_punctual_or_cheaper(problem: ShippingProblem) -> None:
    result = ship(problem)
    assert cost(problem, result) == best_of_all(problem)
    assert result.ended.startswith(("proved", "nothing to send"))


@settings(max_examples=examples(100), deadline=None)
@given(small_months())
def test_a_schedule_sought_without_effort_tells_an_honest_bound(problem: ShippingProblem) -> None:
    result, best = ship(problem, nodes=0), best_of_all(problem)
    assert result.least_late <= best[0] <= cost(problem, result)[0]
    if cost(problem, result)[:2] == best[:2]:
        assert result.least_cost <= best[2] <= result.postage


# --- Larger months ---


def crowded(classes: int, boxes: int) -> ShippingProblem:
    """Classes of different packing times and ready days whose boxes fill the crew's three days a little more than up."""
    parcels = [
        parcel(
            f"T{i}", boxes + i % 7, str(Decimal(8 + i * 5 % 13) / 4), i % 5 // 3, ("Home", "Away")[i % 3 // 2]
        )
        for i in range(classes)
    ]
    services = [
        service(f"S{days}", days, f"{9 - days}.{days}5", "Home", *(["Away"] if days < 4 else []))
        for days in range(1, 6)
    ]
    work = sum((one.minutes * one.box_class.boxes for one in parcels), Decimal(0))
    return month(parcels, services, [int(work / Decimal("3.1"))] * DAYS)


def test_a_large_month_is_nearly_proved_at_once_and_the_same_each_time() -> None:
    problem = crowded(60, 200)
    result = ship(problem)
    late = sum(load.boxes for load in result.late)
    assert result.least_late <= late <= result.least_late + 5  # of about 12,000
    assert result.postage <= result.least_cost * Decimal("1.02")
    assert ship(problem) == result
