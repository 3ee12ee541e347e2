"""The lines of a draft: typed, priced by the supplier's list where nothing is typed, taxed."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from kits.catalogue import Terms
from kits.measures import format_amount, round_money
from kits.models import Month
from planning import load, ordering
from planning.documents.pdf.words import material_words
from planning.month import Month as Book
from planning.ordering import Kept, OrderError
from planning.orders import LineKind, Order, OrderLine, OrderStateError
from planning.problems.terms import terms_of
from planning.views import gate
from planning.views.forms import Field, Form, Grid, GridRow, Typed, show_form
from planning.views.order import back_to, kept_order, to_order
from planning.views.orders import around, order_url, person
from planning.views.parts import number, text, when

YES = "yes"
AS_LINES = (("", "As each line says"), (YES, "Recovered on every line"), ("no", "Not recovered on any line"))


def order_edit(request: HttpRequest, month: int) -> HttpResponse:
    """Change the lines of a draft."""
    row = gate.month_or_404(request, month)
    one = kept_order(request, row)
    if one.drafted is None or one.draft_row is None:
        messages.warning(request, f"Order {one.row.number} is {one.state}: amend it to change its lines.")
        return to_order(row, one)
    book = load.without_people(row)
    if request.method != "POST":
        return show_form(request, around(row), edit_form(row, one, book, Typed({})))
    typed = Typed(request.POST)
    asked = typed_order(one.drafted, typed, book)
    try:
        if not typed.errors:
            ordering.edit(one.row, asked, typed.count("edits", 0), person(request))
            return after_edit(request, row, one)
    except (OrderError, OrderStateError) as error:
        again = kept_order(request, row)
        if again.drafted is None:
            messages.warning(request, str(error))
            return to_order(row, again)
        return show_form(request, around(row), edit_form(row, again, book, Typed({}), str(error)))
    return show_form(request, around(row), edit_form(row, one, book, typed))


def after_edit(request: HttpRequest, row: Month, one: Kept) -> HttpResponse:
    """Say that lines are saved, and lead on to the check; back to the lines where one was added."""
    if request.POST.get("act") == "add":
        messages.success(request, "Saved. Set its price and day below.")
        return redirect(order_url("order_edit", row, one.row.number))
    messages.success(request, "The lines are saved.")
    return redirect(order_url("order_check", row, one.row.number))


def edit_form(row: Month, one: Kept, book: Book, typed: Typed, problem: str = "") -> Form:
    """Return the form for a draft's lines."""
    order, version = one.drafted, one.draft_row
    if order is None or version is None:
        raise LookupError("there is no draft")
    said = typed.sent

    def field(line: OrderLine, what: str, kind: str, label: str, value: str) -> Field:
        name = f"{what}-{line.key}"
        given = said.get(name, value if name not in said and not said else "") if said else value
        return Field(
            name=name, label=f"{label}, {line.name}", value=given, kind=kind, error=typed.errors.get(name, "")
        )

    def cells(line: OrderLine) -> Iterator[str | Field]:
        is_goods = line.kind is LineKind.GOODS
        yield described(line)
        yield field(line, "quantity", "number", "Quantity", f"{line.quantity:,}") if is_goods else ""
        yield field(line, "price", "number", "Price each", format_amount(line.price))
        yield field(line, "rate", "number", "Tax in percent", f"{line.tax_rate.normalize():f}")
        yield field(line, "recovered", "tick", "Tax is recovered", YES if line.recovered else "")
        yield field(line, "need", "day", "Needed by", str(line.need_by or "")) if is_goods else ""
        yield field(line, "expected", "day", "Expected", str(line.expected or "")) if is_goods else ""

    offers = [("", "Nothing more"), *((one.offer.code, name) for one, name in other_offers(order, book))]
    amended = f"Version {version.version}, in place of what was sent. " if one.sent else ""
    return Form(
        title=f"Lines of order {order.number}",
        lede=f"{amended}A quantity of 0 drops a line; an empty price takes the supplier’s list price for the quantity.",
        button="Save and check",
        more=(("add", "Save and add the material chosen"),) if len(offers) > 1 else (),
        back=back_to(row, one),
        failed="The lines were not saved",
        problem=problem,
        hidden=(("edits", str(version.edits)),),
        fields=(
            Field(
                name="rate_all",
                label="Tax on every line, in percent",
                value=said.get("rate_all", ""),
                kind="number",
                hint="Leave empty to keep each line’s own.",
                error=typed.errors.get("rate_all", ""),
            ),
            Field(
                name="recovered_all",
                label="Tax the club gets back",
                value=said.get("recovered_all", ""),
                kind="choice",
                choices=AS_LINES,
                hint="Tax it does not get back is part of the cost.",
                error=typed.errors.get("recovered_all", ""),
            ),
        ),
        grid=Grid(
            f"All prices in {order.currency}, without tax",
            (
                text("Line"),
                number("Quantity"),
                number("Price each", order.currency),
                number("Tax", "%"),
                text("Recovered"),
                when("Needed by"),
                when("Expected"),
            ),
            tuple(GridRow(tuple(cells(line))) for line in order.lines),
        ),
        after=(
            Field(
                name="add",
                label="Add a material this supplier sells",
                value=said.get("add", ""),
                kind="choice",
                choices=tuple(offers),
            ),
            Field(
                name="add_quantity",
                label="How many of it",
                value=said.get("add_quantity", ""),
                kind="number",
                error=typed.errors.get("add_quantity", ""),
            ),
        )
        if len(offers) > 1
        else (),
    )


def described(line: OrderLine) -> str:
    """Say what a line is and what it is counted in."""
    unit = "" if line.unit in ("", "each") else f"in {line.unit}s"
    parts = (line.about, unit, f"packs of {line.pack:,}" if line.pack > 1 else "")
    said = ", ".join(part for part in parts if part)
    return f"{line.name} ({said})" if said else line.name


def other_offers(order: Order, book: Book) -> Iterator[tuple[Terms, str]]:
    """Yield what the supplier offers besides what is on the order."""
    names = {one.code: one.name for one in book.materials}
    used = {one.offer for one in order.lines}
    for terms in terms_of(book):
        if terms.offer.supplier == order.supplier and terms.offer.code not in used:
            yield terms, f"{names.get(terms.offer.material, terms.offer.material)} ({terms.offer.code})"


def typed_order(order: Order, typed: Typed, book: Book) -> Order:
    """Return the draft as it was typed."""
    terms = {one.offer.code: one for one in terms_of(book)}
    rate = typed.percent("rate_all", Decimal(-1))
    recovered = typed.choice("recovered_all", [value for value, _ in AS_LINES])
    lines = [typed_line(line, typed, terms.get(line.offer), order.exponent) for line in order.lines]
    lines += added_line(order, typed, terms, book)
    lines = list(without_empty(lines))
    if rate >= 0:
        lines = [replace(line, tax_rate=rate) for line in lines]
    if recovered:
        lines = [replace(line, recovered=recovered == YES) for line in lines]
    return replace(order, lines=tuple(lines))


def without_empty(lines: Sequence[OrderLine]) -> Iterator[OrderLine]:
    """Yield lines but for goods nobody wants, charges of nothing, and set-up of goods that are not ordered."""
    goods = {line.material for line in lines if line.kind is LineKind.GOODS and line.quantity}
    for line in lines:
        if line.kind is LineKind.GOODS:
            if line.quantity:
                yield line
        elif line.amount and (line.material in goods or not line.material):
            yield line


def typed_line(line: OrderLine, typed: Typed, terms: Terms | None, exponent: int) -> OrderLine:
    """Return one line as it was typed."""
    key = line.key
    is_goods = line.kind is LineKind.GOODS
    quantity = typed.count(f"quantity-{key}") if is_goods else 1
    listed = list_price(terms, quantity) if is_goods and quantity else None
    price = typed.amount(f"price-{key}", listed[0] if listed else None)
    is_as_before = (quantity, price) == (line.quantity, line.price)
    is_listed = listed is not None and not typed.text(f"price-{key}")
    amount = line.amount if is_as_before else round_money(quantity * price, exponent)
    return replace(
        line,
        quantity=quantity,
        price=price,
        amount=round_money(listed[1], exponent) if is_listed and listed else amount,
        tax_rate=typed.percent(f"rate-{key}", Decimal(0)),
        recovered=typed.text(f"recovered-{key}") == YES,
        need_by=typed.day(f"need-{key}") if is_goods else None,
        expected=typed.day(f"expected-{key}") if is_goods else None,
    )


def list_price(terms: Terms | None, quantity: int) -> tuple[Decimal, Decimal] | None:
    """Return what one costs by the supplier's list, and what all cost; None where the list has no such quantity."""
    if terms is None or quantity < terms.breaks[0].from_quantity:
        return None
    goods = terms.exact_goods(quantity)
    return round_money(goods / quantity, 6).normalize(), goods


def added_line(order: Order, typed: Typed, terms: Mapping[str, Terms], book: Book) -> Iterator[OrderLine]:
    """Yield the line of the material that was chosen besides."""
    one = terms.get(typed.text("add"))
    if one is None:
        return
    quantity = typed.count("add_quantity")
    listed = list_price(one, quantity) if quantity else None
    if "add_quantity" not in typed.errors and listed is None:
        typed.errors["add_quantity"] = f"The price list starts at {one.breaks[0].from_quantity:,}."
    if listed is None:
        return
    material = next(each for each in book.materials if each.code == one.offer.material)
    yield OrderLine(
        key=max((line.key for line in order.lines), default=0) + 1,
        material=material.code,
        name=material.name,
        about=material_words(material),
        offer=one.offer.code,
        unit=material.unit,
        pack=one.offer.pack,
        quantity=quantity,
        price=listed[0],
        amount=round_money(listed[1], order.exponent),
    )
