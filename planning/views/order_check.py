"""The check before an order goes out: all it says, what is odd about it, and the button that records it as sent."""

from collections.abc import Iterator
from dataclasses import replace

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from kits.measures import round_money
from kits.models import Month
from planning import load, ordering
from planning.month import Month as Book
from planning.ordering import Kept, OrderError
from planning.orders import LineKind, Order, OrderStateError, cost, gross
from planning.problems.terms import terms_of
from planning.views import gate, words
from planning.views.forms import Typed
from planning.views.order import kept_order, line_table, taxes_shown, to_order
from planning.views.orders import around, order_url, person


def order_check(request: HttpRequest, month: int) -> HttpResponse:
    """Show everything an order says before it is sent, and record that it was."""
    row = gate.month_or_404(request, month)
    one = kept_order(request, row)
    if one.drafted is None or one.draft_row is None:
        messages.info(request, f"Order {one.row.number} is {one.state}; there is nothing to send.")
        return to_order(row, one)
    problem = ""
    if request.method == "POST":
        typed = Typed(request.POST)
        try:
            ordering.send(one.row, typed.count("version", 0), typed.count("edits", 0), person(request))
        except (OrderError, OrderStateError) as error:
            problem = str(error)
        else:
            version = f", version {one.drafted.version}," if one.sent else ""
            messages.success(request, f"Order {one.row.number}{version} is recorded as sent.")
            return to_order(row, one)
    shown = checked(row, kept_order(request, row)) | {"problem": problem}
    return render(request, "planning/order_check.html", shown, status=422 if problem else 200)


def checked(row: Month, one: Kept) -> dict[str, object]:
    """Return what the check page shows."""
    order, version = one.drafted, one.draft_row
    if order is None or version is None:
        raise LookupError("there is no draft")
    as_draft = replace(one, sent=None, sent_row=None)
    lines = words.counted(len(order.goods), "material")
    form = {
        each: order_url("order_paper", row, order.number, version=order.version, form=each)
        for each in ("pdf", "xlsx")
    }
    return around(row) | {
        "kept": one,
        "order": order,
        "edits": version.edits,
        "faults": ordering.sending_faults(one),
        "notices": list(notices(row, order)),
        "changes": one.changes,
        "table": line_table(row, as_draft),
        "taxes": taxes_shown(row, order),
        "paid": f"{gross(order):,}",
        "own": f"{cost(order):,}",
        "tax": f"{gross(order) - order.net:,}",
        "net": f"{order.net:,}",
        "act": f"Record as sent: {lines}, {gross(order):,} {order.currency}",
        "edit": order_url("order_edit", row, order.number),
        "back": order_url("order", row, order.number),
        "pdf": form["pdf"],
        "xlsx": form["xlsx"],
    }


def notices(row: Month, order: Order) -> Iterator[str]:
    """Yield what is odd about an order and does not keep it from being sent."""
    book = load.without_people(row)
    terms = {one.offer.code: one for one in terms_of(book)}
    for line in order.goods:
        one = terms.get(line.offer)
        if one and line.quantity < one.offer.minimum:
            yield f"{line.name}: {line.quantity:,} is below the supplier’s minimum of {one.offer.minimum:,}."
        if one and line.quantity % one.grid:
            yield f"{line.name}: the supplier sells lots of {one.grid:,}."
        if one and line.quantity > one.most:
            yield f"{line.name}: the supplier has at most {one.most:,}."
        if line.expected and line.need_by and line.expected > line.need_by:
            days = f"expected {words.day(line.expected)}, needed by {words.day(line.need_by)}"
            yield f"{line.name}: {days}. Ask for a quicker delivery."
    yield from freight_notices(book, order)
    if order.order_by and order.order_by < load.club(row).planned_on:
        yield f"It had to be sent by {words.day(order.order_by)}."
    if not any(line.tax_rate for line in order.lines):
        yield "No line is taxed. If the supplier charges tax, say so under Change lines."


def freight_notices(book: Book, order: Order) -> Iterator[str]:
    """Yield where the freight is not what the supplier asks for goods of this amount."""
    supplier = next((one for one in book.suppliers if one.code == order.supplier), None)
    if supplier is None:
        return
    goods, freight = order.amount_of(LineKind.GOODS), order.amount_of(LineKind.FREIGHT)
    is_free = supplier.free_freight_from is not None and goods >= supplier.free_freight_from
    usual = round_money(0 if is_free else supplier.freight, order.exponent)
    if freight != usual:
        why = f"goods that reach {supplier.free_freight_from:,}" if is_free else f"goods of {goods:,}"
        yield f"Freight is {freight:,} here, and the supplier’s list says {usual:,} for {why}."
