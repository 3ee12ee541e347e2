"""The months to come: what to order in which month, and what is kept from one to the next."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from kits.drawing import svg
from planning import choices, load
from planning.lots import LotOrder, LotsResult
from planning.month import Club
from planning.run import Planned
from planning.views import gate, words
from planning.views.drawings import Bar, upright_bars
from planning.views.parts import Cell, Drawing, Figure, Line, Page, Section, Table, number, text, when
from planning.views.steps import step_page


def lots(request: HttpRequest, month: int) -> HttpResponse:
    """Show the orders of all months; a POST keeps what the first orders hold for later months as the buyer's choice."""
    row = gate.month_or_404(request, month)
    plan = gate.readable_plan_or_none(request, row)
    ahead = ahead_of(load.planned(plan)) if plan else {}
    if request.method == "POST" and ahead:
        choices.keep_quantities(row, ahead)
        messages.success(
            request,
            f"Kept: {words.counted(len(ahead), 'material')} to be ordered for later months too. Plan the month again.",
        )
        return redirect("lots", month=month)
    return step_page(request, month, "buying", page, "lots", {"ahead": ahead})


def ahead_of(planned: Planned) -> dict[str, int]:
    """Return what to have of each material whose first order is larger than this month's, on hand and due included."""
    result = planned.plan.lots
    lines = {line.need.material: line for line in planned.plan.buying.lines}
    first = [order for order in result.orders if order.period == 0] if result else []
    found: dict[str, int] = {}
    for order in first:
        for line in order.lines:
            planned_now = lines[line.material]
            if line.quantity > planned_now.quantity:
                there = planned_now.need.there + planned_now.on_order
                found[line.material] = found.get(line.material, there) + line.quantity
    return found


def page(planned: Planned) -> Page:
    """Return the page."""
    result, club = planned.plan.lots, planned.club
    if result is None:
        empty = Table(
            "Orders", (), (), empty="No later month has a forecast yet. Add rows to the sheet Coming months."
        )
        return Page(figures=(), sections=(Section("Orders of the months to come", tables=(empty,)),))
    return Page(
        figures=tuple(figures(result, club)),
        ended=words.sentence(f"{result.ended}; of the materials that have a forecast, at today's prices"),
        sections=(
            Section(
                "Orders month by month",
                tables=(order_table(result, club),),
                drawings=(drawing(result, club),),
            ),
            Section("What each order holds, and for how long", tables=(line_table(result, club),)),
            Section("Left at the end of each month", tables=(stock_table(result, club),)),
            *([Section("Not there in time", tables=(late_table(result),))] if result.late else []),
        ),
    )


def figures(result: LotsResult, club: Club) -> tuple[Figure, ...]:
    """Return the key figures."""
    orders = sum(order.total for order in result.orders)
    return (
        Figure(
            words.money(result.total, club),
            f"{club.currency} for {words.counted(len(result.periods), 'month')}",
            f"{words.money(orders, club)} for orders + {words.money(result.storage, club)} for keeping goods = "  # type: ignore[arg-type]
            f"{words.money(result.total, club)}",
        ),
        Figure(
            words.money(result.saved, club),
            f"{club.currency} less than ordering month by month",
            f"{words.money(result.each_period, club)} − {words.money(result.total, club)} = "
            f"{words.money(result.saved, club)}",
        ),
        Figure(words.count(len(result.orders)), words.noun(len(result.orders), "order")),
    )


def drawing(result: LotsResult, club: Club) -> Drawing:
    """Draw what is ordered in each month."""
    totals = [
        sum(float(order.total) for order in result.orders if order.period == at)
        for at in range(len(result.periods))
    ]
    bars = [
        Bar(name.replace(" ", "\n", 1), total) for name, total in zip(result.periods, totals, strict=True)
    ]
    said = "; ".join(f"{name}: {total:,.2f}" for name, total in zip(result.periods, totals, strict=True))
    drawn = upright_bars(f"Ordered in each month, in {club.currency}", bars, said)
    return Drawing(svg(drawn, "lots"), f"Ordered in each month, in {club.currency}.")


def order_table(result: LotsResult, club: Club) -> Table:
    """Return a line for each order."""
    return Table(
        "One order a supplier and month",
        (
            when("To be in by"),
            text("Supplier"),
            number("Goods", club.currency),
            number("Set-up", club.currency),
            number("Freight", club.currency),
            number("Total", club.currency),
        ),
        [order_line(order, result, club) for order in result.orders],
        foot=(
            "All",
            "",
            "",
            "",
            "",
            words.money(sum((order.total for order in result.orders), start=result.total * 0), club),
        ),
        empty="Nothing is to be ordered: shelf and open orders last.",
    )


def order_line(order: LotOrder, result: LotsResult, club: Club) -> Line:
    """Return one order as a line."""
    amounts = (order.goods, order.setup, order.freight, order.total)
    return Line(
        (result.periods[order.period], order.name, *(words.money(amount, club) for amount in amounts))
    )


def line_table(result: LotsResult, club: Club) -> Table:
    """Return a line for each material of each order."""
    return Table(
        "Materials",
        (
            text("Material"),
            when("To be in by"),
            number("Order"),
            number("Price each", club.currency),
            number("Goods", club.currency),
            text("What for"),
        ),
        [
            Line(
                (
                    line.name,
                    result.periods[order.period],
                    words.count(line.quantity),
                    words.price(line.price, club),
                    words.money(line.goods, club),
                    words.sentence(line.why),
                )
            )
            for order in result.orders
            for line in order.lines
        ],
        empty="Nothing is to be ordered: shelf and open orders last.",
    )


def stock_table(result: LotsResult, club: Club) -> Table:
    """Return a line for each material with what is left month by month."""
    return Table(
        "Units left, and what keeping them costs",
        (text("Material"), *(number(name) for name in result.periods), number("Keeping", club.currency)),
        [
            Line(
                (
                    Cell(one.name, sum="Needed: " + ", ".join(f"{units:,}" for units in one.needed)),
                    *(words.count(units) for units in one.left),
                    words.money(one.storage, club),
                )
            )
            for one in result.stock
        ],
    )


def late_table(result: LotsResult) -> Table:
    """Return what cannot be there in its month."""
    names = {one.material: one.name for one in result.stock}
    return Table(
        "Nobody offers these in time",
        (text("Material"), text("Needed in"), number("Units"), text("Could be in by")),
        [
            Line(
                (
                    names[one.material],
                    result.periods[one.period],
                    words.count(one.units),
                    "nobody offers any" if one.met_in is None else result.periods[one.met_in],
                ),
                needs="Late" if one.met_in is not None else "Short",
            )
            for one in result.late
        ],
    )
