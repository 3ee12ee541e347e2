"""Schedules of 2,000 classes over 30 days, with and without time enough, and what is proved of them."""

from collections.abc import Iterator
from datetime import date, time
from decimal import Decimal
from itertools import islice
from random import Random
from time import process_time

from planning.bench.row import Row
from planning.calendar import Weekday, WorkingCalendar
from planning.roster import BoxClass, Contents
from planning.shipping import (
    Before,
    CrewOn,
    Fare,
    Parcel,
    Service,
    ServiceTerms,
    ShippingProblem,
    Transit,
    plan_shipping,
    shipping_faults,
)

CLASSES, DAYS, MOST_SECONDS = 2_000, 30, 5
OFFICE = tuple(Weekday)[:5]
ZONES = tuple(f"Z{number}" for number in range(12))
SERVICES = 5
LATER = 40  # days after the last on which late boxes may be packed
D = Decimal


def schedule_rows() -> Iterator[Row]:
    """Yield a row for each month, with the processor's seconds its schedule took."""
    for name, load, cut_offs in (
        ("a crew with time", D("0.8"), False),
        ("some days full", D("0.95"), False),
        ("overtime needed", D("1.05"), False),
        ("overtime and cut-offs", D("1.05"), True),
        ("crew and overtime too short", D("1.3"), False),
    ):
        for seed in (1, 2):
            yield row(f"{name}, {seed}", month(seed, load, cut_offs=cut_offs))


def row(name: str, problem: ShippingProblem) -> Row:
    """Return what came of a month."""
    begun = process_time()
    result = plan_shipping(problem)
    seconds = process_time() - begun
    paid = result.postage + D(result.overtime_paid.numerator) / D(result.overtime_paid.denominator)
    faults = shipping_faults(problem, result)
    reached = "reached" if seconds <= MOST_SECONDS and result.ended.startswith("proved") else "MISSED"
    late = sum(load.boxes for load in result.late)
    told = f"{len(faults)} faults; {late:,} late, at least {result.least_late:,}; proved in {MOST_SECONDS} s: {reached}"
    return Row(name, None, round(paid, 2), round(result.least_cost, 2), f"{told}; {result.ended}", seconds)


def month(seed: int, load: Decimal, *, cut_offs: bool) -> ShippingProblem:
    """Return a month whose work is so much of what the crew has of its own on its thirty days."""
    draw = Random(seed)  # noqa: S311 - a case, not a secret
    calendar = WorkingCalendar(frozenset(OFFICE))
    days = list(islice(calendar.days(date(2027, 4, 5), date(2027, 8, 5)), DAYS + LATER))
    services = tuple(service(number, draw, cut_offs=cut_offs) for number in range(SERVICES))
    base = {(one, zone): draw.randint(300, 600) + 150 * one for one in range(SERVICES) for zone in ZONES}
    parcels = tuple(parcel(number, draw, base, days) for number in range(CLASSES))
    work = sum((one.minutes * one.box_class.boxes for one in parcels), D(0))
    crew = tuple(
        crew_on(day, int(work / load / DAYS), draw, more=place < DAYS, cut_offs=cut_offs)
        for place, day in enumerate(days)
    )
    return ShippingProblem(
        parcels=parcels,
        services=services,
        crew=crew,
        carrier_calendar=calendar,
        promised=calendar.after(days[DAYS - 1], 3),
        overtime_cost=D("26.10"),
    )


def service(number: int, draw: Random, *, cut_offs: bool) -> ServiceTerms:
    """Return a service: the first are slow and cheap."""
    collects = tuple(day for day in OFFICE if draw.random() < 0.7) or OFFICE[2:3]
    code = f"S{number}"
    at = time(14) if cut_offs and number % 2 else None
    slow = SERVICES - number
    return ServiceTerms(
        service=Service(code=code, carrier="Post", name=code, collects=collects, cut_off=at),
        transits=tuple(
            Transit(service=code, zone=zone, days=draw.randint(1, 4) + slow * draw.randint(1, 2))
            for zone in ZONES
        ),
    )


def parcel(number: int, draw: Random, base: dict[tuple[int, str], int], days: list[date]) -> Parcel:
    """Return a class of up to a hundred boxes."""
    zone, heavy = draw.choice(ZONES), draw.randint(0, 3)
    return Parcel(
        box_class=BoxClass(
            contents=Contents(tier=f"T{number}"), zones=(("Post", zone),), boxes=draw.randint(1, 100)
        ),
        minutes=D("1.8") + D("0.12") * draw.randint(5, 40),
        ready=days[draw.choice((0, 0, 0, 0, 3, 7, 12))],
        fares=tuple(
            Fare(service=f"S{one}", price=D(base[one, zone] + heavy * (60 + 10 * one)) / 100)
            for one in range(SERVICES)
        ),
    )


def crew_on(day: date, minutes: int, draw: Random, *, more: bool, cut_offs: bool) -> CrewOn:
    """Return a day's crew; more: overtime is allowed."""
    minutes += draw.randint(-minutes // 10, minutes // 10)
    before = (Before(at=time(14), minutes=minutes * 3 // 4),) if cut_offs else ()
    return CrewOn(day=day, minutes=minutes, overtime=minutes // 5 if more else 0, before=before)
