"""After an order went out: what came of it, when the rest comes, that nothing more will."""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal

from django.contrib import messages
from django.http import HttpRequest, HttpResponse

from kits.models import Month
from planning import ordering
from planning.ordering import Kept, OrderError
from planning.orders import NOTHING, OrderLine, OrderStateError, charges_left, due
from planning.stock import StockError
from planning.views import gate, words
from planning.views.forms import Field, Form, Grid, GridRow, Typed, form_key, show_form
from planning.views.order import back_to, kept_order, to_order
from planning.views.orders import around, person
from planning.views.parts import Column, number, text, when

YES = "yes"


def receive(request: HttpRequest, month: int) -> HttpResponse:
    """Enter what came of an order."""
    row = gate.month_or_404(request, month)
    one = kept_order(request, row)
    if not one.placed.is_open and request.method != "POST":
        messages.warning(request, f"Order {one.row.number} is {one.state}: nothing is received against it.")
        return to_order(row, one)
    if request.method != "POST":
        return show_form(request, around(row), receive_form(request, row, one, Typed({})))
    typed = Typed(request.POST)
    came = {
        line.key: (typed.count(f"good-{line.key}", 0), typed.count(f"damaged-{line.key}", 0))
        for line in one.order.goods
    }
    surplus = list(over(one, came))
    if surplus and typed.text("more") != YES and not typed.errors:
        typed.errors["more"] = (
            f"More came than is due: {', '.join(surplus)}. Count again, or tick here that it is so."
        )
    problem = ""
    if not typed.errors:
        try:
            posted = ordering.receive_order(
                row, one.row, came, person(request), form_key(request), typed.text("note")
            )
        except (StockError, OrderStateError) as error:
            problem = str(error)
        else:
            messages.success(
                request, received_words(kept_order(request, row), posted.row.serial, is_new=posted.is_new)
            )
            return to_order(row, one)
    return show_form(request, around(row), receive_form(request, row, one, typed, problem))


def over(one: Kept, came: Mapping[int, tuple[int, int]]) -> Iterator[str]:
    """Yield the lines of which more came than is due."""
    rest = due(one.order, one.received)
    for line in one.order.goods:
        good = came[line.key][0]
        if good > rest[line.key]:
            yield f"{line.name}, {good:,} of {rest[line.key]:,}"


def received_words(one: Kept, serial: int, *, is_new: bool) -> str:
    """Say what a receipt leaves to come."""
    entered = f"Entry {serial} is in the stock book"
    if not is_new:
        entered = f"This was entered already, as entry {serial}: open the form anew for more"
    rest = [
        f"{units:,} of {line.name}"
        for line, units in ((line, due(one.order, one.received)[line.key]) for line in one.order.goods)
        if units
    ]
    said = f"still to come: {', '.join(rest)}" if rest else "the order is complete and closed"
    extra = [
        f"{came.good - line.quantity:,} of {line.name} more than ordered"
        for line in one.order.goods
        if (came := one.received.get(line.key, NOTHING)).good > line.quantity
    ]
    surplus = (
        f" {', '.join(extra).capitalize()}: agree with the supplier what becomes of it." if extra else ""
    )
    return f"{entered}; {said}.{surplus}"


def receive_form(request: HttpRequest, row: Month, one: Kept, typed: Typed, problem: str = "") -> Form:
    """Return the form for what came."""
    rest = due(one.order, one.received)

    def field(line: OrderLine, what: str, label: str) -> Field:
        name = f"{what}-{line.key}"
        return Field(
            name=name,
            label=f"{label}, {line.name}",
            value=typed.sent.get(name, ""),
            kind="number",
            error=typed.errors.get(name, ""),
        )

    rows = tuple(
        GridRow(
            (
                line.name + (f" ({line.about})" if line.about else ""),
                words.count(line.quantity),
                words.count(one.received.get(line.key, NOTHING).good),
                words.count(rest[line.key]),
                line.unit,
                field(line, "good", "Good units that came"),
                field(line, "damaged", "Damaged units that came"),
            )
        )
        for line in one.order.goods
    )
    more = Field(
        name="more",
        label="Yes, more came than is due",
        value=typed.sent.get("more", ""),
        kind="tick",
        error=typed.errors.get("more", ""),
    )
    note = Field(
        name="note",
        label="Note",
        value=typed.sent.get("note", ""),
        hint="Delivery note, parcels, who carried it.",
    )
    return Form(
        title=f"Receive order {one.row.number}",
        lede=f"From {one.order.supplier_name}. Count what came; what did not come stays due. Damaged goods are set aside as "
        "spoiled, cost nothing and stay due.",
        button="Enter what came",
        back=back_to(row, one),
        failed="Nothing was entered",
        problem=problem,
        grid=Grid(
            "What came",
            (
                text("Material"),
                number("Ordered"),
                number("Came before"),
                number("Due"),
                text("Unit"),
                number("Good"),
                number("Damaged"),
            ),
            rows,
        ),
        after=(*((more,) if more.error or more.value else ()), note),
        key=form_key(request),
    )


# --- Days of delivery, and the end ---


def order_days(request: HttpRequest, month: int) -> HttpResponse:
    """Write down that the supplier confirmed the order, and when the goods come."""
    row = gate.month_or_404(request, month)
    one = kept_order(request, row)
    if not one.placed.is_open:
        messages.warning(request, f"Order {one.row.number} is {one.state}: nothing is expected of it.")
        return to_order(row, one)
    typed = Typed(request.POST if request.method == "POST" else {})
    rest = due(one.order, one.received)
    lines = [line for line in one.order.goods if rest[line.key]]
    if request.method == "POST":
        days = {line.key: typed.day(f"day-{line.key}") for line in lines}
        if not typed.errors:
            ordering.confirm(one.row, days, person(request))
            messages.success(request, "The order is confirmed, with its days of delivery.")
            return to_order(row, one)
    return show_form(request, around(row), days_form(row, one, lines, typed))


def days_form(row: Month, one: Kept, lines: Sequence[OrderLine], typed: Typed) -> Form:
    """Return the form for days of delivery."""
    rest = due(one.order, one.received)
    columns: tuple[Column, ...] = (text("Material"), number("Due"), when("Needed by"), when("Expected"))
    return Form(
        title=f"Confirmed: order {one.row.number}",
        lede=f"When {one.order.supplier_name} says the goods come. The order itself stays as it was sent; other quantities "
        "or prices are an amended order.",
        button="Confirmed, to come on these days",
        back=back_to(row, one),
        failed="Nothing was written down",
        grid=Grid(
            "Still to come",
            columns,
            tuple(
                GridRow(
                    (
                        line.name,
                        words.count(rest[line.key]),
                        words.day(line.need_by),
                        Field(
                            name=f"day-{line.key}",
                            label=f"Expected, {line.name}",
                            value=typed.sent.get(f"day-{line.key}", str(line.expected or "")),
                            kind="day",
                            error=typed.errors.get(f"day-{line.key}", ""),
                        ),
                    )
                )
                for line in lines
            ),
        ),
    )


def order_close(request: HttpRequest, month: int) -> HttpResponse:
    """Close an order of which nothing more will come."""
    row = gate.month_or_404(request, month)
    one = kept_order(request, row)
    problem = ""
    typed = Typed(request.POST if request.method == "POST" else {})
    if request.method == "POST":
        why = typed.text("why")
        try:
            if not typed.errors:
                ordering.close(one.row, person(request), why)
                messages.success(request, f"Order {one.row.number} is closed.")
                return to_order(row, one)
        except OrderError as error:
            typed.errors["why"] = str(error)
        except OrderStateError as error:
            problem = str(error)
    return show_form(request, around(row), close_form(row, one, typed, problem))


def close_form(row: Month, one: Kept, typed: Typed, problem: str) -> Form:
    """Return the form that closes an order."""
    rest = due(one.order, one.received)
    left = [f"{rest[line.key]:,} of {line.name}" for line in one.order.goods if rest[line.key]]
    came = sum((each.value for each in one.received.values()), Decimal(0))
    borne = charges_left(one.order, one.received)
    charged = (
        f"Charges of {borne:,} {one.order.currency} lie on units that will not come; no goods bear them."
    )
    return Form(
        title=f"Close order {one.row.number}",
        lede=f"Still to come: {', '.join(left) or 'nothing'}. Goods for {came:,} {one.order.currency} came.",
        button=f"Close it, {words.counted(sum(rest.values()), 'unit')} short" if left else "Close it",
        back=back_to(row, one),
        failed="The order was not closed",
        problem=problem,
        fields=(
            Field(
                name="why",
                label="Why nothing more will come",
                value=typed.sent.get("why", ""),
                hint="Whoever chases next month will ask.",
                error=typed.errors.get("why", ""),
            ),
        ),
        note=charged if borne else "",
    )
