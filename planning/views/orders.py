"""The orders of a month: what is drafted, sent and still to come, what the plan asks for besides, and what to chase."""

from collections.abc import Sequence
from datetime import date
from typing import Any
from urllib.parse import urlencode

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.timezone import now
from django.views.decorators.http import require_safe

from kits.models import Month
from planning import load, ordering
from planning.models import Plan
from planning.ordering import Kept, Wish
from planning.orders import Chase, Expected, State, expected_receipts, gross, to_chase
from planning.run import Planned, id_of
from planning.stock import StockError
from planning.views import gate, words
from planning.views.parts import Cell, Figure, Line, Strip, Table, number, text, when


def around(month: Month, step: str = "orders") -> dict[str, Any]:
    """Return what every page around orders and stock shows."""
    return {"month": month, "step": step}


def order_url(page: str, month: Month, order: str, **more: object) -> str:
    """Return where a page of an order lives."""
    return f"{reverse(page, args=[month.pk])}?{urlencode({'number': order, **more})}"


def today() -> date:
    """Return the day it is."""
    return now().date()


def person(request: HttpRequest) -> str:
    """Return the name of who asks, as the books keep it."""
    return request.user.get_username()


def orders(request: HttpRequest, month: int) -> HttpResponse:
    """Show all orders of a month and those of other months that are open; draft what is missing."""
    row = gate.month_or_404(request, month)
    plan = gate.readable_plan_or_none(request, row)
    if request.method == "POST":
        return drafted(request, row, plan)
    kept = ordering.all_orders(row)
    planned = load.planned(plan) if plan else None
    wishes = ordering.wishes(row, planned, kept) if planned else ()
    shown = around(row) | {
        "plan": plan,
        "is_stale": plan is not None and plan.plan_id != id_of(row.code, row.month, row.fingerprint),
        "missing": [missing(one, planned) for one in wishes if one.kept is None and planned],
        "drafting": words.counted(sum(one.kept is None for one in wishes), "draft"),
        "differing": [(one, order_url("order", row, one.kept.row.number)) for one in wishes if one.kept],
        "table": order_table(row, kept),
        "chase": chase_table(row, to_chase([one.placed for one in kept], today())),
    }
    return render(request, "planning/orders.html", shown)


def missing(one: Wish, planned: Planned) -> str:
    """Say what an order that is not drafted yet would ask for."""
    lines = words.counted(len(one.asked.goods), "material")
    by = f", to be sent by {words.weekday(one.asked.order_by)}" if one.asked.order_by else ""
    return f"{one.asked.supplier_name}: {lines}, {words.money(one.asked.net, planned.club)} {one.asked.currency}{by}"


def drafted(request: HttpRequest, row: Month, plan: Plan | None) -> HttpResponse:
    """Draft what the plan asks for and nobody ordered."""
    if plan is None:
        messages.warning(request, "Plan the month first: orders are drafted from the plan.")
        return redirect("orders", month=row.pk)
    try:
        made = ordering.make_drafts(row, plan, person(request))
    except StockError as error:
        messages.error(request, str(error))
        return redirect("orders", month=row.pk)
    if not made:
        messages.info(request, "Everything the plan asks for is drafted or ordered already.")
    elif len(made) == 1:
        messages.success(request, f"Order {made[0]} is drafted. Check it, then send it.")
        return redirect(order_url("order", row, made[0]))
    else:
        said = f"Orders {', '.join(made[:-1])} and {made[-1]} are drafted."
        messages.success(request, f"{said} Check each, then send it.")
    return redirect("orders", month=row.pk)


# --- Tables ---


def order_table(row: Month, kept: Sequence[Kept]) -> Table:
    """Return a line for each order."""
    return Table(
        "Orders of this month, and open ones of other months",
        (
            text("Order"),
            text("Supplier"),
            text("State"),
            number("To pay", row.currency),
            text("Next"),
        ),
        [order_line(row, one) for one in sorted(kept, key=rank)],
        empty="No order yet. Draft them from the plan above.",
    )


def rank(one: Kept) -> tuple[int, date, str]:
    """Order orders by what they wait for: to be sent, to be received, closed."""
    return list(State).index(one.state), one.order.order_by or date.max, one.row.number


def order_line(row: Month, one: Kept) -> Line:
    """Return an order as the list shows it."""
    return Line(
        (
            Cell(one.row.number, href=order_url("order", row, one.row.number)),
            one.order.supplier_name,
            one.state.capitalize() + (", amended order not sent" if one.sent and one.drafted else ""),
            f"{gross(one.order):,}",
            next_words(one),
        )
    )


def next_words(one: Kept) -> str:
    """Say what happens next to an order."""
    days = [each.when for each in expected_receipts([one.placed]) if each.when]
    if one.state is State.DRAFT and one.order.order_by:
        return f"Send by {words.weekday(one.order.order_by)}"
    if days:
        return f"Expected {words.weekday(min(days))}"
    return "" if one.state is State.CLOSED else "No day yet"


def chase_table(row: Month, found: Sequence[Chase]) -> Table:
    """Return what somebody should do or ask about."""
    return Table(
        "What to chase, the longest waiting first",
        (text("Order"), text("Supplier"), text("About"), text("What")),
        [
            Line(
                (
                    Cell(one.order.number, href=order_url("order", row, one.order.number)),
                    supplier_with_mail(one.order.supplier_name, one.order.email),
                    one.about,
                    words.sentence(one.words),
                ),
                needs="Chase",
            )
            for one in found
        ],
        empty="Nothing today.",
    )


def supplier_with_mail(name: str, email: str) -> str:
    """Return a supplier with where to write to."""
    return f"{name}, {email}" if email else name


# --- The calendar of receipts ---


@require_safe
def receipts(request: HttpRequest, month: int) -> HttpResponse:
    """Show what is expected on which day."""
    row = gate.month_or_404(request, month)
    coming = expected_receipts([one.placed for one in ordering.all_orders(row)])
    return render(request, "planning/receipts.html", around(row) | {"table": receipt_table(row, coming)})


def receipt_table(row: Month, coming: Sequence[Expected]) -> Table:
    """Return what is on its way by day."""
    return Table(
        "Expected receipts",
        (
            when("Expected"),
            text("Material"),
            number("Due"),
            text("Unit"),
            when("Needed by"),
            text("Supplier"),
            text("Order"),
        ),
        [
            Line(
                (
                    words.weekday(one.when) or "No day yet",
                    one.line.name,
                    words.count(one.quantity),
                    one.line.unit,
                    words.day(one.line.need_by),
                    one.order.supplier_name,
                    Cell(one.order.number, href=order_url("order", row, one.order.number)),
                ),
                needs=overdue(one),
            )
            for one in coming
        ],
        empty="Nothing is on its way: no order is sent and still open.",
    )


def overdue(one: Expected) -> str:
    """Say what is wrong with a day."""
    if one.when and one.when < today():
        return "Overdue"
    return "Too late" if one.is_late else ""


@require_safe
def receipts_calendar(request: HttpRequest, month: int) -> HttpResponse:
    """Send what is expected as a calendar file."""
    from planning.documents.receipts_file import receipts_file

    row = gate.month_or_404(request, month)
    kept = ordering.all_orders(row)
    changes = sum(len(one.versions) for one in kept) + ordering.last_entry(row)
    made = receipts_file(load.club(row), expected_receipts([one.placed for one in kept]), changes, now())
    headers = {"Content-Disposition": f'attachment; filename="{row.code}-receipts.ics"'}
    return HttpResponse(made, content_type="text/calendar; charset=utf-8", headers=headers)


# --- On the month page ---


def strip(row: Month, planned: Planned | None) -> Strip:
    """Return the orders as the month page shows them."""
    kept = ordering.all_orders(row)
    wishes = ordering.wishes(row, planned, kept) if planned else ()
    counts = {state: sum(one.state is state for one in kept) for state in State}
    coming = [one for one in expected_receipts([each.placed for each in kept]) if one.when]
    chase = to_chase([one.placed for one in kept], today())
    said = ", ".join(f"{words.count(counts[state])} {state}" for state in State if counts[state])
    not_drafted = sum(one.kept is None for one in wishes)
    needs = [f"{words.counted(not_drafted, 'order')} of the plan not drafted."] if not_drafted else []
    needs += [
        f"Order {one.kept.row.number} to {one.asked.supplier_name} is not what the plan asks for."
        for one in wishes
        if one.kept
    ]
    needs += [f"{one.order.supplier_name}, {one.about}: {one.words}." for one in chase[:3]]
    needs += [f"And {len(chase) - 3:,} more to chase."] if len(chase) > 3 else []
    return Strip(
        figure=Figure(words.count(len(kept)), words.noun(len(kept), "order") + (f": {said}" if said else "")),
        words="" if kept or needs else "Nothing is ordered.",
        deadline=f"Next expected {words.weekday(coming[0].when)}" if coming else "",
        needs=tuple(needs),
    )
