"""What a month's plan starts from: its Stock and Open orders sheets, taken from the stock book and the open orders."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import Sum
from django.utils.timezone import now

from kits import models as kits
from kits.catalogue import OpenOrder, StockLine
from kits.measures import round_money
from planning import load, models
from planning.changing import changing
from planning.ordering.follow import stock_tables
from planning.ordering.rows import Kept, all_orders
from planning.orders import expected_receipts
from planning.problems.requirements import all_pre_cuts
from planning.save import model_rows
from planning.stock import Place
from planning.stockbook import book_of, money

USED_PLACES = (Place.CUTTING.value, Place.BOXES.value)


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """What both sheets would hold."""

    stock: tuple[StockLine, ...]
    open_orders: tuple[OpenOrder, ...]


def names_of_items(month: kits.Month) -> dict[str, str]:
    """Return what the month calls the things a stock book holds: materials and pieces, by code."""
    book = load.without_people(month)
    pieces = {one.code: one.name for one in all_pre_cuts(book)}
    return pieces | {one.code: one.name for one in book.materials}


def what_to_take(month: kits.Month) -> Taken:
    """Return the month's sheets as book and orders have them.

    On hand is what lies on the shelf, and what was issued for this very month already, as the plan needs it all the same.
    Rows of items the book never saw, and of orders that are not in it, stay as they were typed.
    """
    names, held = names_of_items(month), on_hand(month)
    typed = [one for one in load.rows("stock", month) if one.item not in held]
    stock = [
        StockLine(item=item, on_hand=units, value_each=round_money(value / units, 6).normalize())
        for item, (units, value) in held.items()
        if units > 0 and item in names
    ]
    kept = all_orders(month)
    own = set(models.PurchaseOrder.objects.filter(book__club=month.code).values_list("number", flat=True))
    others = [one for one in load.rows("open_orders", month) if one.reference not in own]
    return Taken(stock=(*stock, *typed), open_orders=(*others, *coming(month, kept)))


def on_hand(month: kits.Month) -> Mapping[str, tuple[int, Decimal]]:
    """Return units and cost of every item the book ever saw."""
    book = book_of(month)
    if book is None:
        return {}
    moves = models.StockMove.objects.filter(book=book).order_by("item")
    shelf = moves.filter(place=Place.SHELF)
    used = moves.filter(entry__month=month.month, place__in=USED_PLACES)
    sums: defaultdict[str, list[int]] = defaultdict(lambda: [0, 0])
    for rows in (shelf, used):
        found = rows.values_list("item").annotate(units=Sum("quantity"), cost=Sum("value"))
        for item, units, cost in found:
            sums[item][0] += int(units)
            sums[item][1] += int(cost)
    return {item: (units, money(value, book.currency)) for item, (units, value) in sums.items()}


def coming(month: kits.Month, kept: tuple[Kept, ...]) -> Iterator[OpenOrder]:
    """Yield what is due of open orders, as the month file tells it."""
    materials = {one.code for one in load.rows("materials", month)}
    suppliers = {one.code for one in load.rows("suppliers", month)}
    units: defaultdict[tuple[str, str, str, date], tuple[int, Decimal]] = defaultdict(lambda: (0, Decimal(0)))
    for one in expected_receipts([each.placed for each in kept]):
        due = one.when or one.line.need_by or month.planned_on
        key = (one.order.number, one.order.supplier, one.line.material, due)
        units[key] = (units[key][0] + one.quantity, one.line.price)
    for (number, supplier, material, due), (quantity, price) in units.items():
        if material in materials and supplier in suppliers:
            yield OpenOrder(
                reference=number,
                supplier=supplier,
                material=material,
                quantity=quantity,
                price=price,
                due=due,
            )


def take(month: kits.Month, by: str) -> None:
    """Put book and orders in place of the month's Stock and Open orders sheets; the plan counts on them from then on."""
    with changing(month, "stock", "open_orders"):
        taken = what_to_take(month)
        for model, rows in ((kits.StockLine, taken.stock), (kits.OpenOrder, taken.open_orders)):
            model.objects.filter(month=month).delete()
            model.objects.bulk_create(model_rows(model, month, rows))
        models.MonthStock.objects.update_or_create(
            month=month, defaults={"at": now(), "by": by, "tables": stock_tables(month)}
        )
