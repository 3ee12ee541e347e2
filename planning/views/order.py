"""One order: where it stands, its lines, what came of them, its versions, and what may be done next."""

from collections.abc import Iterator, Mapping

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse

from kits.measures import format_amount
from kits.models import Month
from planning import load, ordering
from planning.models import OrderVersion, PurchaseOrder, StockEntry
from planning.ordering import Kept, OrderError, Wish
from planning.orders import (
    NOTHING,
    LineKind,
    Order,
    OrderLine,
    OrderStateError,
    cost,
    due,
    gross,
    landed,
    line_taxes,
    tax_table,
)
from planning.stock import StockError
from planning.views import gate, words
from planning.views.orders import around, order_url, person
from planning.views.parts import Cell, Figure, Line, Table, number, text, when


def kept_order(request: HttpRequest, row: Month) -> Kept:
    """Return the order that the URL asks for."""
    [one] = ordering.kept([gate.order_or_404(request, row)])
    return one


def order(request: HttpRequest, month: int) -> HttpResponse:
    """Show an order, or do what one of its buttons says."""
    row = gate.month_or_404(request, month)
    if request.method == "POST":
        return acted(request, row, gate.order_or_404(request, row))
    one = kept_order(request, row)
    links = {
        page.replace("order_", ""): order_url(page, row, one.row.number)
        for page in ("order_edit", "order_check", "receive", "order_days", "order_close")
    }
    shown = around(row) | {
        "kept": one,
        "order": one.order,
        "state": one.state.value,
        "is_open": one.placed.is_open,
        "links": links,
        "papers": papers(row, one),
        "figures": figures(row, one),
        "table": line_table(row, one),
        "taxes": taxes_shown(row, one.order),
        "versions": version_table(row, one),
        "entries": entry_table(row, one),
        "changes": one.changes,
        "plan_asks": plan_asks(request, row, one),
    }
    return render(request, "planning/order.html", shown)


def acted(request: HttpRequest, row: Month, kept: PurchaseOrder) -> HttpResponse:
    """Do what a button says, and say what came of it."""
    act = request.POST.get("act", "")
    here = order_url("order", row, kept.number)
    try:
        if act == "amend":
            ordering.amend(kept, person(request))
            return redirect(order_url("order_edit", row, kept.number))
        if act == "drop" and ordering.drop(kept):
            messages.success(request, f"The draft of order {kept.number} is gone.")
            return redirect("orders", month=row.pk)
        if act == "drop":
            messages.success(request, "The amended order is dropped; what was sent stands.")
        plan = row.plans.first()
        if act == "follow" and plan:
            ordering.follow_plan(row, kept, plan, person(request))
            messages.success(request, "The draft is what the plan asks for now. Check it, then send it.")
    except (OrderError, OrderStateError, StockError) as error:
        messages.error(request, str(error))
    return redirect(here)


def plan_asks(request: HttpRequest, row: Month, one: Kept) -> Wish | None:
    """Return what the month's plan would change of the order."""
    plan = gate.readable_plan_or_none(request, row)
    if plan is None or one.row.month != row.month:
        return None
    wishes = ordering.wishes(row, load.planned(plan), ordering.all_orders(row))
    return next((each for each in wishes if each.kept and each.kept.row.pk == one.row.pk), None)


def papers(row: Month, one: Kept) -> list[tuple[str, str]]:
    """Return the order's papers, what each is and where it lives; its check page has those of an amended order."""
    version = one.order.version
    return [
        (
            f"Order as {form.upper()}",
            order_url("order_paper", row, one.row.number, version=version, form=form),
        )
        for form in ("pdf", "xlsx")
    ]


def figures(row: Month, one: Kept) -> list[Figure]:
    """Return an order's key figures."""
    net, tax = one.order.net, gross(one.order) - one.order.net
    paid, own = gross(one.order), cost(one.order)
    rest = sum(due(one.order, one.received).values())
    return [
        Figure(f"{paid:,}", f"{one.order.currency} to pay", f"{net:,} + {tax:,} tax = {paid:,}"),
        Figure(
            f"{own:,}",
            f"{one.order.currency} cost to the club",
            f"{paid:,} to pay − {paid - own:,} tax that is recovered = {own:,}",
        ),
        Figure(words.count(rest), what_is_due(rest, one)),
    ]


def what_is_due(units: int, one: Kept) -> str:
    """Say what the units of an order that did not come yet are."""
    return f"{words.noun(units, 'unit')} {'still to come' if one.sent else 'to order'}"


# --- Tables ---


def line_table(row: Month, one: Kept) -> Table:
    """Return the order's lines, and once it is sent what came of each."""
    taxes, costs, rest = line_taxes(one.order), landed(one.order), due(one.order, one.received)
    money, is_sent = one.order.currency, one.sent is not None
    came = (number("Came"), number("Damaged"), number("Due")) if is_sent else ()
    return Table(
        "Lines",
        (
            text("Line"),
            number("Ordered"),
            *came,
            number("Price each", money),
            number("Amount", money),
            number("Tax", money),
            number("Landed cost", money),
            when("Needed by"),
            when("Expected"),
        ),
        [
            Line(
                (
                    Cell(line.name, sum=explained(line)),
                    words.count(line.quantity) if line.kind is LineKind.GOODS else "",
                    *(came_cells(one, line, rest) if is_sent else ()),
                    price(line) if line.kind is LineKind.GOODS else "",
                    f"{line.amount:,}",
                    f"{taxes[line.key]:,}",
                    f"{costs[line.key]:,}" if line.key in costs else "",
                    words.day(line.need_by),
                    words.day(line.expected),
                )
            )
            for line in one.order.lines
        ],
        foot=(
            "All",
            *[""] * (len(came) + 2),
            f"{one.order.net:,}",
            f"{gross(one.order) - one.order.net:,}",
            f"{cost(one.order):,}",
            "",
            "",
        ),
    )


def came_cells(one: Kept, line: OrderLine, rest: Mapping[int, int]) -> Iterator[str]:
    """Yield how many came of a line, good and damaged, and how many are due; nothing for a charge."""
    if line.kind is not LineKind.GOODS:
        yield from ("", "", "")
        return
    came = one.received.get(line.key, NOTHING)
    over = came.good - line.quantity
    yield f"{came.good:,}" + (f" ({over:,} over)" if over > 0 else "")
    yield words.count(came.damaged) if came.damaged else ""
    yield words.count(rest[line.key])


def price(line: OrderLine) -> str:
    """Return a price each with all its decimals."""
    return format_amount(line.price)


def explained(line: OrderLine) -> str:
    """Say what a line is, and how its tax is."""
    parts = [line.about, f"offer {line.offer}" if line.offer else "", tax_of(line)]
    return "; ".join(part for part in parts if part)


def tax_of(line: OrderLine) -> str:
    """Return a line's tax in words."""
    if not line.tax_rate:
        return "no tax"
    return f"tax {line.tax_rate.normalize():f} %, " + (
        "recovered" if line.recovered else "not recovered, so part of the cost"
    )


def taxes_shown(row: Month, order: Order) -> Table:
    """Return the tax by rate."""
    money = order.currency
    return Table(
        "Tax by rate",
        (
            text("Rate"),
            number("On", money),
            number("Tax", money),
            number("Recovered", money),
            number("Cost", money),
        ),
        [
            Line(
                (
                    f"{one.rate.normalize():f} %",
                    f"{one.base:,}",
                    f"{one.tax:,}",
                    f"{one.recovered:,}",
                    f"{one.cost:,}",
                )
            )
            for one in tax_table(order)
        ],
        empty="No line is taxed.",
    )


def version_table(row: Month, one: Kept) -> Table:
    """Return who made and who sent each version."""
    return Table(
        "Versions",
        (
            text("Version"),
            text("Made by"),
            text("Made"),
            text("Sent by"),
            text("Sent"),
            text("Confirmed"),
            text("Drafted from"),
        ),
        [
            Line(
                (
                    f"{each.version}",
                    each.made_by,
                    words.moment(each.made_at),
                    each.sent_by or "not sent",
                    words.moment(each.sent_at) if each.sent_at else "",
                    confirmed_words(each),
                    f"Plan {each.plan}" if each.plan else "",
                )
            )
            for each in one.versions
        ],
    )


def confirmed_words(version: OrderVersion) -> str:
    """Say when the supplier confirmed a version, and who wrote it down."""
    if version.confirmed_at is None:
        return "not yet" if version.sent_at else ""
    return f"{words.moment(version.confirmed_at)}, {version.confirmed_by}"


def entry_table(row: Month, one: Kept) -> Table:
    """Return the entries in the stock book that belong to the order."""
    rows = StockEntry.objects.filter(book=one.row.book, order=one.row.number)
    return Table(
        "Entries in the stock book",
        (text("Entry"), text("What"), text("By"), text("When"), text("Note")),
        [
            Line(
                (
                    Cell(
                        f"{each.serial}", href=f"{reverse('stock_entry', args=[row.pk])}?entry={each.serial}"
                    ),
                    f"Takes back entry {each.reverses}" if each.reverses else "Received",
                    each.by,
                    words.moment(each.at),
                    each.note,
                )
            )
            for each in rows
        ],
        empty="Nothing came yet.",
    )


# --- For the forms around it ---


def to_order(row: Month, one: Kept) -> HttpResponse:
    """Lead to an order's page."""
    return redirect(order_url("order", row, one.row.number))


def back_to(row: Month, one: Kept) -> tuple[str, str]:
    """Return where a form's other way leads."""
    return order_url("order", row, one.row.number), f"Back to order {one.row.number}"
