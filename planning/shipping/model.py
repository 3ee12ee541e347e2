"""The question and the answer of the shipping step."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from planning.calendar import WorkingCalendar
from planning.postage import in_force
from planning.roster import BoxClass
from planning.shipping.rows import Service, Transit


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
    box. refused: why no service takes it, in words.
    """

    box_class: BoxClass
    minutes: Decimal
    ready: date
    fares: tuple[Fare, ...]
    parcels: int = 1
    refused: str = ""

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
class CrewOn:
    """Packing minutes on one working day."""

    day: date
    minutes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ShippingProblem:
    """Parcels, services, and the days there are.

    crew: the working days from the first packing day on, as far as anyone may still pack. promised: the last day on which
    a box is in time; it may come earlier, and before the promised week.
    """

    parcels: tuple[Parcel, ...]
    services: tuple[ServiceTerms, ...]
    crew: tuple[CrewOn, ...]
    carrier_calendar: WorkingCalendar
    promised: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """Boxes of one class packed on a day for one service."""

    day: date
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
    """A day's work against the crew there is, in minutes."""

    day: date
    minutes: Decimal
    capacity: int
    boxes: int


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


@dataclass(frozen=True, slots=True, kw_only=True)
class ShippingResult:
    """Loads by day, the crew's days, and what cannot be sent.

    least_late: boxes that are late, or have no day for want of crew, in every schedule. least_postage: no schedule as
    punctual as this one costs less. ended: what is proved of it, in words.
    """

    loads: tuple[Load, ...]
    days: tuple[DayLoad, ...]
    unsendable: tuple[Unsendable, ...]
    least_late: int
    least_postage: Decimal
    ended: str

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
