"""Published schedules of one machine, solved by the schedule's own programme: a day whose collections have cut-offs.

Each job is a box with its minutes and a service of its own, collected when the job is due; what misses it goes the day
after, which is late. Fewest late jobs are Moore-Hodgson's; the least that the latest job is late is that of Jackson's
earliest due date first.
"""

from datetime import date, time
from decimal import Decimal

import pytest

from planning.calendar import WorkingCalendar
from planning.roster import BoxClass, Contents
from planning.shipping import (
    Before,
    CrewOn,
    Fare,
    Parcel,
    Service,
    ServiceTerms,
    ShippingProblem,
    ShippingResult,
    Transit,
    plan_shipping,
    shipping_faults,
)
from tests.shipping.ways import OFFICE

MONDAY, TUESDAY, WEDNESDAY = date(2027, 4, 5), date(2027, 4, 6), date(2027, 4, 7)

# times, due dates, fewest late, least maximum lateness
JOBS = {
    # Heizer & Render, Operations Management (data from memory; optima by full enumeration)
    "architect": ((6, 2, 8, 3, 9), (8, 6, 18, 15, 23), 1, 5),
    # Pinedo, Scheduling, example 3.3.3 (from memory)
    "five jobs": ((7, 8, 4, 6, 6), (9, 17, 18, 19, 21), 2, 10),
    # Kleinberg & Tardos, slides on lateness (from memory)
    "six jobs": ((3, 2, 1, 4, 3, 2), (6, 8, 9, 9, 14, 15), 1, 1),
    # Nahmias, Production and Operations Analysis (from memory)
    "six more": ((10, 3, 4, 8, 10, 6), (15, 6, 9, 23, 20, 30), 2, 12),
    # ten jobs of a public corpus of mathematics
    "ten jobs": (
        (19, 23, 5, 31, 17, 8, 32, 41, 26, 18),
        (48, 75, 170, 215, 205, 240, 85, 67, 100, 95),
        2,
        59,
    ),
}


def at(minute: int) -> time:
    return time(8 + minute // 60, minute % 60)


def ship(times: tuple[int, ...], due: tuple[int, ...]) -> ShippingResult:
    services = tuple(
        ServiceTerms(
            service=Service(
                code=f"S{job}", carrier=f"C{job}", name=f"S{job}", collects=OFFICE, cut_off=at(day)
            ),
            transits=(Transit(service=f"S{job}", zone="Home", days=1),),
        )
        for job, day in enumerate(due)
    )
    parcels = tuple(
        Parcel(
            box_class=BoxClass(contents=Contents(tier=f"T{job}"), zones=((f"C{job}", "Home"),), boxes=1),
            minutes=Decimal(long),
            ready=MONDAY,
            fares=(Fare(service=f"S{job}", price=Decimal(1)),),
        )
        for job, long in enumerate(times)
    )
    total = sum(times)
    before = tuple(Before(at=at(day), minutes=min(day, total)) for day in sorted(set(due)))
    problem = ShippingProblem(
        parcels=parcels,
        services=services,
        crew=(CrewOn(day=MONDAY, minutes=total, before=before), CrewOn(day=TUESDAY, minutes=total)),
        carrier_calendar=WorkingCalendar(frozenset(OFFICE)),
        promised=TUESDAY,
    )
    result = plan_shipping(problem)
    assert shipping_faults(problem, result) == ()
    assert result.ended.startswith("proved")
    return result


@pytest.mark.parametrize("name", JOBS)
def test_fewest_jobs_are_late(name: str) -> None:
    times, due, fewest, _ = JOBS[name]
    assert sum(load.boxes for load in ship(times, due).late) == fewest


@pytest.mark.parametrize("name", JOBS)
def test_the_latest_job_is_as_little_late_as_by_earliest_due_date(name: str) -> None:
    times, due, _, most = JOBS[name]
    assert ship(times, tuple(day + most for day in due)).late == ()
    assert ship(times, tuple(day + most - 1 for day in due)).late != ()


def test_the_crew_is_short_where_cumulative_work_passes_cumulative_capacity() -> None:
    # loads 10 14 13 10 14 against 12 a day: 10 24 37 47 61 against 12 24 36 48 60, so 1 short at day 3 and 1 at day 5
    terms = ServiceTerms(
        service=Service(code="POST", carrier="Post", name="Post", collects=OFFICE),
        transits=tuple(Transit(service="POST", zone=f"Z{i}", days=4 - i) for i in range(5)),
    )
    problem = ShippingProblem(
        parcels=tuple(
            Parcel(
                box_class=BoxClass(contents=Contents(tier=f"D{i}"), zones=(("Post", f"Z{i}"),), boxes=count),
                minutes=Decimal(1),
                ready=MONDAY,
                fares=(Fare(service="POST", price=Decimal(1)),),
            )
            for i, count in enumerate((10, 14, 13, 10, 14))
        ),
        services=(terms,),
        crew=tuple(CrewOn(day=date(2027, 4, 5 + i), minutes=12) for i in range(5)),
        carrier_calendar=WorkingCalendar(frozenset(OFFICE)),
        promised=date(2027, 4, 9),
    )
    result = plan_shipping(problem)
    assert [(int(day.due), day.had, int(day.short)) for day in result.days] == [
        (10, 12, 0),
        (24, 24, 0),
        (37, 36, 1),
        (47, 48, 0),
        (61, 60, 1),
    ]
    # "1 h extra by day 3 cures both": here an hour of the crew on any day up to Wednesday
    (gain,) = result.gains
    assert (gain.fewer, gain.proved) == (1, True)
    assert gain.what == "If the crew had one hour more from Mon 5 Apr to Wed 7 Apr"
    assert [(one.cause, one.boxes) for one in result.blame] == [("crew", 1)]
