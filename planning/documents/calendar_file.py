"""The month's days as a calendar file: when to order, when goods must be in, when to pack, what is collected.

iCalendar as in RFC 5545. Every event lasts whole days, so it is the same day in every time zone, and its end
is the day after its last one (section 3.6.1). An event keeps its UID from version to version of the plan and
counts up its SEQUENCE, so a calendar that reads the file again changes its events instead of doubling them.
"""

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from uuid import NAMESPACE_OID, uuid5

from planning.buying import BuyLine, Need, SupplierOrder
from planning.calendar import DAY, Weekday
from planning.documents.codes import order_number
from planning.documents.pdf.words import count
from planning.documents.pdf.words import day as day_words
from planning.documents.stamp import Stamp
from planning.flow import MonthPlan
from planning.month import Month
from planning.problems import promised_day
from planning.shipping import DayLoad, Load

FOLD = 75  # octets in a line without its end, RFC 5545 section 3.1
MAKER = "-//Kit production planning//Calendar of a month//EN"


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """Something on one day or several. key: what it is in the month, whatever its day; last: its last day."""

    key: str
    kind: str
    title: str
    words: str
    first: date
    last: date

    def __post_init__(self) -> None:
        if self.last < self.first:
            raise ValueError(f"{self.title} ends on {self.last}, before it begins on {self.first}")


def shipping_calendar(month: Month, plan: MonthPlan, stamp: Stamp) -> bytes:
    """Return the month's calendar file."""
    title = f"{month.club.name}, {month.club.month.title}: {month.club.kit_name}"
    scope = f"{month.club.code}/{month.club.month}"
    return calendar_file(title, scope, month_events(month, plan), stamp)


# --- What is in the month ---


def month_events(month: Month, plan: MonthPlan) -> tuple[Event, ...]:
    """Return every event of the month by day."""
    events = (
        *order_events(month, plan),
        *goods_in_events(plan),
        *packing_events(plan),
        *collection_events(plan),
        promise_event(month, plan),
    )
    return tuple(sorted(events, key=lambda event: (event.first, event.key)))


def order_events(month: Month, plan: MonthPlan) -> Iterator[Event]:
    """Yield the day each order must go out; one that should be out already stands on the day of the plan."""
    for place, order in enumerate(plan.buying.orders, 1):
        number = order_number(month.club.code, month.club.month, place)
        day = max(order.order_by, month.club.planned_on)
        late = f" - LATE, was due by {day_words(order.order_by)}" if order.order_by < day else ""
        yield Event(
            key=f"order/{order.supplier.code}",
            kind="Order",
            title=f"Order {number} from {order.supplier.name}{late}",
            words=order_words(order, month.club.currency),
            first=day,
            last=day,
        )


def order_words(order: SupplierOrder, currency: str) -> str:
    """List what is ordered."""
    lines = [goods(line.quantity, line.need) for line in order.lines]
    return "\n".join([*lines, f"Total {order.total:,} {currency}"])


def goods_in_events(plan: MonthPlan) -> Iterator[Event]:
    """Yield the days by which materials must be in the house."""
    needed: defaultdict[date, list[str]] = defaultdict(list)
    for line in plan.buying.lines:
        if line.need.total and (line.net or line.on_order):
            needed[line.need.need_by].append(coming(line))
    for day, lines in needed.items():
        title = f"Last day for goods in: {count(len(lines), 'material')}"
        yield Event(
            key=f"goods/{day}", kind="Goods in", title=title, words="\n".join(lines), first=day, last=day
        )


def coming(line: BuyLine) -> str:
    """Say how much of a material must come, and what is wrong with it."""
    words = goods(line.on_order + line.quantity, line.need)
    if line.short:
        return f"{words}; {line.short:,} SHORT: {line.reason}"
    if line.late_day:
        return f"{words}; LATE, arrives {day_words(line.late_day)}"
    return words


def goods(quantity: int, need: Need) -> str:
    """Return a quantity of a material: `25 sheets Grey card`, `200 x Brass brad`."""
    return (
        f"{quantity:,} x {need.name}" if need.unit == "each" else f"{count(quantity, need.unit)} {need.name}"
    )


def packing_events(plan: MonthPlan) -> Iterator[Event]:
    """Yield each packing day with its boxes and minutes."""
    waves = Counter(wave.day for wave in plan.waves)
    for one in plan.shipping.days:
        if one.boxes:
            yield Event(
                key=f"pack/{one.day}",
                kind="Packing",
                title=f"Pack {count(one.boxes, 'box', 'boxes')}",
                words=f"{minutes_words(one)}, {count(waves[one.day], 'wave')}",
                first=one.day,
                last=one.day,
            )


def minutes_words(one: DayLoad) -> str:
    """Say how full a day is, and how much of it is overtime."""
    beyond = f", {one.overtime:,} of them OVERTIME" if one.overtime else ""
    return f"{one.minutes:,} of {one.capacity:,} crew minutes{beyond}"


def collection_events(plan: MonthPlan) -> Iterator[Event]:
    """Yield what each service collects, day by day."""
    loads: defaultdict[tuple[date, str], list[Load]] = defaultdict(list)
    for load in plan.shipping.loads:
        loads[load.collected, load.service.code].append(load)
    for (day, code), together in loads.items():
        boxes = count(sum(load.boxes for load in together), "box", "boxes")
        yield Event(
            key=f"collection/{day}/{code}",
            kind="Collection",
            title=f"{together[0].service.name} collects {boxes}{cut_off(together[0])}",
            words="\n".join(arrivals(together)),
            first=day,
            last=day,
        )


def cut_off(load: Load) -> str:
    """Say until when boxes of the day it is collected may be packed."""
    at = load.service.cut_off
    return f", packed by {at:%H:%M}" if at else ""


def arrivals(loads: Iterable[Load]) -> Iterator[str]:
    """Say when the boxes of a collection arrive."""
    boxes: Counter[tuple[date, bool]] = Counter()
    for load in loads:
        boxes[load.arrives, load.late] += load.boxes
    for (day, late), number in sorted(boxes.items()):
        yield f"{count(number, 'box', 'boxes')} to arrive {day_words(day)}{', LATE' if late else ''}"


def promise_event(month: Month, plan: MonthPlan) -> Event:
    """Return the promised week, up to the last day on which a box is in time."""
    last = promised_day(month)
    late = sum(load.boxes for load in plan.shipping.late)
    kept = sum(one.boxes for one in plan.shipping.unsendable)
    missing = [f"{count(late, 'box', 'boxes')} LATE"] if late else []
    missing += [f"{count(kept, 'box', 'boxes')} NOT SENT"] if kept else []
    return Event(
        key="promise",
        kind="Promise",
        title=f"Promised week: every box arrives by {day_words(last)}",
        words=", ".join(missing) or "every box in time",
        first=min(last, month.club.promised.day(Weekday.MON)),
        last=last,
    )


# --- How it is written down ---


def calendar_file(title: str, scope: str, events: Iterable[Event], stamp: Stamp) -> bytes:
    """Write events down. scope: what their keys are unique in. The bytes depend on nothing else."""
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        f"PRODID:{MAKER}",
        f"NAME:{escaped(title)}",  # RFC 7986; the line after it is what older programs read
        f"X-WR-CALNAME:{escaped(title)}",
        f"DESCRIPTION:{escaped(stamp.text)}",
        *(line for event in events for line in event_lines(event, scope, stamp)),
        "END:VCALENDAR",
    ]
    return "".join(f"{folded(line)}\r\n" for line in lines).encode()


def event_lines(event: Event, scope: str, stamp: Stamp) -> Iterator[str]:
    """Yield an event's lines, not yet folded."""
    words = "\n".join(line for line in (event.words, stamp.text) if line)
    yield "BEGIN:VEVENT"
    yield f"UID:{uuid5(NAMESPACE_OID, f'{scope}/{event.key}')}"
    yield f"DTSTAMP:{stamp.made_at:%Y%m%dT%H%M%SZ}"
    yield f"SEQUENCE:{stamp.version}"
    yield f"DTSTART;VALUE=DATE:{event.first:%Y%m%d}"
    yield f"DTEND;VALUE=DATE:{event.last + DAY:%Y%m%d}"
    yield f"SUMMARY:{escaped(event.title)}"
    yield f"DESCRIPTION:{escaped(words)}"
    yield f"CATEGORIES:{escaped(event.kind)}"
    yield "TRANSP:TRANSPARENT"  # nobody is busy all day because of it
    yield "END:VEVENT"


def escaped(text: str) -> str:
    """Return a text as a value of type TEXT (section 3.3.11); control characters have no place in one."""
    lines = [re.sub(r"[\x00-\x1f\x7f]", "", line) for line in text.splitlines()]
    return "\\n".join(re.sub(r"([\\;,])", r"\\\1", line) for line in lines)


def folded(line: str) -> str:
    """Break a line into pieces of at most 75 octets, never inside a character.

    A space begins each piece but the first.
    """
    pieces, room = [""], FOLD
    for character in line:
        size = len(character.encode())
        if size > room:
            pieces.append("")
            room = FOLD - 1
        pieces[-1] += character
        room -= size
    return "\r\n ".join(pieces)
