"""Goods carried from place to place: issued to cutting and packing, brought back, set aside."""

from collections import Counter
from collections.abc import Iterator, Mapping
from urllib.parse import urlencode

from django.contrib import messages
from django.db.models import Sum
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from kits.models import Month
from planning import load, ordering
from planning.models import StockMove
from planning.requirements import Kind, code_of, kind_of
from planning.stock import ROUTES, EntryKind, Place, StockError
from planning.stockbook import (
    book_of,
    post_carry,
)
from planning.views import gate, words
from planning.views.forms import Field, Form, Grid, GridRow, Typed, form_key, show_form
from planning.views.orders import around, person
from planning.views.parts import number, text
from planning.views.stock import shelf

PLACE_WORDS = {
    Place.SHELF: "the shelf",
    Place.CUTTING: "cutting",
    Place.BOXES: "packing, into boxes",
    Place.SHOP: "the shop, to be sold by itself",
    Place.SPOILED: "spoiled",
    Place.SUPPLIER: "back to the supplier",
    Place.DIFFERENCE: "missing, nobody knows where",
}


def back(row: Month) -> tuple[str, str]:
    """Return where a form's other way leads."""
    return reverse("stock", args=[row.pk]), "Back to the stock book"


def in_the_book(request: HttpRequest, row: Month, serial: int, *, is_new: bool) -> HttpResponse:
    """Say that an entry is made, and show the book."""
    said = (
        f"Entry {serial} is in the stock book."
        if is_new
        else (f"This was entered already, as entry {serial}. To enter more, open the form anew.")
    )
    messages.success(request, said)
    return redirect("stock", month=row.pk)


def coded(item: str) -> str:
    """Return an item as part of a field's name. By its code, never by its place: the book may change meanwhile."""
    return item.encode().hex()


def stock_issue(request: HttpRequest, month: int) -> HttpResponse:
    """Carry goods from one place to another."""
    row = gate.month_or_404(request, month)
    typed = Typed(request.POST if request.method == "POST" else {})
    origin = asked_place(request, "origin", Place.SHELF)
    held = shelf(book_of(row), origin)
    problem = ""
    if request.method == "POST":
        target = typed.choice("target", ROUTES.get(origin, ()))
        goods = [(item, typed.count(f"units-{coded(item)}", 0)) for item in sorted(held)]
        goods = [(item, units) for item, units in goods if units]
        if not typed.errors:
            try:
                posted = post_carry(
                    row, goods, origin, Place(target), person(request), form_key(request), typed.text("note")
                )
                return in_the_book(request, row, posted.row.serial, is_new=posted.is_new)
            except StockError as error:
                problem = str(error)
    return show_form(request, around(row, "stock"), issue_form(request, row, origin, held, typed, problem))


def asked_place(request: HttpRequest, name: str, usual: Place) -> Place:
    """Return the place that the URL names. Raises Http404 for none that goods are carried from."""
    asked = request.GET.get(name, usual.value)
    if asked not in set(ROUTES):
        raise Http404
    return Place(asked)


def issue_form(
    request: HttpRequest, row: Month, origin: Place, held: Mapping[str, int], typed: Typed, problem: str
) -> Form:
    """Return the form that carries goods; the URL may ask for what the plan uses, filled in."""
    names = ordering.names_of_items(row)
    to = typed.sent.get(
        "target", request.GET.get("to", Place.CUTTING if origin is Place.SHELF else Place.SHELF)
    )
    used = plan_uses(request, row, to) if origin is Place.SHELF and "plan" in request.GET else {}

    def field(item: str) -> Field:
        name = f"units-{coded(item)}"
        usual = f"{min(used[item], held[item]):,}" if used.get(item) else ""
        return Field(
            name=name,
            label=f"Units of {names.get(item, item)}",
            value=typed.sent.get(name, "" if typed.sent else usual),
            kind="number",
            error=typed.errors.get(name, ""),
        )

    is_out = origin is Place.SHELF
    oldest = "What leaves the shelf leaves it oldest lots first."
    fill = "Sheets and rolls go to cutting, all else into boxes; a link fills in what the plan uses and is not issued yet."
    return Form(
        title="Issue goods" if is_out else f"Bring back from {PLACE_WORDS[origin].partition(',')[0]}",
        lede=f"{oldest} {fill}" if is_out else "What was issued and is not used.",
        links=tuple(other_ways(row, origin)),
        button="Enter it",
        back=back(row),
        failed="Nothing was entered",
        problem=problem,
        key=form_key(request),
        fields=(
            Field(
                name="target",
                label="Where it goes",
                value=to,
                kind="choice",
                choices=tuple((place.value, PLACE_WORDS[place].capitalize()) for place in ROUTES[origin]),
                error=typed.errors.get("target", ""),
            ),
            Field(name="note", label="Note", value=typed.sent.get("note", ""), hint="Ticket, wave, or why."),
        ),
        grid=Grid(
            f"What there is, in {origin}" if not is_out else "What is on the shelf",
            (text("Material or piece"), number("There"), number("Issue" if is_out else "Bring back")),
            tuple(
                GridRow((names.get(item, item), words.count(held[item]), field(item)))
                for item in sorted(held, key=lambda item: names.get(item, item))
            ),
        )
        if held
        else None,
        note="" if held else "There is nothing there.",
    )


def other_ways(row: Month, origin: Place) -> Iterator[tuple[str, str]]:
    """Yield where the form is filled in from the plan, and where goods are brought back."""
    here = reverse("stock_issue", args=[row.pk])
    yield f"{here}?{urlencode({'to': Place.CUTTING, 'plan': 'yes'})}", "Fill in what the plan cuts"
    yield f"{here}?{urlencode({'to': Place.BOXES, 'plan': 'yes'})}", "Fill in what goes into boxes"
    for place in ROUTES:
        if place is not origin:
            said = "Issue from the shelf" if place is Place.SHELF else f"Bring back from {place}"
            yield f"{here}?{urlencode({'origin': place})}", said


def plan_uses(request: HttpRequest, row: Month, target: str) -> Mapping[str, int]:
    """Return what the month's plan takes into cutting, or into boxes, less what was issued there for it already."""
    plan = gate.readable_plan_or_none(request, row)
    if plan is None:
        return {}
    planned = load.planned(plan).plan
    used: Counter[str] = Counter()
    if target == Place.CUTTING:
        used.update({line.need.material: line.need.in_cutting for line in planned.buying.lines})
    else:
        used.update({line.need.material: line.need.in_boxes for line in planned.buying.lines})
        pieces = (
            line for line in planned.requirements.lines if kind_of(line.item) in (Kind.PIECE, Kind.LENGTH)
        )
        used.update({code_of(line.item): line.good for line in pieces})
    used.subtract(issued(row, target))
    return {item: units for item, units in used.items() if units > 0}


def issued(row: Month, target: str) -> Mapping[str, int]:
    """Return what went to a place for the month so far, less what was brought back or taken back."""
    moves = StockMove.objects.filter(book__club=row.code, entry__month=row.month, place=target)
    if target == Place.CUTTING:  # what was cut since has left the guillotine again
        moves = moves.exclude(entry__kind=EntryKind.CUT, quantity__lt=0)
    sums = moves.order_by().values_list("item").annotate(Sum("quantity"))
    return {item: int(units) for item, units in sums}
