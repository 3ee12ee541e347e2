"""What keeps boxes from being in time, and what one more hour or day would buy.

Each gain is the difference to a schedule sought anew with that hour or day, never a guess from prices.
"""

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal

from planning.calendar import DAY
from planning.roster import BoxClass
from planning.shipping.answer import Sought
from planning.shipping.grid import AIMS
from planning.shipping.model import Blame, Cause, CrewOn, Gain, Parcel, ShippingProblem, ShippingResult
from planning.shipping.trips import Trip, best_trip, journeys, options_for

Seek = Callable[[ShippingProblem], Sought]

HOUR = 60
SMALL = 20_000  # places of boxes up to which a month is sought anew for all days and for cents
WORDS = {
    Cause.CREW: "the crew has too few minutes by the days they should be packed",
    Cause.PAPER: "their goods come too late, however large the crew",
    Cause.CARRIER: "no service is quick enough, were they packed on the first day",
}


def blamed(problem: ShippingProblem, result: ShippingResult) -> tuple[Blame, ...]:
    """Return the boxes that are late or have no day, by what keeps them."""
    boxes: Counter[Cause] = Counter()
    for parcel, count in late_boxes(problem, result):
        boxes[cause_of(parcel, problem, result.together)] += count
    return tuple(
        Blame(cause=cause, boxes=boxes[cause], words=WORDS[cause]) for cause in Cause if boxes[cause]
    )


def late_boxes(problem: ShippingProblem, result: ShippingResult) -> Iterator[tuple[Parcel, int]]:
    """Yield the classes of which boxes are late, or have no day though a service takes them."""
    parcels = {one.box_class: one for one in problem.parcels}
    late: Counter[BoxClass] = Counter()
    for load in result.late:
        late[load.box_class] += load.boxes
    for one in result.unsendable:
        late[one.box_class] += one.boxes
    for box_class, boxes in late.items():
        if problem.crew and options_for(parcels[box_class], problem):
            yield parcels[box_class], boxes


def cause_of(parcel: Parcel, problem: ShippingProblem, on: date | None) -> Cause:
    """Return what keeps a class from being in time, the carriers before its goods, these before the crew."""
    first = problem.crew[0].day
    if is_late(packed_on(parcel, min(first, parcel.ready), problem, on)):
        return Cause.CARRIER
    return Cause.PAPER if is_late(packed_on(parcel, max(first, parcel.ready), problem, on)) else Cause.CREW


def packed_on(parcel: Parcel, day: date, problem: ShippingProblem, on: date | None) -> Trip | None:
    """Return the best trip of a box that is packed first thing on a day."""
    starts = iter([(option, day) for option in options_for(parcel, problem)])
    return best_trip(parcel, starts, on or problem.due(parcel), journeys(problem), on)


def is_late(trip: Trip | None) -> bool:
    """Tell whether a box does not come in time."""
    return trip is None or trip.days_late > 0


# --- What an hour or a day buys ---


def gains(problem: ShippingProblem, sought: Sought, result: ShippingResult, seek: Seek) -> Iterator[Gain]:
    """Yield what an hour of crew, a day of goods and a day of carriers would each buy, where anything is left to buy."""
    floor = tuple(sought.grid.floor(aim) for aim in AIMS)
    if sought.grid.total(sought.found.filling) == floor and not result.late:
        return
    if is_large(problem, sought) and not result.blame:
        return  # cents alone are not worth seeking a large month anew
    causes = {one.cause for one in result.blame}
    yield from hours(problem, sought, seek)
    if Cause.PAPER in causes:
        yield from goods_days(problem, sought, result, seek)
    if Cause.CARRIER in causes:
        yield gain(Cause.CARRIER, "If boxes had one day more to arrive", sought, seek(a_day_later(problem)))


def a_day_later(problem: ShippingProblem) -> ShippingProblem:
    """Return the problem with a working day more until the promise."""
    calendars = {one.region: one.calendar for one in problem.destinations}

    def later(day: date, region: str) -> date:
        return calendars.get(region, problem.carrier_calendar).after(day, 1)

    parcels = tuple(replace(one, promised=later(problem.due(one), one.region)) for one in problem.parcels)
    return replace(problem, promised=later(problem.promised, ""), parcels=parcels)


def hours(problem: ShippingProblem, sought: Sought, seek: Seek) -> Iterator[Gain]:
    """Yield what an hour more of the crew buys for goods of each day they come, and by when it must be.

    An hour on the first day on which goods are there serves all boxes that one on any later day would.
    """
    days = [crew.day for crew in problem.crew]
    begins = {next((day for day in days if day >= one.ready), None) for one in problem.parcels}
    for begin in sorted(filter(None, begins))[: 1 if is_large(problem, sought) else None]:
        best = seek(with_hour(problem, begin))
        if best.cost >= sought.cost:
            continue
        last = last_as_good(problem, sought, best, seek, [day for day in days if day >= begin])
        by = f"on {begin:%a %-d %b}" if last == begin else f"from {begin:%a %-d %b} to {last:%a %-d %b}"
        yield gain(Cause.CREW, f"If the crew had one hour more {by}", sought, best)


def is_large(problem: ShippingProblem, sought: Sought) -> bool:
    """Tell whether a month is too large to be sought anew more often than need be."""
    return len(problem.parcels) * len(sought.columns) > SMALL


def last_as_good(
    problem: ShippingProblem, sought: Sought, best: Sought, seek: Seek, days: list[date]
) -> date:
    """Return the last of the days, each after the other, on which an hour buys as much as on the first."""
    low, high = 0, 1 if is_large(problem, sought) else len(days)
    while high - low > 1:
        middle = (low + high) // 2
        as_good = seek(with_hour(problem, days[middle])).cost == best.cost
        low, high = (middle, high) if as_good else (low, middle)
    return days[low]


def with_hour(problem: ShippingProblem, day: date) -> ShippingProblem:
    """Return the problem with an hour more of the crew on a day, before all cut-offs."""
    return replace(problem, crew=tuple(longer(one) if one.day == day else one for one in problem.crew))


def longer(crew: CrewOn) -> CrewOn:
    """Return a day with an hour more."""
    before = tuple(replace(one, minutes=one.minutes + HOUR) for one in crew.before)
    return replace(crew, minutes=crew.minutes + HOUR, before=before)


def goods_days(
    problem: ShippingProblem, sought: Sought, result: ShippingResult, seek: Seek
) -> Iterator[Gain]:
    """Yield what it would buy if goods came a working day earlier, for each day on which late boxes' goods come."""
    waits = {
        parcel.ready
        for parcel, _ in late_boxes(problem, result)
        if cause_of(parcel, problem, result.together) is Cause.PAPER
    }
    for day in sorted(waits):
        earlier = max((crew.day for crew in problem.crew if crew.day < day), default=day - DAY)
        parcels = tuple(replace(one, ready=earlier) if one.ready == day else one for one in problem.parcels)
        what = f"If what is there on {day:%a %-d %b} were there on {earlier:%a %-d %b}"
        yield gain(Cause.PAPER, what, sought, seek(replace(problem, parcels=parcels)))


def gain(cause: Cause, what: str, sought: Sought, other: Sought) -> Gain:
    """Return the difference another schedule makes."""
    (missed, days, money), (less_missed, less_days, less_money) = sought.cost, other.cost
    saves = money - less_money
    return Gain(
        cause=cause,
        what=what,
        fewer=missed - less_missed,
        days=days - less_days,
        saves=Decimal(saves.numerator) / Decimal(saves.denominator),
        proved=sought.is_best and other.is_best,
    )
