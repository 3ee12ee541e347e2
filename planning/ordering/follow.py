"""Orders beside the plan: what it asks for that is not ordered, and drafts of that."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from itertools import chain, count

from kits import models as kits
from planning import load, models
from planning.digests import digest, fingerprint_of
from planning.documents.codes import order_number
from planning.documents.pdf.words import material_words
from planning.ordering.acts import OrderError
from planning.ordering.rows import Kept, kept, order_of, put_draft, write_version
from planning.orders import (
    NOTHING,
    Difference,
    Order,
    State,
    as_planned,
    differences,
    draft,
    with_taxes,
)
from planning.run import Planned
from planning.stockbook import writing

# --- From the plan ---


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """What the plan asks of a supplier that its orders for the month do not ask for.

    kept: the order that would be changed; None where a new one is wanted. asked: that order as the plan would have it,
    without lines where nothing is wanted any more. changes: what differs.
    """

    asked: Order
    kept: Kept | None
    changes: tuple[Difference, ...] = ()


ASKED = ("line", "quantity", "needed by")  # what the plan decides; prices, taxes and days the supplier tells


def wishes(month: kits.Month, planned: Planned, orders: Sequence[Kept]) -> tuple[Wish, ...]:
    """Return where the orders of a month are not what its plan asks for, by supplier."""
    own = [one for one in orders if one.row.month == month.month]
    bought = {one.supplier.code: one for one in planned.plan.buying.orders}
    about = {one.code: material_words(one) for one in load.rows("materials", month)}
    taken = taken_at(month)
    if taken is not None and planned.stamp.made_at < taken:
        taken = None  # this plan was made before, and counts on none of it
    found = []
    for code in dict.fromkeys([*bought, *(one.row.supplier for one in own)]):
        fresh = draft(planned.club, bought[code], "", about) if code in bought else None
        found.append(wish(fresh, [one for one in own if one.row.supplier == code], taken))
    return tuple(one for one in found if one is not None)


def wish(fresh: Order | None, own: Sequence[Kept], taken: datetime | None) -> Wish | None:
    """Return what the plan asks of one supplier; None where its orders ask for that."""
    mine = next((one for one in reversed(own) if one.state is not State.CLOSED), None)
    more: Counter[str] = Counter()
    for one in own:
        more.update(counted_on(one, taken))
        if one is not mine:
            more.subtract(had(one))
    base = (mine.drafted or mine.sent) if mine else None
    asked = as_planned(fresh, base, more)
    if asked is None or mine is None or base is None:
        return Wish(asked=asked, kept=None) if asked and asked.lines else None
    goods = (replace(one, lines=one.goods) for one in (base, asked))
    changes = tuple(one for one in differences(*goods) if one.what in ASKED)
    return Wish(asked=asked, kept=mine, changes=changes) if changes else None


def had(one: Kept) -> Counter[str]:
    """Return what an order brings: what it asks for, or what came of it once it is closed."""
    units: Counter[str] = Counter()
    for line in one.order.goods:
        is_closed = one.state is State.CLOSED
        units[line.material] += one.received.get(line.key, NOTHING).good if is_closed else line.quantity
    return units


def counted_on(one: Kept, taken: datetime | None) -> Counter[str]:
    """Return what of an order the plan counts on: what was ordered when the month took its sheets from the book."""
    sent = [row for row in one.versions if taken and row.sent_at and row.sent_at <= taken]
    if not sent or taken is None:
        return Counter()
    if one.row.closed_at and one.row.closed_at <= taken:
        return had(one)
    units: Counter[str] = Counter()
    for line in order_of(one.row, sent[-1]).goods:
        units[line.material] += line.quantity
    return units


def taken_at(month: kits.Month) -> datetime | None:
    """Return when the month took its stock and open orders from the book, else None. Sheets changed since are as typed."""
    row = models.MonthStock.objects.filter(month=month).first()
    return row.at if row and row.tables == stock_tables(month) else None


def stock_tables(month: kits.Month) -> str:
    """Return the fingerprint of what a month holds on its Stock and Open orders sheets."""
    return fingerprint_of({table: digest(load.rows(table, month)) for table in ("stock", "open_orders")})


def make_drafts(month: kits.Month, plan: models.Plan, by: str) -> tuple[str, ...]:
    """Draft an order for each supplier the plan buys from that has none for the month; return the new orders' numbers.

    Doing it twice makes nothing twice: what is drafted or sent already is left as it is.
    """
    planned = load.planned(plan)
    with writing(month) as book:
        rows = models.PurchaseOrder.objects.filter(book=book, month=month.month).select_related("book")
        wanted = [one.asked for one in wishes(month, planned, kept(rows)) if one.kept is None]
        return tuple(new_order(book, month, one, planned, by) for one in wanted)


def new_order(book: models.StockBook, month: kits.Month, asked: Order, planned: Planned, by: str) -> str:
    """Keep a new order as a draft, and return its number."""
    places = [one.supplier.code for one in planned.plan.buying.orders]
    place = places.index(asked.supplier) + 1 if asked.supplier in places else len(places) + 1
    numbers = set(book.orders.values_list("number", flat=True))
    tries = (
        order_number(month.code, planned.club.month, each) for each in chain([place], count(len(places) + 1))
    )
    number = next(one for one in tries if one not in numbers)
    row = models.PurchaseOrder.objects.create(
        book=book, number=number, month=month.month, supplier=asked.supplier
    )
    earlier = models.OrderLine.objects.filter(
        version__order__book=book, version__order__supplier=asked.supplier
    ).order_by("version_id", "position")
    write_version(row, with_taxes(asked, earlier), by, stamp_of(planned))  # type: ignore[arg-type]
    return number


def stamp_of(planned: Planned) -> str:
    """Return which plan an order was drafted from."""
    return f"{planned.stamp.plan_id}, version {planned.stamp.version}"


def follow_plan(month: kits.Month, order: models.PurchaseOrder, plan: models.Plan, by: str) -> None:
    """Make the draft of an order, or of its amended order, what the plan asks for. Raises OrderError."""
    planned = load.planned(plan)
    with writing(month) as book:
        rows = models.PurchaseOrder.objects.filter(book=book, month=month.month).select_related("book")
        found = [
            one for one in wishes(month, planned, kept(rows)) if one.kept and one.kept.row.pk == order.pk
        ]
        if not found:
            return
        [one] = found
        if not one.asked.lines:
            raise OrderError(
                f"The plan wants nothing of order {order.number} any more: close it, or drop its draft"
            )
        put_draft(order, one.asked, by, stamp_of(planned))
