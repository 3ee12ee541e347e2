"""What people do with an order: change, send, amend, receive, close, drop.

What an order's state allows is `planning.orders.state`'s to say. Whoever changes an order holds the stock book of the club
meanwhile, so two people cannot change it against each other.
"""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import date
from decimal import Decimal

from django.db.transaction import atomic
from django.utils.timezone import now

from kits import models as kits
from planning import models
from planning.ordering.rows import Kept, kept, put_draft, write_version
from planning.orders import (
    NOTHING,
    Act,
    Order,
    OrderLine,
    OrderStateError,
    State,
    allow,
    amendment_faults,
    order_faults,
    value_of,
)
from planning.stock import EntryKind, Receipt, receive
from planning.stockbook import Heading, Posted, post, post_reversal, writing


class OrderError(ValueError):
    """An order that cannot be changed or sent as asked; the message says why and what to do."""


class StaleOrderError(OrderError):
    """Somebody else saved the draft since the form was opened."""


@contextmanager
def as_changed(order: models.PurchaseOrder, act: Act) -> Iterator[Kept]:
    """Hold the order's book and give the order as it stands now. Raises OrderStateError where the act is not allowed."""
    with atomic():
        models.StockBook.objects.select_for_update().get(pk=order.book_id)
        [now_kept] = kept(models.PurchaseOrder.objects.filter(pk=order.pk).select_related("book"))
        is_amendment = now_kept.drafted is not None and act in (Act.EDIT, Act.SEND, Act.DROP)
        if not is_amendment:
            allow(order.number, now_kept.state, act)
        elif now_kept.state is State.CLOSED and act is not Act.DROP:
            raise OrderStateError(order.number, State.CLOSED, act)
        yield now_kept


def edit(order: models.PurchaseOrder, asked: Order, edits: int, by: str) -> None:
    """Save a draft. edits: how often it had been saved when the form was opened. Raises OrderError, OrderStateError."""
    with as_changed(order, Act.EDIT) as one:
        draft_row = one.draft_row
        if draft_row is None or draft_row.edits != edits:
            raise StaleOrderError(
                f"Somebody else saved order {order.number} since you opened it. Below is what they saved; change it again"
            )
        if not asked.goods:
            raise OrderError("An order without goods is no order: drop the draft instead")
        put_draft(order, asked, by, draft_row.plan)


def amend(order: models.PurchaseOrder, by: str) -> None:
    """Begin an amended order as a copy of what was sent; one that is begun already stays as it is."""
    with as_changed(order, Act.AMEND) as one:
        if one.drafted is None and one.sent is not None and one.sent_row is not None:
            write_version(order, one.sent, by, one.sent_row.plan)


def sending_faults(one: Kept) -> tuple[str, ...]:
    """Return what keeps the draft of an order from being sent."""
    if one.drafted is None:
        return ("there is no draft to send",)
    faults = list(order_faults(one.drafted))
    if one.sent:
        faults += [said for _, said in amendment_faults(one.sent, one.drafted, one.received)]
        if not one.changes:
            faults.append("the amended order asks for what was sent already")
    return tuple(faults)


def send(order: models.PurchaseOrder, version: int, edits: int, by: str) -> bool:
    """Record that a version went to the supplier; say whether it is news. Raises OrderError, OrderStateError.

    version, edits: what the person looked at; where the draft was changed since, it is not sent.
    """
    if order.versions.filter(version=version, sent_at__isnull=False).exists():
        return False
    with as_changed(order, Act.SEND) as one:
        draft_row = one.draft_row
        if draft_row is None or (draft_row.version, draft_row.edits) != (version, edits):
            raise StaleOrderError(f"Order {order.number} was changed since you checked it: check it again")
        if faults := sending_faults(one):
            raise OrderError(f"Order {order.number} cannot be sent: {'; '.join(faults)}")
        draft_row.sent_at, draft_row.sent_by = now(), by
        draft_row.save(update_fields=["sent_at", "sent_by"])
        close_if_complete(order, by)
        return True


def drop(order: models.PurchaseOrder) -> bool:
    """Take a draft away; say whether the whole order went with it. Raises OrderStateError."""
    with as_changed(order, Act.DROP) as one:
        if one.sent is None:
            order.delete()
            return True
        order.versions.filter(sent_at=None).delete()
        return False


def receive_order(
    month: kits.Month,
    order: models.PurchaseOrder,
    came: Mapping[int, tuple[int, int]],
    by: str,
    key: str,
    note: str = "",
) -> Posted:
    """Enter what came of an order. came: by key of its lines, good and damaged units. Raises StockError, OrderStateError."""
    with atomic():
        book = models.StockBook.objects.select_for_update().get(pk=order.book_id)
        if made := book.entries.filter(key=key).first():
            return Posted(made, False)
        with as_changed(order, Act.RECEIVE) as one:
            receipts = [receipt(one, line, *came[line.key]) for line in one.order.goods if line.key in came]
        heading = Heading(kind=EntryKind.RECEIVE, by=by, key=key, note=note, order=order.number)
        posted = post(month, heading, (), lambda balances, serial: receive(serial, receipts))
        close_if_complete(order, by)
        return posted


def receipt(one: Kept, line: OrderLine, good: int, damaged: int) -> Receipt:
    """Return what came of a line with its landed cost."""
    value = value_of(one.order, line, good, one.received.get(line.key, NOTHING)) if good else Decimal(0)
    units = int(value.scaleb(one.order.exponent))
    return Receipt(item=line.material, line=line.key, good=good, damaged=damaged, value=units)


def close_if_complete(order: models.PurchaseOrder, by: str) -> None:
    """Close an order of which nothing is due any more."""
    [one] = kept(models.PurchaseOrder.objects.filter(pk=order.pk).select_related("book"))
    if one.state is State.CLOSED and one.row.closed_at is None:
        mark_closed(order, by, "all received")


def mark_closed(order: models.PurchaseOrder, by: str, why: str) -> None:
    """Write down that an order is closed."""
    order.closed_at, order.closed_by, order.closed_why = now(), by, why
    order.save(update_fields=["closed_at", "closed_by", "closed_why"])


def close(order: models.PurchaseOrder, by: str, why: str) -> None:
    """Close an order of which something is still due, with the reason why. Raises OrderError, OrderStateError."""
    with as_changed(order, Act.CLOSE):
        if not why.strip():
            raise OrderError("Say why nothing more will come")
        order.versions.filter(sent_at=None).delete()
        mark_closed(order, by, why.strip())


def take_back(month: kits.Month, entry: models.StockEntry, by: str, key: str, note: str = "") -> Posted:
    """Take an entry of the book back; the order it was received against is open again. Raises StockError."""
    with writing(month) as book:
        posted = post_reversal(month, entry, by, key, note)
        if entry.order:
            models.PurchaseOrder.objects.filter(book=book, number=entry.order).update(
                closed_at=None, closed_by="", closed_why=""
            )
        return posted


def confirm(order: models.PurchaseOrder, days: Mapping[int, date | None], by: str) -> None:
    """Write down that the supplier confirmed the order, and on which days its lines come, by their keys.

    This is no change of the order. Raises OrderStateError.
    """
    with as_changed(order, Act.RECEIVE) as one:
        for version in one.versions:
            for line in version.lines.filter(key__in=days):
                models.OrderLine.objects.filter(pk=line.pk).update(expected=days[line.key])
        if one.sent_row is not None:
            one.sent_row.confirmed_at, one.sent_row.confirmed_by = now(), by
            one.sent_row.save(update_fields=["confirmed_at", "confirmed_by"])
