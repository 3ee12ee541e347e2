"""The question and the answer of the shipping step."""

from collections import Counter
from collections.abc import Hashable, Iterable
from dataclasses import dataclass
from datetime import date, time
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from itertools import pairwise

from planning.calendar import WorkingCalendar
from planning.postage import in_force
from planning.roster import BoxClass
from planning.shipping.rows import Service, Transit


class ShippingError(ValueError):
    """A question that cannot be asked; the message says where it is wrong and what to write."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fare:
    """What a service asks for all parcels of one box, collected from the first to the last day; None is without end."""

    service: str
    price: Decimal
    first: date | None = None
    last: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Parcel:
    """Boxes of one class.

    minutes: to pack one. ready: first day on which everything that goes into all of them is in the house; none is packed
    before, even where the shelf would fill a few. fares: of the services that take all parcels of a box. parcels: of one
    box. refused: why no service takes it, in words. region: whose working days count on its way, "" the carriers' own.
    promised: the last day on which it is in time, where that is another than the month's.
    """

    box_class: BoxClass
    minutes: Decimal
    ready: date
    fares: tuple[Fare, ...]
    parcels: int = 1
    refused: str = ""
    region: str = ""
    promised: date | None = None

    def __post_init__(self) -> None:
        name = self.box_class.name
        if self.box_class.boxes < 0:
            raise ShippingError(f"{name}: {self.box_class.boxes} boxes; write 0 or more")
        if self.minutes < 0:
            raise ShippingError(f"{name}: packing takes {self.minutes} minutes; write 0 or more")

    def fare(self, service: str, day: date) -> Decimal | None:
        """Return what a service asks for a box collected on a day, None where it does not take it then."""
        return next(
            (
                one.price
                for one in self.fares
                if one.service == service and in_force(day, one.first, one.last)
            ),
            None,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class ServiceTerms:
    """A service with its transit days."""

    service: Service
    transits: tuple[Transit, ...]

    def transit(self, zone: str) -> int | None:
        """Working days to a zone, None where the service does not go."""
        return next((one.days for one in self.transits if one.zone == zone), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Before:
    """Minutes of a day's crew that lie before a cut-off, overtime included where it does too."""

    at: time
    minutes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewOn:
    """Packing minutes on one working day.

    overtime: minutes that may be worked after them, at a price. before: the minutes before each cut-off; a cut-off that is
    not among them comes after all work of the day.
    """

    day: date
    minutes: int
    overtime: int = 0
    before: tuple[Before, ...] = ()

    def __post_init__(self) -> None:
        if min(self.minutes, self.overtime, *(one.minutes for one in self.before), 0) < 0:
            raise ShippingError(f"the crew on {self.day} has less than no minutes; write 0 or more")
        twice("crew", f"cut-off on {self.day}", (one.at for one in self.before))
        rising = sorted(self.before, key=lambda one: one.at)
        if any(one.minutes > two.minutes for one, two in pairwise(rising)):
            raise ShippingError(
                f"the crew on {self.day} has fewer minutes by a later cut-off than by an earlier one"
            )

    @property
    def most(self) -> int:
        """All minutes there may be, overtime included."""
        return self.minutes + self.overtime


@dataclass(frozen=True, slots=True, kw_only=True)
class Destination:
    """The working days of a region: days on which parcels move and arrive there."""

    region: str
    calendar: WorkingCalendar


@dataclass(frozen=True, slots=True, kw_only=True)
class ShippingProblem:
    """Parcels, services, and the days there are.

    crew: the working days from the first packing day on, as far as anyone may still pack. promised: the last day on which
    a box is in time; it may come earlier, and before the promised week. carrier_calendar: days on which parcels are
    collected, and on which they move to regions that are not among the destinations. overtime_cost: of an hour, all in
    all. together: boxes are in time only if all arrive on one day, whichever suits them best.
    """

    parcels: tuple[Parcel, ...]
    services: tuple[ServiceTerms, ...]
    crew: tuple[CrewOn, ...]
    carrier_calendar: WorkingCalendar
    promised: date
    destinations: tuple[Destination, ...] = ()
    overtime_cost: Decimal = Decimal(0)
    together: bool = False

    def __post_init__(self) -> None:
        if self.overtime_cost < 0:
            raise ShippingError(f"an hour of overtime costs {self.overtime_cost}; write 0 or more")
        twice("crew", "day", (one.day for one in self.crew))
        twice("services", "code", (one.service.code for one in self.services))
        twice("parcels", "class of boxes", (one.box_class for one in self.parcels))
        twice("destinations", "region", (one.region for one in self.destinations))

    def due(self, parcel: Parcel) -> date:
        """Return the last day on which a class is in time."""
        return parcel.promised or self.promised


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """Boxes of one class packed on a day for one service. by: the cut-off they are packed before, None: by the day's end."""

    day: date
    by: time | None = None
    box_class: BoxClass
    service: Service
    boxes: int
    collected: date
    arrives: date
    late: bool
    postage_each: Decimal

    @property
    def postage(self) -> Decimal:
        """Postage of the load."""
        return self.postage_each * self.boxes


@dataclass(frozen=True, slots=True, kw_only=True)
class DayLoad:
    """A day's work against the crew there is, in minutes.

    limit: overtime there may be at most. due: work in all that can be in time only if it is done by this day; had: what
    the crew has by then, overtime left out.
    """

    day: date
    minutes: Decimal
    capacity: int
    boxes: int
    limit: int = 0
    due: Decimal = Decimal(0)
    had: int = 0

    @property
    def overtime(self) -> Decimal:
        """Minutes of work beyond the crew's own."""
        return max(self.minutes - self.capacity, Decimal(0))

    @property
    def short(self) -> Decimal:
        """Minutes by which the crew is short of what must be done by this day."""
        return max(self.due - self.had, Decimal(0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Unsendable:
    """Boxes no service takes, and why."""

    box_class: BoxClass
    boxes: int
    why: str

    @property
    def words(self) -> str:
        """Why they are not sent, and what that does to the cost, which counts how long they take to pack."""
        return f"{self.why}; the cost leaves out the postage"


class Cause(StrEnum):
    """What keeps boxes from being in time."""

    CREW = "crew"
    PAPER = "paper"
    CARRIER = "carrier"


@dataclass(frozen=True, slots=True, kw_only=True)
class Blame:
    """Boxes that are late for one cause.

    carrier: no service is quick enough, had they been packed on the first day. paper: goods come too late, however large
    the crew. crew: with crew enough each of them could be in time.
    """

    cause: Cause
    boxes: int
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Gain:
    """What one more hour or day buys, from a schedule that was sought with it.

    fewer: boxes less that are late. days: of lateness less; saves: money less (less than nothing where more boxes in time
    cost more). proved: both schedules are the best there are.
    """

    cause: Cause
    what: str
    fewer: int
    days: int
    saves: Decimal
    proved: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ShippingResult:
    """Loads by day, the crew's days, and what cannot be sent.

    least_late: boxes that are late, or have no day for want of crew, in every schedule. least_cost: no schedule as
    punctual as this one costs less in postage and overtime. overtime_cost: of an hour. together: the day on which boxes
    that are in time arrive, where they are to arrive together. blame, gains: where boxes are late, or an hour would save
    money. ended: what is proved of it, in words.
    """

    loads: tuple[Load, ...]
    days: tuple[DayLoad, ...]
    unsendable: tuple[Unsendable, ...]
    least_late: int
    least_cost: Decimal
    ended: str
    overtime_cost: Decimal = Decimal(0)
    together: date | None = None
    blame: tuple[Blame, ...] = ()
    gains: tuple[Gain, ...] = ()

    @property
    def late(self) -> tuple[Load, ...]:
        """Loads that miss the promise."""
        return tuple(load for load in self.loads if load.late)

    def arriving_before(self, day: date) -> int:
        """Count the boxes that arrive before a day."""
        return sum(load.boxes for load in self.loads if load.arrives < day)

    @property
    def postage(self) -> Decimal:
        """Postage of the month; boxes that are not sent pay none."""
        return sum((load.postage for load in self.loads), Decimal(0))

    @property
    def overtime(self) -> Decimal:
        """Minutes beyond the crew's own."""
        return sum((one.overtime for one in self.days), Decimal(0))

    @property
    def overtime_paid(self) -> Fraction:
        """What the overtime costs, exact and not yet rounded."""
        return Fraction(self.overtime * self.overtime_cost) / 60

    @property
    def boxes(self) -> int:
        """Boxes with a day and a service."""
        return sum(load.boxes for load in self.loads)


@dataclass(frozen=True, slots=True, kw_only=True)
class WavePart:
    """Boxes of one class in a wave. first: how many boxes of the class stand in earlier waves."""

    box_class: BoxClass
    boxes: int
    first: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Wave:
    """Boxes packed together: one day, one service, alike contents side by side."""

    number: int
    day: date
    service: Service
    collected: date
    parts: tuple[WavePart, ...]

    @property
    def boxes(self) -> int:
        """Boxes in the wave."""
        return sum(part.boxes for part in self.parts)


def twice(where: str, what: str, keys: Iterable[Hashable]) -> None:
    """Refuse rows of which two say the same."""
    if again := [key for key, count in Counter(keys).items() if count > 1]:
        named = getattr(again[0], "name", again[0])
        raise ShippingError(f"{where}: the {what} {named} is there more than once; keep one")
