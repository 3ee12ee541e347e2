"""The rule of the shipping step: backwards from the promise, cheapest service first.

Each class goes by its cheapest service that still keeps the promise, packed on the latest days that do. Where the crew is
full, the rest goes by the next dearer service that is in time; what fits nowhere is late and leaves as early as it can.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import zip_longest

from planning.calendar import DAY, CalendarError, Weekday, WorkingCalendar
from planning.roster import BoxClass
from planning.shipping.model import (
    DayLoad,
    Load,
    Parcel,
    ServiceTerms,
    ShippingProblem,
    ShippingResult,
    Unsendable,
)
from planning.shipping.rows import Service
from planning.shipping.weights import charged_weight

LONGEST_WAIT = 60  # days to look ahead for a collection

Options = dict[BoxClass, tuple["Option", ...]]


@dataclass(frozen=True, slots=True)
class Option:
    """One way to send a parcel: the service, its price, its working days to the door."""

    parcel: Parcel
    service: Service
    price: Decimal
    transit: int


class Search:
    """What changes while the schedule is filled: free minutes by day, boxes left by class, trips already worked out."""

    def __init__(self, problem: ShippingProblem, options: Options) -> None:
        self.problem = problem
        self.free = {crew.day: Decimal(crew.minutes) for crew in problem.crew}
        self.left = {box_class: box_class.boxes for box_class, ways in options.items() if ways}
        self._trips: dict[tuple[str, int, date], tuple[date, date]] = {}

    def trip(self, option: Option, day: date) -> tuple[date, date]:
        """Return collection and arrival of a box packed on a day: the first collection from then, and the transit."""
        key = option.service.code, option.transit, day
        if key not in self._trips:
            calendar = self.problem.carrier_calendar
            collected = next_collection(option.service, day, calendar)
            self._trips[key] = collected, calendar.after(collected, option.transit)
        return self._trips[key]

    def latest_day(self, option: Option) -> date | None:
        """Return the last day on which a box may be packed to arrive by the promise."""
        days = (crew.day for crew in reversed(self.problem.crew) if crew.day >= option.parcel.ready)
        return next((day for day in days if self.trip(option, day)[1] <= self.problem.promised), None)

    def load(self, day: date, option: Option) -> Iterator[Load]:
        """Load as many boxes of the option's class as the day still takes, once their goods are in the house."""
        box_class, minutes = option.parcel.box_class, option.parcel.minutes
        if day < option.parcel.ready:
            return
        boxes = (
            self.left[box_class]
            if minutes == 0
            else min(self.left[box_class], int(self.free[day] // minutes))
        )
        if boxes == 0:
            return
        self.left[box_class] -= boxes
        self.free[day] -= boxes * minutes
        collected, arrives = self.trip(option, day)
        yield Load(
            day=day,
            box_class=box_class,
            service=option.service,
            boxes=boxes,
            collected=collected,
            arrives=arrives,
            late=arrives > self.problem.promised,
            postage_each=option.price,
        )


def plan_shipping(problem: ShippingProblem) -> ShippingResult:
    """Give every box a day and a service; late ones and unsendable ones are told apart."""
    options = {parcel.box_class: options_for(parcel, problem) for parcel in problem.parcels}
    search = Search(problem, options)
    loads = [load for ways in passes_in_time(options, search) for load in fill_back(ways, search)]
    loads += [load for ways in options.values() if ways for load in send_late(ways, search)]
    unsendable = (refused(parcel, options, search) for parcel in problem.parcels)
    return ShippingResult(
        loads=tuple(sorted(loads, key=lambda load: (load.day, load.service.code, load.box_class.name))),
        days=day_loads(problem, loads),
        unsendable=tuple(one for one in unsendable if one is not None),
        ended=how_it_ended(loads, options, search),
    )


def options_for(parcel: Parcel, problem: ShippingProblem) -> tuple[Option, ...]:
    """Return the services that take a parcel, cheapest first, then the quicker."""
    options = (option_of(parcel, terms) for terms in problem.services)
    return tuple(
        sorted((one for one in options if one), key=lambda one: (one.price, one.transit, one.service.code))
    )


def option_of(parcel: Parcel, terms: ServiceTerms) -> Option | None:
    """Price one service for a parcel; None where it does not go, does not take the weight, or never collects."""
    service = terms.service
    zone = dict(parcel.box_class.zones).get(service.carrier)
    if zone is None or not service.collects:
        return None
    transit = terms.transit(zone)
    price = terms.postage(zone, charged_weight(service, parcel.weight, parcel.outside))
    too_heavy = service.max_weight is not None and parcel.weight > service.max_weight
    if transit is None or price is None or too_heavy:
        return None
    return Option(parcel, service, price, transit)


def next_collection(service: Service, day: date, calendar: WorkingCalendar) -> date:
    """Return the first day from `day` on which the carrier collects. Raises CalendarError if there is none.

    Collection days are the service's own, so a Saturday collection holds though parcels travel Monday to Friday.
    """
    for _ in range(LONGEST_WAIT):
        if Weekday.of(day) in service.collects and day not in calendar.days_off:
            return day
        day += DAY
    raise CalendarError(
        f"{service.name} collects on no day within {LONGEST_WAIT} days of {day - LONGEST_WAIT * DAY}"
    )


def passes_in_time(options: Options, search: Search) -> Iterator[list[tuple[date, Option]]]:
    """Yield pass after pass: each class's cheapest, second cheapest ... service that can be in time, with its last day."""
    ranked = [
        [(last, option) for option in ways if (last := search.latest_day(option)) is not None]
        for ways in options.values()
    ]
    for column in zip_longest(*ranked):
        yield [one for one in column if one is not None]


def fill_back(ways: list[tuple[date, Option]], search: Search) -> Iterator[Load]:
    """Fill the days from the last to the first with boxes that may be packed that late."""
    ways = sorted(
        ways, key=lambda way: (-way[0].toordinal(), way[1].service.code, way[1].parcel.box_class.name)
    )
    for crew in reversed(search.problem.crew):
        for last, option in ways:
            if crew.day <= last:
                yield from search.load(crew.day, option)


def send_late(ways: Sequence[Option], search: Search) -> Iterator[Load]:
    """Send what is left of a class as early as the crew can, by whatever arrives first."""
    box_class = ways[0].parcel.box_class
    for crew in search.problem.crew:
        if search.left[box_class] == 0:
            return
        yield from search.load(
            crew.day, min(ways, key=lambda one: (search.trip(one, crew.day)[1], one.price))
        )


def refused(parcel: Parcel, options: Options, search: Search) -> Unsendable | None:
    """Say why boxes of a class have no day or no service, None when all have."""
    box_class = parcel.box_class
    if not options[box_class]:
        why = f"no service takes {float(parcel.weight):,.0f} g to {box_class.destination}"
        return Unsendable(box_class=box_class, boxes=box_class.boxes, why=why)
    if search.left[box_class] == 0:
        return None
    days = search.problem.crew
    why = (
        f"the crew is full on every day to {days[-1].day:%-d %b %Y}"
        if days
        else "no crew is at work on any day"
    )
    return Unsendable(box_class=box_class, boxes=search.left[box_class], why=why)


def day_loads(problem: ShippingProblem, loads: Sequence[Load]) -> tuple[DayLoad, ...]:
    """Set each day's work beside the crew's minutes; days after the last load are left out."""
    minutes_each = {parcel.box_class: parcel.minutes for parcel in problem.parcels}
    minutes = {crew.day: Decimal(0) for crew in problem.crew}
    boxes = dict.fromkeys(minutes, 0)
    for load in loads:
        minutes[load.day] += minutes_each[load.box_class] * load.boxes
        boxes[load.day] += load.boxes
    last = max((load.day for load in loads), default=date.min)
    return tuple(
        DayLoad(day=crew.day, minutes=minutes[crew.day], capacity=crew.minutes, boxes=boxes[crew.day])
        for crew in problem.crew
        if crew.day <= last
    )


def how_it_ended(loads: Sequence[Load], options: Options, search: Search) -> str:
    """Say what is proved of the schedule.

    Boxes of a class that no service can bring in time, however the crew is used, are late in every schedule: that is
    the bound the late boxes are held against.
    """
    late = sum(load.boxes for load in loads if load.late)
    if late:
        hopeless = sum(
            one.boxes for one, ways in options.items() if ways and not any(map(search.latest_day, ways))
        )
        if late == hopeless:
            return "proved: no schedule has fewer late boxes, since no service can bring these in time"
        bound = f"at least {hopeless:,} of the {late:,} late boxes are late in any schedule"
        return f"filled backwards from the promise; {bound}"
    cheapest = {box_class: ways[0].price for box_class, ways in options.items() if ways}
    if all(load.postage_each == cheapest[load.box_class] for load in loads):
        return "proved: every box in time, each by the cheapest service that takes it"
    return "every box in time; not proved that no other schedule costs less postage"
