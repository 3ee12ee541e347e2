"""The shipping step's question: parcels, services, and the crew's days."""

from collections import defaultdict
from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from planning.buying import BuyingResult
from planning.calendar import DAY
from planning.cutting import CuttingResult
from planning.month import Month
from planning.packing import BoxSpec, PackingResult
from planning.postage import PostageResult
from planning.problems.postage import Fares
from planning.problems.working_days import (
    carrier_calendar,
    club_calendar,
    crew_on,
    delivery_calendar,
    promised_day,
)
from planning.requirements import Kind, item
from planning.roster import BoxClass, RosterResult
from planning.shipping import CrewOn, Destination, Parcel, ServiceTerms, ShippingProblem, Transit

LAST_RESORT = 400  # days after the promise beyond which a box is called unsendable rather than late


def shipping_problem(
    month: Month,
    roster: RosterResult,
    cutting: CuttingResult,
    buying: BuyingResult,
    packing: PackingResult,
    postage: PostageResult,
) -> ShippingProblem:
    """Ask for a day and a service for every class of boxes."""
    late, fares = late_items(month, cutting, buying), Fares(postage)
    parcels = tuple(parcel(one, packing.of(one.contents), fares, late, month) for one in roster.classes)
    all_ready = max((one.ready for one in parcels), default=month.club.packing_starts)
    return ShippingProblem(
        parcels=parcels,
        services=tuple(services_of(month)),
        crew=tuple(crew_days(month, packing.minutes, all_ready)),
        carrier_calendar=carrier_calendar(month),
        promised=promised_day(month),
        destinations=tuple(
            Destination(region=region, calendar=delivery_calendar(month, region))
            for region in sorted({one.region for one in roster.classes if one.region})
        ),
        overtime_cost=month.club.overtime_cost_per_hour,
        together=month.club.arrive_together,
    )


def parcel(box_class: BoxClass, spec: BoxSpec, fares: Fares, late: dict[str, date], month: Month) -> Parcel:
    """Return the boxes of one class as the carrier and the bench see them.

    All of a class wait for the last thing that goes into any of them: which boxes the shelf should fill first, where it
    is short, is the club's to say.
    """
    return Parcel(
        box_class=box_class,
        fares=fares.of(box_class, spec),
        refused=fares.refusal(box_class, spec),
        parcels=len(spec.parcels),
        minutes=spec.minutes,
        region=box_class.region,
        promised=promised_day(month, box_class.region) if box_class.region else None,
        ready=max((late[name] for name in spec.held if name in late), default=month.club.packing_starts),
    )


def late_items(month: Month, cutting: CuttingResult, buying: BuyingResult) -> dict[str, date]:
    """Return the day from which late goods, and pieces cut from late sheets, can be packed."""
    calendar, club = club_calendar(month), month.club
    arrives = {
        line.need.material: calendar.on_or_after(line.late_day) for line in buying.late if line.late_day
    }
    days = {
        item(Kind.MATERIAL, code): calendar.after(day, club.goods_in_days) for code, day in arrives.items()
    }
    wait = club.goods_in_days + club.cutting_days
    for name, sources in cutting.sources.items():
        if late := [arrives[source] for source in sources if source in arrives]:
            days[name] = calendar.after(max(late), wait)
    return {name: day for name, day in days.items() if day > club.packing_starts}


def crew_days(month: Month, minutes: Decimal, all_ready: date) -> Iterator[CrewOn]:
    """Yield the crew's days from the first packing day on, until all work fits twice into those after `all_ready`.

    The slack lets boxes that miss the promise find a late day; a day's odd minutes are too few for another box.
    """
    day, promised, left = month.club.packing_starts, promised_day(month), 2 * minutes
    last = max(promised, all_ready) + LAST_RESORT * DAY
    while day <= promised or (left > 0 and day <= last):
        crew = crew_on(month, day)
        if crew.most:
            left -= crew.minutes if day >= all_ready else 0
            yield crew
        day += DAY


def services_of(month: Month) -> Iterator[ServiceTerms]:
    """Yield each service with its transit days."""
    transits: defaultdict[str, list[Transit]] = defaultdict(list)
    for transit in month.transits:
        transits[transit.service].append(transit)
    for service in month.services:
        yield ServiceTerms(service=service, transits=tuple(transits[service.code]))
