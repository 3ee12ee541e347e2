"""What a month is planned from: its Stock and Open orders sheets beside the book."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from kits.measures import format_amount
from planning import load, ordering
from planning.stockbook import is_counted
from planning.views import gate, words
from planning.views.orders import around, person
from planning.views.parts import Line, Table, number, text


def stock_take(request: HttpRequest, month: int) -> HttpResponse:
    """Show what the month's Stock and Open orders sheets would hold by the book, and take it over."""
    row = gate.month_or_404(request, month)
    if request.method == "POST":
        ordering.take(row, person(request))
        messages.success(request, "Stock and open orders are taken over. Plan the month again to use them.")
        return redirect("stock", month=row.pk)
    taken, names = ordering.what_to_take(row), ordering.names_of_items(row)
    before = {one.item: one for one in load.rows("stock", row)}
    after = {one.item: one for one in taken.stock}
    heads = (
        text("Material or piece"),
        number("Month’s sheet says"),
        number("Book says"),
        number("Cost each", row.currency),
    )
    shown = around(row, "stock") | {
        "is_begun": is_counted(row),
        "table": Table(
            "On hand",
            heads,
            [
                Line(
                    (
                        names.get(item, item),
                        words.count(before[item].on_hand) if item in before else "–",
                        words.count(after[item].on_hand) if item in after else "0",
                        format_amount(after[item].value_each) if item in after else "",
                    )
                )
                for item in sorted(before.keys() | after.keys(), key=lambda item: names.get(item, item))
            ],
            empty="Nothing is on hand.",
        ),
        "coming": Table(
            "On order",
            (text("Order"), text("Material"), number("Still to come"), text("Due")),
            [
                Line(
                    (
                        one.reference,
                        names.get(one.material, one.material),
                        words.count(one.quantity),
                        words.day(one.due),
                    )
                )
                for one in taken.open_orders
            ],
            empty="Nothing is on order.",
        ),
    }
    return render(request, "planning/stock_take.html", shown)
