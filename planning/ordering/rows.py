"""Orders as they are kept: rows to plain data, and what came of them."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, fields

from django.db.models import Max, Q, Sum
from django.utils.timezone import now

from kits import models as kits
from planning import models
from planning.orders import (
    Difference,
    Order,
    OrderLine,
    Placed,
    Received,
    State,
    differences,
    state_of,
)
from planning.stock import Place
from planning.stockbook import money

LINE_FIELDS = tuple(each.name for each in fields(OrderLine))


# --- Rows <-> plain data ---


def order_of(row: models.PurchaseOrder, version: models.OrderVersion) -> Order:
    """Return one version of an order."""
    return Order(
        number=row.number,
        version=version.version,
        month=row.month,
        supplier=row.supplier,
        supplier_name=version.supplier_name,
        email=version.email,
        address=version.address,
        currency=version.currency,
        order_by=version.order_by,
        lines=tuple(
            OrderLine(**{name: getattr(line, name) for name in LINE_FIELDS}) for line in version.lines.all()
        ),
    )


def write_lines(version: models.OrderVersion, lines: Iterable[OrderLine]) -> None:
    """Put lines in place of a draft's own."""
    version.lines.all().delete()
    models.OrderLine.objects.bulk_create(
        models.OrderLine(version=version, position=at, **{name: getattr(line, name) for name in LINE_FIELDS})
        for at, line in enumerate(lines)
    )


def write_version(row: models.PurchaseOrder, order: Order, by: str, plan: str) -> models.OrderVersion:
    """Keep a new version of an order as a draft."""
    last = row.versions.aggregate(Max("version"))["version__max"] or 0
    version = models.OrderVersion.objects.create(
        order=row,
        version=last + 1,
        supplier_name=order.supplier_name,
        email=order.email,
        address=order.address,
        currency=order.currency,
        order_by=order.order_by,
        plan=plan,
        made_at=now(),
        made_by=by,
    )
    write_lines(version, order.lines)
    return version


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """An order as it is kept. sent: the version in force; drafted: the one that is not sent yet; either may be missing."""

    row: models.PurchaseOrder
    sent: Order | None
    drafted: Order | None
    versions: tuple[models.OrderVersion, ...]
    sent_row: models.OrderVersion | None
    draft_row: models.OrderVersion | None
    received: Mapping[int, Received]

    @property
    def order(self) -> Order:
        """The version that counts: what was sent last, else the draft."""
        order = self.sent or self.drafted
        if order is None:
            raise LookupError(f"order {self.row.number} has no version")
        return order

    @property
    def state(self) -> State:
        """Where the order stands."""
        is_closed = self.row.closed_at is not None
        return state_of(self.order, self.received, sent=self.sent is not None, closed=is_closed)

    @property
    def placed(self) -> Placed:
        """The order as calendar and chase list take it."""
        sent = self.sent_row
        return Placed(
            order=self.order,
            state=self.state,
            received=self.received,
            sent_on=sent.sent_at.date() if sent and sent.sent_at else None,
            is_confirmed=sent is not None and sent.confirmed_at is not None,
        )

    @property
    def changes(self) -> tuple[Difference, ...]:
        """What the draft of an amended order would change."""
        return differences(self.sent, self.drafted) if self.sent and self.drafted else ()


def kept(rows: Iterable[models.PurchaseOrder]) -> tuple[Kept, ...]:
    """Return orders with their versions and what came of them, in as many queries for many as for one."""
    found = list(rows)
    versions: defaultdict[int, list[models.OrderVersion]] = defaultdict(list)
    for version in models.OrderVersion.objects.filter(order__in=found).prefetch_related("lines"):
        versions[version.order_id].append(version)
    came = received(found)
    return tuple(kept_of(row, versions[row.pk], came.get(row.number, {})) for row in found)


def kept_of(
    row: models.PurchaseOrder, versions: Sequence[models.OrderVersion], came: Mapping[int, Received]
) -> Kept:
    """Return one order of its rows."""
    sent = next((one for one in reversed(versions) if one.sent_at), None)
    drafted = next((one for one in versions if not one.sent_at), None)
    return Kept(
        row=row,
        versions=tuple(versions),
        sent=order_of(row, sent) if sent else None,
        drafted=order_of(row, drafted) if drafted else None,
        sent_row=sent,
        draft_row=drafted,
        received=came,
    )


def received(rows: Sequence[models.PurchaseOrder]) -> dict[str, dict[int, Received]]:
    """Return what came of each order's lines, receipts taken back left out: the sum of the book's moves."""
    sums: defaultdict[tuple[str, int], dict[str, tuple[int, int]]] = defaultdict(dict)
    if not rows:
        return {}
    book = rows[0].book
    moves = (
        models.StockMove.objects.filter(
            book=book, entry__order__in=[row.number for row in rows], line__isnull=False
        )
        .filter(place__in=(Place.SHELF, Place.SPOILED))
        .order_by()
        .values_list("entry__order", "line", "place")
        .annotate(units=Sum("quantity"), cost=Sum("value"))
    )
    for number, line, place, units, cost in moves:
        sums[number, line or 0][place] = (int(units), int(cost))
    came: defaultdict[str, dict[int, Received]] = defaultdict(dict)
    for (number, line), places in sums.items():
        good, value = places.get(Place.SHELF, (0, 0))
        damaged, _ = places.get(Place.SPOILED, (0, 0))
        came[number][line] = Received(good=good, damaged=damaged, value=money(value, book.currency))
    return dict(came)


def all_orders(month: kits.Month) -> tuple[Kept, ...]:
    """Return every order of the month, and of other months what is not closed."""
    rows = models.PurchaseOrder.objects.filter(book__club=month.code).select_related("book")
    return kept(rows.filter(Q(month=month.month) | Q(closed_at=None)))


def put_draft(order: models.PurchaseOrder, asked: Order, by: str, plan: str) -> None:
    """Write an order's lines into its draft, begun where there is none."""
    draft_row = order.versions.filter(sent_at=None).first()
    if draft_row is None:
        write_version(order, asked, by, plan)
        return
    draft_row.plan, draft_row.order_by = plan, asked.order_by
    draft_row.edits += 1
    draft_row.save(update_fields=["plan", "order_by", "edits"])
    write_lines(draft_row, asked.lines)


def last_entry(month: kits.Month) -> int:
    """Return the serial of the latest entry in the stock book of a month's club, 0 before there is one."""
    book = models.StockBook.objects.filter(club=month.code).first()
    return book.last if book else 0
