"""What is expected when, and what somebody should ask a supplier about today."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date

from planning.orders.amend import day
from planning.orders.model import NOTHING, Order, OrderLine, Received, State
from planning.orders.state import due

SOON = 3  # days before its order-by day from which a draft is told of
PATIENCE = 3  # days in which a supplier may confirm an order


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """An order with where it stands. received: by key of its lines. sent_on: the day the version in force went out.

    is_confirmed: the supplier said that it will come so.
    """

    order: Order
    state: State
    received: Mapping[int, Received] = field(default_factory=dict)
    sent_on: date | None = None
    is_confirmed: bool = False

    @property
    def is_open(self) -> bool:
        """Whether something is still to come."""
        return self.state in (State.SENT, State.PART_RECEIVED)


@dataclass(frozen=True, slots=True, kw_only=True)
class Expected:
    """Goods on their way. when: the day they are expected, None where nobody knows."""

    when: date | None
    order: Order
    line: OrderLine
    quantity: int

    @property
    def is_late(self) -> bool:
        """Whether they come after the day they are needed."""
        return bool(self.when and self.line.need_by and self.when > self.line.need_by)


@dataclass(frozen=True, slots=True, kw_only=True)
class Chase:
    """Something to ask about. since: the day from which it waits, the earliest first."""

    since: date
    order: Order
    about: str
    words: str


def expected_receipts(orders: Iterable[Placed]) -> tuple[Expected, ...]:
    """Return all that is on its way, by day; what has no day comes last."""
    coming = [
        Expected(when=line.expected, order=one.order, line=line, quantity=quantity)
        for one in orders
        if one.is_open
        for line, quantity in due_lines(one)
    ]
    return tuple(sorted(coming, key=lambda one: (one.when or date.max, one.order.number, one.line.key)))


def due_lines(one: Placed) -> Iterator[tuple[OrderLine, int]]:
    """Yield the lines of which something is due, with how many."""
    rest = due(one.order, one.received)
    return ((line, rest[line.key]) for line in one.order.goods if rest[line.key])


def to_chase(orders: Iterable[Placed], today: date) -> tuple[Chase, ...]:
    """Return what to ask about on a day, what waits longest first."""
    rules = (unsent, unconfirmed, overdue, wrong)
    found = [chase for one in orders for rule in rules for chase in rule(one, today)]
    return tuple(sorted(found, key=lambda one: (one.since, one.order.number)))


def unsent(one: Placed, today: date) -> Iterator[Chase]:
    """Yield a draft that should be on its way."""
    by = one.order.order_by
    if one.state is not State.DRAFT or by is None or (by - today).days > SOON:
        return
    late = (today - by).days
    words = f"not sent yet, and had to be sent by {day(by)}" if late > 0 else f"to be sent by {day(by)}"
    yield Chase(since=by, order=one.order, about="The whole order", words=words)


def unconfirmed(one: Placed, today: date) -> Iterator[Chase]:
    """Yield an order the supplier has not confirmed in time; goods that came confirm it as well."""
    if one.state is not State.SENT or one.is_confirmed or one.sent_on is None:
        return
    if (today - one.sent_on).days >= PATIENCE:
        words = f"sent {day(one.sent_on)} and not confirmed: ask for quantities, prices and the day"
        yield Chase(since=one.sent_on, order=one.order, about="The whole order", words=words)


def overdue(one: Placed, today: date) -> Iterator[Chase]:
    """Yield what should be here, has no day, or will come too late."""
    for line, quantity in due_lines(one) if one.is_open else ():
        many = units(quantity, line)
        if line.expected is None:
            yield Chase(
                since=today,
                order=one.order,
                about=line.name,
                words=f"{many} have no day of delivery: ask for one",
            )
        elif line.expected < today:
            late = (today - line.expected).days
            days = "1 day" if late == 1 else f"{late} days"
            words = f"{many} were due {day(line.expected)}, {days} ago{needed(line, today)}"
            yield Chase(since=line.expected, order=one.order, about=line.name, words=words)
        elif line.need_by and line.expected > line.need_by:
            words = f"{many} expected {day(line.expected)}, needed by {day(line.need_by)}: ask for a quicker delivery"
            yield Chase(since=line.need_by, order=one.order, about=line.name, words=words)


def units(quantity: int, line: OrderLine) -> str:
    """Return a quantity with its unit: 1 sheet, 40 sheets; goods counted each have none."""
    if line.unit in ("", "each"):
        return f"{quantity:,}"
    return f"{quantity:,} {line.unit}{'' if quantity == 1 else 's'}"


def needed(line: OrderLine, today: date) -> str:
    """Say when overdue goods are needed."""
    if line.need_by is None:
        return ""
    return f"; needed by {day(line.need_by)}" + (", which is past" if line.need_by < today else "")


def wrong(one: Placed, today: date) -> Iterator[Chase]:
    """Yield what came damaged and is not replaced yet, and what came beyond the order."""
    for line in one.order.goods if one.is_open else ():
        came = one.received.get(line.key, NOTHING)
        unreplaced = min(came.damaged, line.quantity - came.good)
        if unreplaced > 0:
            words = f"{unreplaced:,} came damaged: ask for others or for a credit"
            yield Chase(since=line.expected or today, order=one.order, about=line.name, words=words)
        if came.good > line.quantity:
            more = came.good - line.quantity
            words = f"{more:,} more came than ordered: agree what becomes of them"
            yield Chase(since=line.expected or today, order=one.order, about=line.name, words=words)
